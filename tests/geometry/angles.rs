//! Angles and directions. Expected values: computed with numpy 2.4.6 and mpmath 1.3.0 at 40 digits by two routes that
//! agree to 1e-13, unless a test says otherwise. "Pitch" there is positive upward, the fall here downward.

use super::check::{angle, close, deg, degrees, direction, point, slopes, value, values, within};
use crankline_engine::geometry::{Vector, angle_about, angle_between, direction_from_level, direction_from_views};

fn views(pitch: f64, yaw: f64) -> Vector {
    direction_from_views(deg(-pitch), deg(yaw)).unwrap()
}

fn between(a: Vector, b: Vector) -> f64 {
    degrees(angle_between(a, b).unwrap())
}

/// geo-01: pitch −4°, yaw 0° against −1.5°, 2.5°, slopes seen in views: acos of the normalised scalar product.
#[test]
fn compound_angle_of_two_lines() {
    close(between(views(-4.0, 0.0), views(-1.5, 2.5)), 3.53436812769, 1e-9);
}

/// geo-02: the trade's square root of squares for the same two lines, common practice; it is 3e-4 high.
#[test]
fn square_root_of_squares_is_close_at_small_angles() {
    let shortcut = f64::hypot(2.5, 2.5);
    close(shortcut, 3.53553390593, 1e-9);
    within(
        shortcut / between(views(-4.0, 0.0), views(-1.5, 2.5)) - 1.0,
        3.3e-4,
        1e-5,
    );
}

/// geo-03: one line along X, the other pitch 8°, yaw 12°.
#[test]
fn compound_angle_with_a_line_along_x() {
    close(between(views(0.0, 0.0), views(8.0, 12.0)), 14.2957396727, 1e-9);
}

/// geo-07 and geo-08: slopes of a shaft from (1210, 12, 318) mm to (2470, −6, 286) mm in side view and plan, atan(dz/dx)
/// and atan(dy/dx); geo-07 counts upward.
#[test]
fn views_of_a_shaft() {
    let shaft = point([2470.0, -6.0, 286.0]).minus(point([1210.0, 12.0, 318.0]));
    close(-degrees(shaft.side().unwrap()), -1.45481817675, 1e-9);
    close(degrees(shaft.plan().unwrap()), -0.818455461689, 1e-9);
}

/// geo-09 and geo-10: joint angles of that shaft; engine pitch −3.5°, yaw 0°, pinion pitch −2.25°, yaw 0.4°.
#[test]
fn operating_angles_of_both_joints() {
    let shaft = point([2470.0, -6.0, 286.0]).minus(point([1210.0, 12.0, 318.0]));
    close(between(views(-3.5, 0.0), shaft), 2.20270786924, 1e-9);
    close(between(shaft, views(-2.25, 0.4)), 1.4544832821, 1e-9);
}

/// A line with fall 10° and plan 10° shows 10.15° in side view, one with 4° and 3° 4.005°: tan(side) = tan(fall)/cos(plan).
#[test]
fn fall_and_side_view_differ() {
    let side = |fall, plan| degrees(direction_from_level(deg(fall), deg(plan)).unwrap().side().unwrap());
    within(side(10.0, 10.0), 10.15, 0.005);
    within(side(4.0, 3.0), 4.005, 0.001);
}

/// As rotations, yaw about Z and then pitch, 8° and 12° make 14.390° with the X axis, as slopes in views 14.296°.
#[test]
fn level_and_views_are_two_lines() {
    let level = direction_from_level(deg(8.0), deg(12.0)).unwrap();
    within(between(level, direction([1.0, 0.0, 0.0])), 14.390, 5e-4);
}

#[test]
fn readings_come_back() {
    for (first, plan) in [(3.4, -1.3), (-2.0, 0.0), (0.0, 0.0), (60.0, -70.0), (-89.0, 89.0)] {
        let level = direction_from_level(deg(first), deg(plan)).unwrap();
        within(degrees(level.fall().unwrap()), first, 1e-12);
        within(degrees(level.plan().unwrap()), plan, 1e-12);
        let views = direction_from_views(deg(first), deg(plan)).unwrap();
        within(degrees(views.side().unwrap()), first, 1e-12);
        within(degrees(views.plan().unwrap()), plan, 1e-12);
        within(value(views.norm()), 1.0, 1e-15);
        within(value(level.norm()), 1.0, 1e-15);
    }
}

/// A line that falls and runs right to the rear has x and y positive and z negative.
#[test]
fn signs_of_a_direction() {
    for falls_right in [
        direction_from_level(deg(3.0), deg(2.0)).unwrap(),
        direction_from_views(deg(3.0), deg(2.0)).unwrap(),
    ] {
        let [x, y, z] = [falls_right.x(), falls_right.y(), falls_right.z()].map(value);
        assert!(x > 0.99 && y > 0.03 && z < -0.05);
    }
}

/// With t from the series atan(ε) = ε − ε³/3: the angle of (1, 0, 0) and (1, ε, 0).
#[test]
fn tiny_angles_keep_their_digits() {
    for tiny in [1e-3, 1e-6, 1e-9, 1e-12, 1e-15, 1e-100] {
        let found = value(angle_between(direction([1.0, 0.0, 0.0]), direction([1.0, tiny, 0.0])).unwrap());
        close(found, tiny - tiny * tiny * tiny / 3.0, 1e-12);
    }
}

