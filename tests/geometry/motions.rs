//! What must not change when the whole car is moved and turned, and turning against another library.

use super::check::{close, direction, of_point, of_vector, point, value, values, within};
use super::random::Random;
use crankline_engine::geometry::{Datum, Line, Plane, Point, Vector, angle_between, distance};
use crankline_engine::quantity::{Dimension, Quantity};
use nalgebra::{Rotation3, Unit, Vector3};

/// A turn about an axis and a shift, done by another library.
struct Motion {
    turn: Rotation3<f64>,
    shift: Vector3<f64>,
}

impl Motion {
    fn random(random: &mut Random) -> Self {
        let axis = Unit::new_normalize(triple(random, 1.0));
        Self {
            turn: Rotation3::from_axis_angle(&axis, random.between(-3.0, 3.0)),
            shift: triple(random, 2000.0),
        }
    }

    fn point(&self, p: Vector3<f64>) -> Point {
        point((self.turn * p + self.shift).into())
    }

    fn direction(&self, v: Vector3<f64>) -> Vector {
        direction((self.turn * v).into())
    }
}

fn triple(random: &mut Random, most: f64) -> Vector3<f64> {
    Vector3::from([(); 3].map(|()| random.between(-most, most)))
}

/// Angles and distances between random points, lines and planes.
fn measured(places: &[Vector3<f64>; 3], ways: &[Vector3<f64>; 3], motion: &Motion) -> Vec<f64> {
    let [p, q, r] = places.map(|place| motion.point(place));
    let [a, b, n] = ways.map(|way| motion.direction(way));
    let (first, second) = (Line::new(p, a).unwrap(), Line::new(q, b).unwrap());
    let face = Plane::new(r, n).unwrap();
    let parallel = Line::new(r, a).unwrap();
    values(&[
        angle_between(a, b).unwrap(),
        distance(p, q),
        distance(r, first),
        distance(p, face),
        distance(first, second),
        distance(first, parallel),
    ])
}

#[test]
fn moving_the_car_changes_no_angle_and_no_distance() {
    let mut random = Random::new(3);
    let still = Motion {
        turn: Rotation3::identity(),
        shift: Vector3::zeros(),
    };
    for _ in 0..100 {
        let places = [(); 3].map(|()| triple(&mut random, 1500.0));
        let ways = [(); 3].map(|()| triple(&mut random, 1.0));
        let expected = measured(&places, &ways, &still);
        let motion = Motion::random(&mut random);
        for (found, expected) in measured(&places, &ways, &motion).into_iter().zip(expected) {
            within(found, expected, 1e-11);
        }
    }
}

#[test]
fn turning_agrees_with_another_library() {
    let mut random = Random::new(5);
    for _ in 0..200 {
        let (axis, v, about) = (
            triple(&mut random, 1.0),
            triple(&mut random, 1.0),
            triple(&mut random, 1.0),
        );
        let theta = random.between(-7.0, 7.0);
        let turn = Rotation3::from_axis_angle(&Unit::new_normalize(axis), theta);
        let theta = Quantity::constant(theta, Dimension::ANGLE);
        let turned = direction(v.into()).rotated(direction(axis.into()), theta).unwrap();
        for (found, expected) in values(&of_vector(turned)).into_iter().zip((turn * v).iter()) {
            within(found, *expected, 4e-15);
        }
        let metres = |v: Vector3<f64>| point((v * 1000.0).into());
        let hinge = Line::new(metres(about), direction(axis.into())).unwrap();
        let turned = values(&of_point(metres(v).rotated(hinge, theta).unwrap()));
        for (found, expected) in turned.into_iter().zip((turn * (v - about) + about).iter()) {
            within(found, *expected, 4e-15);
        }
    }
}

/// A quarter turn about Z (up) brings rearward to the right.
#[test]
fn turns_are_right_handed() {
    let quarter = Quantity::constant(std::f64::consts::FRAC_PI_2, Dimension::ANGLE);
    let turned = direction([1.0, 0.0, 0.0])
        .rotated(direction([0.0, 0.0, 4.0]), quarter)
        .unwrap();
    for (found, expected) in values(&of_vector(turned)).into_iter().zip([0.0, 1.0, 0.0]) {
        within(found, expected, 1e-15);
    }
}

#[test]
fn a_turn_by_nothing_changes_no_bit() {
    let v = [0.1, -0.7, 1e-9];
    let turned = direction(v).rotated(direction([0.3, 0.4, 0.5]), Quantity::constant(0.0, Dimension::ANGLE));
    assert_eq!(values(&of_vector(turned.unwrap())), v);
}

/// Points keep their distances in a datum, come back from it, and see its own origin and axes as they should be.
#[test]
fn a_datum_measures_as_the_car_does() {
    let mut random = Random::new(9);
    for _ in 0..100 {
        let [origin, p, q] = [(); 3].map(|()| point(triple(&mut random, 1500.0).into()));
        let (x_dir, y_dir) = (triple(&mut random, 1.0), triple(&mut random, 1.0));
        let datum = Datum::new(origin, direction(x_dir.into()), direction(y_dir.into())).unwrap();
        let apart = value(distance(p, q));
        within(value(distance(datum.to_datum(p), datum.to_datum(q))), apart, 1e-12);
        within(value(distance(datum.to_vehicle(datum.to_datum(p)), p)), 0.0, 1e-14);
        within(value(distance(datum.to_datum(origin), point([0.0; 3]))), 0.0, 0.0);
        let seen = |v: Vector3<f64>| values(&of_vector(datum.vector_to_datum(direction(v.into()))));
        let (x, y) = (seen(x_dir), seen(y_dir));
        close(x[0], x_dir.norm(), 1e-14);
        within(x[1].abs() + x[2].abs(), 0.0, 1e-14);
        assert!(y[1] > 0.0);
        within(y[2], 0.0, 1e-14);
        let back = datum.vector_to_vehicle(datum.vector_to_datum(direction(y_dir.into())));
        for (found, expected) in values(&of_vector(back)).into_iter().zip(y_dir.iter()) {
            within(found, *expected, 1e-14);
        }
    }
}

/// Three points of a frame: z from the plane, x from the centre line made square to it. With exact axes.
#[test]
fn a_datum_is_right_handed() {
    let datum = Datum::new(
        point([10.0, 0.0, 5.0]),
        direction([0.0, 2.0, 0.0]),
        direction([-1.0, 7.0, 0.0]),
    )
    .unwrap();
    let seen = values(&of_point(datum.to_datum(point([11.0, 2.0, 8.0]))));
    for (found, expected) in seen.into_iter().zip([0.002, -0.001, 0.003]) {
        within(found, expected, 1e-17);
    }
}
