//! Distances, closest points, crossings, projections. Expected values: computed with numpy 2.4.6 and mpmath 1.3.0 at 40
//! digits by two routes that agree to 1e-13, unless a test says otherwise.

use super::check::{close, deg, direction, millimetres, mm, of_point, point, value, values, within};
use crankline_engine::geometry::{
    Line, Plane, closest_points, direction_from_views, distance, intersection, polyline_length, project_to_line,
    project_to_plane,
};
use crankline_engine::quantity::Quantity;

fn line(through: [f64; 3], along: [f64; 3]) -> Line {
    Line::new(point(through), direction(along)).unwrap()
}

fn plane(through: [f64; 3], normal: [f64; 3]) -> Plane {
    Plane::new(point(through), direction(normal)).unwrap()
}

/// geo-04: (0, 0, 300) along (1, 0.02, −0.05) and (400, 180, 220) along (0.1, 1, 0.03), mm.
#[test]
fn skew_lines() {
    let a = line([0.0, 0.0, 300.0], [1.0, 0.02, -0.05]);
    let b = line([400.0, 180.0, 220.0], [0.1, 1.0, 0.03]);
    close(millimetres(distance(a, b)), 65.9069416847, 1e-9);
    let (on_a, on_b) = closest_points(a, b).unwrap();
    close(millimetres(distance(on_a, on_b)), 65.9069416847, 1e-9);
    within(value(distance(on_a, a)), 0.0, 1e-15);
    within(value(distance(on_b, b)), 0.0, 1e-15);
    let joining = on_b.minus(on_a);
    within(value(joining.dot(a.direction()).unwrap()), 0.0, 1e-15);
    within(value(joining.dot(b.direction()).unwrap()), 0.0, 1e-15);
}

/// geo-05: (350, 120, 210) above the plane through (0, 0, 0), (1000, 0, 40), (0, 500, 15), mm.
#[test]
fn point_and_plane() {
    let (a, b, c) = (
        point([0.0, 0.0, 0.0]),
        point([1000.0, 0.0, 40.0]),
        point([0.0, 500.0, 15.0]),
    );
    let floor = Plane::new(a, b.minus(a).cross(c.minus(a)).unwrap()).unwrap();
    let p = point([350.0, 120.0, 210.0]);
    close(millimetres(distance(p, floor)), 192.15995, 1e-9);
    let foot = project_to_plane(p, floor);
    close(millimetres(distance(p, foot)), 192.15995, 1e-9);
    within(value(distance(foot, floor)), 0.0, 1e-16);
}

/// geo-06: (1210, 12, 318) to (2470, −6, 286) mm.
#[test]
fn shaft_length() {
    let (front, rear) = (point([1210.0, 12.0, 318.0]), point([2470.0, -6.0, 286.0]));
    close(millimetres(distance(front, rear)), 1260.53480714, 1e-10);
    let halfway = point([1840.0, 3.0, 302.0]);
    close(
        millimetres(polyline_length(&[front, halfway, rear]).unwrap()),
        1260.53480714,
        1e-10,
    );
}

/// geo-12, the part that concerns the line: a tube of 3.5 in over the same centres clears (1800, 60, 355) by 32.2442…
#[test]
fn point_and_line() {
    let axis = Line::through(point([1210.0, 12.0, 318.0]), point([2470.0, -6.0, 286.0])).unwrap();
    let p = point([1800.0, 60.0, 355.0]);
    close(millimetres(distance(p, axis)) - 44.45, 32.244299561, 1e-8);
    let foot = project_to_line(p, axis);
    close(millimetres(distance(p, foot)) - 44.45, 32.244299561, 1e-8);
}

/// geo-13: 50 in from (1210, 12, 318) mm at pitch −1.6°, yaw −0.9°: z of the rear end.
#[test]
fn rear_end_of_a_shaft() {
    let along = direction_from_views(deg(1.6), deg(-0.9)).unwrap();
    let rear = point([1210.0, 12.0, 318.0])
        .moved(along.mul(mm(1270.0)).unwrap())
        .unwrap();
    close(millimetres(rear.z()), 282.543890083, 1e-10);
}

/// 3-4-5: lines side by side, 30 mm across and 40 mm up.
#[test]
fn parallel_lines() {
    let a = line([0.0, 0.0, 0.0], [1.0, 0.0, 0.0]);
    for along in [[2.0, 0.0, 0.0], [-1.0, 0.0, 0.0], [1.0, 1e-12, 0.0]] {
        close(millimetres(distance(a, line([700.0, 30.0, 40.0], along))), 50.0, 1e-12);
    }
    assert_eq!(
        closest_points(a, line([0.0, 1.0, 0.0], [-3.0, 0.0, 0.0]))
            .unwrap_err()
            .code(),
        "parallel"
    );
}

/// Lines that lean by a known small angle in planes 40 mm apart pass at 40 mm, however small the angle.
#[test]
fn nearly_parallel_lines() {
    let a = line([0.0, 0.0, 0.0], [1.0, 0.0, 0.0]);
    for lean in [1e-2, 1e-4, 1e-6, 1e-8] {
        let b = line([700.0, 30.0, 40.0], [1.0, lean, 0.0]);
        close(millimetres(distance(a, b)), 40.0, 1e-7);
    }
}

#[test]
fn lines_and_planes() {
    let floor = plane([5.0, 5.0, 100.0], [0.0, 0.0, -2.0]);
    let level = line([0.0, 0.0, 130.0], [1.0, 1.0, 0.0]);
    close(millimetres(distance(level, floor)), 30.0, 1e-12);
    close(
        millimetres(distance(floor, plane([0.0, 0.0, 80.0], [0.0, 0.0, 1.0]))),
        20.0,
        1e-12,
    );
    let falling = line([0.0, 0.0, 130.0], [1.0, 0.0, -0.1]);
    assert_eq!(value(distance(falling, floor)), 0.0);
    assert_eq!(value(distance(floor, plane([0.0, 0.0, 80.0], [0.0, 0.1, 1.0]))), 0.0);
    let crossing = values(&of_point(intersection(falling, floor).unwrap()));
    for (found, expected) in crossing.into_iter().zip([0.3, 0.0, 0.1]) {
        within(found, expected, 1e-15);
    }
    assert_eq!(intersection(level, floor).unwrap_err().code(), "parallel");
}

#[test]
fn distance_has_no_order() {
    let p = point([3.0, -4.0, 12.0]);
    let a = line([10.0, 20.0, 30.0], [1.0, 0.2, -0.3]);
    let floor = plane([0.0, 0.0, 1.0], [0.1, 0.2, 1.0]);
    let same = |first: Quantity, second: Quantity| assert_eq!(value(first).to_bits(), value(second).to_bits());
    same(distance(p, a), distance(a, p));
    same(distance(p, floor), distance(floor, p));
    same(distance(a, floor), distance(floor, a));
}
