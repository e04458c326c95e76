//! Clearances of bodies: values computed outside, closed forms, and derivatives.

use super::check::{
    angle, close, deg, direction, follows, length, millimetres, mm, point, points, slopes, vectors, within,
};
use super::random::Random;
use crankline_engine::geometry::{Body, Cuboid, Line, Plane, Tube, clearance, distance};
use crankline_engine::quantity::Quantity;
use nalgebra::{Rotation3, Unit, Vector3};

fn cuboid(min: [f64; 3], max: [f64; 3]) -> Cuboid {
    Cuboid::new(point(min), point(max)).unwrap()
}

fn tube(p: [f64; 3], q: [f64; 3], radius: f64) -> Tube {
    Tube::between(point(p), point(q), mm(radius)).unwrap()
}

fn gap(a: impl Into<Body>, b: impl Into<Body>) -> f64 {
    millimetres(clearance(a, b).unwrap())
}

/// geo-11: box with centre (300, 20, 260) and half sizes (220, 140, 110) mm under a tunnel roof through (0, 0, 480) whose
/// normal (0.06, −0.03, −1) points down to the free side; computed with numpy 2.4.6, second route all eight corners.
#[test]
fn box_under_a_roof() {
    let casing = cuboid([80.0, -120.0, 150.0], [520.0, 160.0, 370.0]);
    let roof = Plane::new(point([0.0, 0.0, 480.0]), direction([0.06, -0.03, -1.0])).unwrap();
    close(gap(casing, roof), 109.753332192, 1e-9);
    close(gap(roof, casing), 109.753332192, 1e-9);
    let lowest = casing
        .corners()
        .map(|corner| gap(corner, roof))
        .into_iter()
        .fold(f64::INFINITY, f64::min);
    close(gap(casing, roof), lowest, 1e-12);
}

/// geo-12: a tube of 3.5 in outside between (1210, 12, 318) and (2470, −6, 286) and the point (1800, 60, 355), mm: distance
/// from the line less the radius; computed with numpy 2.4.6.
#[test]
fn point_beside_a_shaft() {
    let shaft = tube([1210.0, 12.0, 318.0], [2470.0, -6.0, 286.0], 44.45);
    close(gap(shaft, point([1800.0, 60.0, 355.0])), 32.244299561, 1e-8);
}

/// A tube has round ends: a point 100 mm behind the rear end is 100 mm less the radius away.
#[test]
fn tubes_have_round_ends() {
    let rod = tube([0.0; 3], [1000.0, 0.0, 0.0], 20.0);
    close(gap(rod, point([1100.0, 0.0, 0.0])), 80.0, 1e-12);
    close(gap(rod, point([1030.0, 40.0, 0.0])), 30.0, 1e-12);
    close(
        gap(rod, tube([500.0, 100.0, -300.0], [500.0, 100.0, 300.0], 30.0)),
        50.0,
        1e-12,
    );
    let ball = tube([0.0, 0.0, 100.0], [0.0, 0.0, 100.0], 10.0);
    close(gap(rod, ball), 70.0, 1e-12);
}

/// Boxes side by side, corner to corner (3-4-12 makes 13), and one 4 mm deep in the other.
#[test]
fn boxes() {
    let first = cuboid([0.0; 3], [100.0, 50.0, 40.0]);
    close(gap(first, cuboid([107.0, 10.0, 0.0], [150.0, 20.0, 40.0])), 7.0, 1e-12);
    close(
        gap(first, cuboid([103.0, 54.0, 52.0], [200.0, 90.0, 90.0])),
        13.0,
        1e-12,
    );
    close(gap(first, cuboid([20.0, 10.0, 36.0], [80.0, 40.0, 90.0])), -4.0, 1e-9);
    close(gap(first, point([50.0, 25.0, 30.0])), -10.0, 1e-9);
}

/// A cube of edge 100 turned by 45° about its middle reaches 50√2 instead of 50 toward a face 100 away.
#[test]
fn a_turned_box() {
    let cube = cuboid([-50.0; 3], [50.0; 3]);
    let turned = cube
        .turned(point([0.0; 3]), direction([0.0, 0.0, 3.0]), deg(45.0))
        .unwrap();
    let wall = Plane::new(point([100.0, 0.0, 0.0]), direction([-1.0, 0.0, 0.0])).unwrap();
    close(gap(cube, wall), 50.0, 1e-12);
    close(gap(turned, wall), 100.0 - 50.0 * 2.0_f64.sqrt(), 1e-12);
    close(
        gap(turned, cuboid([100.0, -50.0, -50.0], [200.0, 50.0, 50.0])),
        100.0 - 50.0 * 2.0_f64.sqrt(),
        1e-12,
    );
}

/// The trade's rolling casing: corner at y 158, z −90 about the crank line, rolled by +3°, line 8 off the middle, tunnel
/// wall at 178: 12 mm before, 7.5 mm after.
#[test]
fn a_rolling_casing() {
    let wall = Plane::new(point([0.0, 178.0, 0.0]), direction([0.0, -1.0, 0.0])).unwrap();
    let corner = point([0.0, 8.0 + 158.0, -90.0]);
    close(gap(corner, wall), 12.0, 1e-12);
    let crank = Line::new(point([0.0, 8.0, 0.0]), direction([1.0, 0.0, 0.0])).unwrap();
    let rolled = corner.rotated(crank, deg(3.0)).unwrap();
    within(gap(rolled, wall), 7.5, 0.05);
}

