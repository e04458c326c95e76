//! Every function replays to the bit and has the derivatives that central differences show.

use super::check::{angle, displacement, follows, length, of_point, of_vector, points, run, slopes, vectors, within};
use crankline_engine::diagnostic::Refusal;
use crankline_engine::geometry::{
    Cuboid, Datum, Line, Plane, Point, Tube, angle_about, angle_between, clearance, closest_points,
    direction_from_level, direction_from_views, distance, intersection, polyline_length, project_to_line,
    project_to_plane,
};
use crankline_engine::tape::{self, Number};

/// Two points and two directions, metres: a line each.
const LINES: [f64; 12] = [0.1, 0.2, 0.3, 1.0, 0.1, -0.2, 0.5, -0.4, 0.9, 0.2, 1.1, 0.3];

#[test]
fn directions_and_angles() {
    follows(&[0.3, -0.4], |n| {
        of_vector(direction_from_views(angle(n[0]), angle(n[1])).unwrap())
    });
    follows(&[0.3, -0.4], |n| {
        of_vector(direction_from_level(angle(n[0]), angle(n[1])).unwrap())
    });
    follows(&[1.0, 0.3, -0.2, 0.9, -0.1, 0.4, 0.2, 0.7, 0.5], |n| {
        let v = vectors(n);
        vec![
            angle_between(v[0], v[1]).unwrap(),
            angle_about(v[2], v[0], v[1]).unwrap(),
            v[0].fall().unwrap(),
            v[0].plan().unwrap(),
            v[0].side().unwrap(),
        ]
    });
}

#[test]
fn vector_arithmetic() {
    follows(&[1.0, 0.3, -0.2, 0.9, -0.1, 0.4, 0.7], |n| {
        let v = vectors(n);
        let by = length(n[6]);
        [
            of_vector(v[0].cross(v[1]).unwrap()),
            of_vector(v[0].add(v[1].neg()).unwrap().sub(v[1]).unwrap()),
            of_vector(v[0].mul(by).unwrap().div(v[1].norm()).unwrap()),
            of_vector(v[1].direction_of().unwrap()),
            vec![v[0].dot(v[1]).unwrap()],
        ]
        .concat()
    });
}

#[test]
fn lines() {
    follows(&LINES, |n| {
        let (p, v) = (points(n), vectors(n));
        let (a, b) = (Line::new(p[0], v[1]).unwrap(), Line::new(p[2], v[3]).unwrap());
        let (on_a, on_b) = closest_points(a, b).unwrap();
        let through = Line::through(p[0], p[2]).unwrap();
        [
            vec![distance(a, b), distance(p[2], a), distance(p[0], p[2])],
            of_point(on_a),
            of_point(on_b),
            of_point(project_to_line(p[2], a)),
            of_vector(through.direction()),
        ]
        .concat()
    });
}

#[test]
fn planes() {
    follows(&LINES, |n| {
        let (p, v) = (points(n), vectors(n));
        let (line, plane) = (Line::new(p[0], v[1]).unwrap(), Plane::new(p[2], v[3]).unwrap());
        [
            vec![distance(p[0], plane)],
            of_point(intersection(line, plane).unwrap()),
            of_point(project_to_plane(p[0], plane)),
        ]
        .concat()
    });
}

/// Lines that share one reading of their direction stay parallel, whatever the reading.
#[test]
fn parallel_lines() {
    follows(&[0.1, 0.2, 0.3, 0.5, -0.4, 0.9, 0.06, -0.03], |n| {
        let p = points(n);
        let along = direction_from_level(angle(n[6]), angle(n[7])).unwrap();
        let (a, b) = (Line::new(p[0], along).unwrap(), Line::new(p[1], along.neg()).unwrap());
        let plane = |at| Plane::new(at, along).unwrap();
        vec![distance(a, b), distance(plane(p[0]), plane(p[1]))]
    });
}

#[test]
fn turns_and_datums() {
    follows(&[0.1, 0.2, 0.3, 1.0, 0.1, -0.2, 0.5, -0.4, 0.9, 0.6], |n| {
        let (p, v) = (points(n), vectors(n));
        let hinge = Line::new(p[0], v[1]).unwrap();
        let datum = Datum::new(p[0], v[1], v[2]).unwrap();
        [
            of_vector(v[2].rotated(v[1], angle(n[9])).unwrap()),
            of_point(p[2].rotated(hinge, angle(n[9])).unwrap()),
            of_point(datum.to_datum(p[2])),
            of_point(datum.to_vehicle(p[2])),
            of_vector(datum.vector_to_datum(v[0])),
            of_vector(datum.vector_to_vehicle(v[0])),
            of_vector(datum.axes()[1]),
            vec![polyline_length(&p).unwrap()],
        ]
        .concat()
    });
}

/// Where two points fall together their distance has a kink: no derivative, and no NaN.
#[test]
fn kinks_have_no_slope() {
    let found = slopes(&[0.1, 0.2, 0.3], |n| {
        let p = points(n);
        let axis = Line::through(p[0], p[0].moved(displacement([1.0, 2.0, 3.0])).unwrap()).unwrap();
        vec![distance(p[0], p[0]), distance(p[0], axis), distance(axis, axis)]
    });
    assert_eq!(found, [0.0; 9]);
}

/// Inside a closure numbers are symbols: where along x a point comes to 0.7 m of another (√(0.7² − y²), y = 0.5), and the
/// most that a swinging box clears a shaft, both with derivatives.
#[test]
fn inside_closures() {
    let end = |n: &[Number]| {
        tape::root(Number::ZERO, Number::constant(2.0), |x| {
            let place = Point::of([x, n[0], Number::ZERO]);
            let line = Line::through(Point::of([Number::ZERO; 3]), place)?;
            let on_line = intersection(line, Plane::new(place, displacement([1.0, 0.2, 0.0]))?)?;
            Ok::<_, Refusal>(distance(on_line, Point::of([Number::ZERO; 3])).number() - n[1])
        })
    };
    follows(&[0.5, 0.7], |n| vec![length(end(n).unwrap())]);
    let found = run(&[0.5, 0.7], |n| vec![length(end(n).unwrap())]);
    within(found[0], 0.24_f64.sqrt(), 1e-12);

    follows(&[-0.3, -0.2, -0.1, 0.3, 0.2, 0.1, 0.7, -0.4, 0.9, 0.6, 0.9, 0.7], |n| {
        let p = points(n);
        let swung = |theta: Number| {
            let casing = Cuboid::new(p[0], p[1])?.turned(p[0], displacement([1.0, 0.0, 0.0]), angle(theta))?;
            let rod = Tube::between(p[2], p[3], length(Number::constant(0.04)))?;
            Ok::<_, Refusal>(clearance(casing, rod)?.number())
        };
        let most = tape::maximum(Number::constant(-0.1), Number::constant(0.1), swung);
        vec![length(most.unwrap())]
    });
}