/// The same vector makes exactly no angle, its opposite 180°, and no derivative is lost there.
#[test]
fn identical_and_opposite() {
    let v = direction([0.3, -0.7, 0.11]);
    assert_eq!(value(angle_between(v, v).unwrap()).to_bits(), 0.0_f64.to_bits());
    close(between(v, v.neg()), 180.0, 1e-15);
    let kink = slopes(&[0.1, 0.05], |n| {
        let line = direction_from_level(angle(n[0]), angle(n[1])).unwrap();
        vec![angle_between(line, line).unwrap()]
    });
    assert_eq!(kink, [0.0, 0.0]);
}

/// The trade's worked job (mm, deg): gearbox line fall 3.4, plan −1.3, front joint (905, 22, −70), rear joint
/// (1750, 0, −120), pinion line fall 2.6, plan 0. The powertrain is held at E (−300, 49.3, −80) and M (700, 26.6, −190);
/// both are moved (right, up), and it turns as a rigid body. Gives t1, t2 and the angle d of the two joints' planes.
fn worked_job(engine: [f64; 2], mount: [f64; 2]) -> [f64; 3] {
    let (fall, plan) = (3.4, -1.3);
    let (e, m) = (point([-300.0, 49.3, -80.0]), point([700.0, 26.6, -190.0]));
    let moved_e = point([-300.0, 49.3 + engine[0], -80.0 + engine[1]]);
    let (across, up) = (direction([0.0, 1.0, 0.0]), direction([0.0, 0.0, 1.0]));
    // Attitude Rz(plan) Ry(fall), new after old undone.
    let turned = |v: Vector, new: [f64; 2]| {
        let level = v
            .rotated(up, deg(-plan))
            .unwrap()
            .rotated(across, deg(new[0] - fall))
            .unwrap();
        level.rotated(up, deg(new[1])).unwrap()
    };
    // The attitude at which M comes to its new place, by steps that shrink tenfold.
    let mut new = [fall, plan];
    for _ in 0..40 {
        let found = moved_e.moved(turned(m.minus(e), new)).unwrap();
        let [y, z] = [found.y(), found.z()].map(|q| value(q) * 1e3);
        new[0] += ((z - (-190.0 + mount[1])) / 1000.0).to_degrees();
        new[1] -= ((y - (26.6 + mount[0])) / 1000.0).to_degrees();
    }
    let front = moved_e
        .moved(turned(point([905.0, 22.0, -70.0]).minus(e), new))
        .unwrap();
    let gearbox = turned(direction_from_level(deg(fall), deg(plan)).unwrap(), new);
    let pinion = direction_from_level(deg(2.6), deg(0.0)).unwrap();
    let shaft = point([1750.0, 0.0, -120.0]).minus(front);
    let (n1, n2) = (gearbox.cross(shaft).unwrap(), shaft.cross(pinion).unwrap());
    let d = degrees(angle_about(shaft, n1, n2).unwrap());
    [between(gearbox, shaft), between(shaft, pinion), d]
}

/// Its four rows, worked out apart from this project; moves are rounded to 0.1 mm, which is up to 0.02° where four of them count.
#[test]
fn worked_job_as_found_and_moved() {
    let close_to = |found: [f64; 3], expected: [f64; 2], d: f64| {
        within(found[0], expected[0], 0.02);
        within(found[1], expected[1], 0.02);
        let apart = (found[2] - d + 540.0).rem_euclid(360.0) - 180.0;
        within(apart, 0.0, 1.0);
    };
    close_to(worked_job([0.0, 0.0], [0.0, 0.0]), [0.19, 1.68], -148.0);
    close_to(worked_job([0.0, 0.0], [22.7, 14.0]), [3.85, 3.85], 180.0);
    close_to(worked_job([0.0, 0.0], [-7.6, -3.5]), [1.00, 1.00], 0.0);
    close_to(worked_job([-39.3, -16.8], [-16.7, -2.9]), [1.04, 1.04], 180.0);
}

/// d = atan2(u·(n1 × n2), n1·n2) with n1 and n2 square to u, worked out here by hand in plain arithmetic.
#[test]
fn angle_about_an_axis() {
    let x = direction([2.0, 0.0, 0.0]);
    let found = |from, to| degrees(angle_about(x, direction(from), direction(to)).unwrap());
    within(found([0.0, 1.0, 0.0], [0.0, 0.0, 3.0]), 90.0, 1e-13);
    within(found([0.0, 0.0, 1.0], [0.0, 2.0, 0.0]), -90.0, 1e-13);
    // What lies along the axis does not count.
    within(found([5.0, 1.0, 0.0], [-3.0, 1.0, 1.0]), 45.0, 1e-13);
    assert_eq!(found([1.0, 0.0, 0.0], [0.0, 1.0, 0.0]), 0.0);
}

/// An independent library's angle for many random pairs.
#[test]
fn angles_agree_with_another_library() {
    let mut random = super::random::Random::new(11);
    for _ in 0..500 {
        let [a, b] = [(); 2].map(|()| [(); 3].map(|()| random.between(-1.0, 1.0)));
        let theirs = nalgebra::Vector3::from(a).angle(&nalgebra::Vector3::from(b));
        within(
            values(&[angle_between(direction(a), direction(b)).unwrap()])[0],
            theirs,
            1e-7,
        );
    }
}