#[test]
fn behind_a_face_is_cut_in() {
    let floor = Plane::new(point([0.0, 0.0, 10.0]), direction([0.0, 0.0, 1.0])).unwrap();
    close(gap(point([0.0, 0.0, 4.0]), floor), -6.0, 1e-12);
    close(gap(tube([0.0, 0.0, 30.0], [90.0, 0.0, 25.0], 20.0), floor), -5.0, 1e-12);
    assert_eq!(clearance(floor, floor).unwrap_err().code(), "clearance");
}

#[test]
fn bodies_that_cannot_be_are_refused() {
    let refusal = Cuboid::new(point([0.0; 3]), point([1.0, -1.0, 1.0])).unwrap_err();
    assert!(refusal.message().contains("the smaller y"), "{refusal}");
    let refusal = Tube::between(point([0.0; 3]), point([1.0; 3]), mm(-1.0)).unwrap_err();
    assert!(refusal.message().contains("must not be negative"), "{refusal}");
    assert!(Tube::between(point([0.0; 3]), point([1.0; 3]), deg(1.0)).is_err());
}

/// Clearances are the same wherever the arrangement stands, either way round.
#[test]
fn moving_the_car_changes_no_clearance() {
    let mut random = Random::new(17);
    for _ in 0..50 {
        let mut place = |size: f64| [(); 3].map(|()| random.between(-size, size));
        let (p, q, low, axis) = (place(600.0), place(600.0), place(600.0), place(1.0));
        let high = [low[0] + 150.0, low[1] + 90.0, low[2] + 60.0];
        let still = gap(tube(p, q, 30.0), cuboid(low, high));
        let theta = random.between(-3.0, 3.0);
        let turn = Rotation3::from_axis_angle(&Unit::new_normalize(Vector3::from(axis)), theta);
        let turned = |place: [f64; 3]| (turn * Vector3::from(place)).into();
        let casing = cuboid(low, high)
            .turned(point([0.0; 3]), direction(axis), deg(theta.to_degrees()))
            .unwrap();
        let rod = tube(turned(p), turned(q), 30.0);
        within(gap(rod, casing), still, 1e-7);
        within(gap(casing, rod), still, 1e-7);
    }
}

/// Two thin tubes that pass each other side by side are as far apart as their lines.
#[test]
fn tubes_and_lines_agree() {
    let (a, b) = (
        ([0.0, 0.0, 300.0], [800.0, 16.0, 260.0]),
        ([300.0, -820.0, 190.0], [500.0, 1180.0, 250.0]),
    );
    let line = |(p, q)| Line::through(point(p), point(q)).unwrap();
    let apart = millimetres(distance(line(a), line(b)));
    close(gap(tube(a.0, a.1, 10.0), tube(b.0, b.1, 15.0)), apart - 25.0, 1e-12);
}

/// A box level over a floor: lifted by a millimetre it clears by a millimetre more, though four corners are equally low.
#[test]
fn a_level_box_has_a_slope() {
    let found = slopes(&[0.1], |n| {
        let floor = Plane::new(point([0.0; 3]), direction([0.0, 0.0, 1.0])).unwrap();
        let slab = cuboid([-500.0, -500.0, -100.0], [500.0, 500.0, 0.0]);
        let (low, high) = ([length(n[0]), mm(0.0)], [length(n[0] + 0.3), mm(400.0)]);
        let corner = |z: Quantity, side: Quantity| crankline_engine::geometry::Point::new(side, side, z).unwrap();
        let casing = Cuboid::new(corner(low[0], low[1]), corner(high[0], high[1])).unwrap();
        vec![clearance(casing, floor).unwrap(), clearance(casing, slab).unwrap()]
    });
    assert_eq!(found.len(), 2);
    for slope in found {
        within(slope, 1.0, 1e-12);
    }
}

#[test]
fn clearances_follow_their_bodies() {
    // Two crossing tubes; then a tube over the edge of a turned box; then bodies over a leaning face.
    follows(
        &[0.1, 0.2, 0.3, 1.0, 0.1, 0.2, 0.5, -0.4, 0.9, 0.6, 1.1, 0.7, 0.08],
        |n| {
            let p = points(n);
            let first = Tube::between(p[0], p[1], length(n[12])).unwrap();
            let second = Tube::between(p[2], p[3], length(n[12])).unwrap();
            vec![clearance(first, second).unwrap(), clearance(first, p[2]).unwrap()]
        },
    );
    follows(
        &[-0.3, -0.2, -0.1, 0.3, 0.2, 0.1, 0.7, -0.4, 0.9, 0.6, 0.9, 0.7, 0.4],
        |n| {
            let (p, v) = (points(n), vectors(n));
            let casing = Cuboid::new(p[0], p[1])
                .unwrap()
                .turned(p[0], v[3], angle(n[12]))
                .unwrap();
            let rod = Tube::between(p[2], p[3], mm(40.0)).unwrap();
            vec![clearance(casing, rod).unwrap()]
        },
    );
    follows(&[-0.3, -0.2, 1.1, 0.3, 0.2, 1.5, 0.1, 0.2, 0.3, 0.2, 0.3, 0.9], |n| {
        let (p, v) = (points(n), vectors(n));
        let face = Plane::new(p[2], v[3]).unwrap();
        let casing = Cuboid::new(p[0], p[1]).unwrap();
        let rod = Tube::between(p[0], p[1], mm(40.0)).unwrap();
        vec![
            clearance(casing, face).unwrap(),
            clearance(rod, face).unwrap(),
            clearance(p[0], face).unwrap(),
        ]
    });
}
