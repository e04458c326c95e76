//! What is refused, and in which words; a replay that comes to the same place leaves the path.

use super::check::{deg, direction, displacement, length, mm, point};
use crankline_engine::diagnostic::Refusal;
use crankline_engine::geometry::{
    Datum, Line, Plane, Point, Vector, angle_between, direction_from_level, direction_from_views, polyline_length,
};
use crankline_engine::quantity::{Dimension, Quantity};
use crankline_engine::tape::{Departure, Recording, Replay};

#[track_caller]
fn refused<T: std::fmt::Debug>(result: Result<T, Refusal>, code: &str, part: &str) {
    let refusal = result.unwrap_err();
    assert_eq!(refusal.code(), code);
    assert!(refusal.to_string().contains(part), "{refusal}");
}

#[test]
fn wrong_dimensions() {
    refused(
        Point::new(mm(1.0), mm(2.0), deg(3.0)),
        "dimension",
        "a point's z must be a length",
    );
    refused(
        Vector::new(mm(1.0), mm(2.0), Quantity::plain(0.0)),
        "dimension",
        "a zero needs its unit too",
    );
    let (way, step) = (direction([1.0, 0.0, 0.0]), displacement([1.0, 0.0, 0.0]));
    refused(
        way.add(step),
        "dimension",
        "cannot add a direction (plain numbers) and a vector (length)",
    );
    refused(step.sub(way), "dimension", "cannot subtract");
    refused(
        point([0.0; 3]).moved(way),
        "dimension",
        "what moves a point must be a vector (length)",
    );
    refused(
        direction_from_views(mm(1.0), deg(0.0)),
        "dimension",
        "side view must be an angle",
    );
    refused(
        way.rotated(way, mm(3.0)),
        "dimension",
        "the angle of a turn must be an angle",
    );
    assert_eq!(step.cross(step).unwrap().dimension(), Dimension::AREA);
    assert_eq!(step.dot(way).unwrap().dimension(), Dimension::LENGTH);
}

#[test]
fn zero_vectors() {
    let (nothing, way, origin) = (direction([0.0; 3]), direction([1.0, 0.0, 0.0]), point([0.0; 3]));
    refused(nothing.direction_of(), "zero vector", "it points nowhere");
    refused(angle_between(way, nothing), "zero vector", "the second vector is zero");
    refused(
        Line::new(origin, nothing),
        "zero vector",
        "the line's direction is zero",
    );
    refused(Plane::new(origin, nothing), "zero vector", "the plane's normal is zero");
    refused(
        Line::through(origin, origin),
        "zero vector",
        "the two points are the same",
    );
    refused(Datum::new(origin, way, way), "parallel", "must span a plane");
    refused(nothing.fall(), "zero vector", "the direction is zero");
    refused(way.div(Quantity::plain(0.0)), "division", "divided by zero");
}

#[test]
fn out_of_range() {
    refused(
        direction_from_level(deg(90.0), deg(0.0)),
        "range",
        "the fall must lie between -90° and 90°",
    );
    refused(
        direction_from_views(deg(0.0), deg(-120.0)),
        "range",
        "the slope in plan",
    );
    refused(polyline_length(&[point([0.0; 3])]), "points", "there are 1");
}

/// Two points apart when recorded, together when replayed.
#[test]
fn a_replay_refuses_too() {
    let run = Recording::open();
    let x = run.input(1.0);
    let end = Point::new(length(x), mm(0.0), mm(0.0)).unwrap();
    let line = Line::through(point([0.0; 3]), end);
    assert!(line.is_ok());
    let tape = run.tape();
    let mut replay = Replay::new(&tape);
    assert!(replay.run(&[2.0]).is_ok());
    assert!(matches!(replay.run(&[0.0]), Err(Departure::Node(..))));
}
