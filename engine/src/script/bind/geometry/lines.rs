//! Lines and planes, and what is measured between them.

use super::take::{direction, line, needed_line, place, plane, point, points, vector};
use crate::geometry::{self, Line, Plane};
use crate::script::native::Functions;
use crate::script::value;
use rhai::Dynamic;

pub(super) fn add(functions: &mut Functions) {
    making(functions);
    measuring(functions);
    meeting(functions);
}

fn making(functions: &mut Functions) {
    functions.add(
        "line(p, direction)",
        "The endless line through a point along a vector of any kind and length. The zero vector is refused.",
        |a| Line::new(point(&a[0], "p")?, direction(&a[1], "the direction")?).map(Dynamic::from),
    );
    functions.add(
        "line_through(p, q)",
        "The endless line through two points, from the first toward the second. The same point twice is refused.",
        |a| Line::through(point(&a[0], "p")?, point(&a[1], "q")?).map(Dynamic::from),
    );
    functions.add(
        "plane(p, normal)",
        "The endless plane through a point, square to a vector of any kind and length. As the face of something it is free \
         where the normal points. Through three points a, b, c the normal is cross(b - a, c - a).",
        |a| Plane::new(point(&a[0], "p")?, vector(&a[1], "the normal")?).map(Dynamic::from),
    );
    functions
        .property::<Line>("line.point", "The point that a line was made from.", |line| {
            Ok(Dynamic::from(line.point()))
        })
        .property::<Line>("line.direction", "A line's direction, a unit vector.", |line| {
            Ok(Dynamic::from(line.direction()))
        })
        .property::<Plane>("plane.point", "The point that a plane was made from.", |plane| {
            Ok(Dynamic::from(plane.point()))
        })
        .property::<Plane>("plane.normal", "A plane's normal, a unit vector.", |plane| {
            Ok(Dynamic::from(plane.normal()))
        });
}

fn measuring(functions: &mut Functions) {
    functions.add(
        "distance(a, b)",
        "The shortest distance between two points, lines or planes, a length, never negative. Lines and planes are endless: \
         those that are not parallel to a plane meet it, at distance 0. How far a point lies behind a plane: clearance.",
        |a| {
            let (left, right) = (place(&a[0], "a")?, place(&a[1], "b")?);
            Ok(Dynamic::from(geometry::distance(left, right)))
        },
    );
    functions.add(
        "polyline_length(points)",
        "The length of straight pieces from each point of a list to the next: a hose, a wire. Two or more points.",
        |a| geometry::polyline_length(&points(&a[0], "the points")?).map(Dynamic::from),
    );
}

fn meeting(functions: &mut Functions) {
    functions.add(
        "closest_points(a, b)",
        "The point of each of two lines that is closest to the other line, a list of two points; where the lines cross they \
         are the same. Parallel lines are refused.",
        |a| {
            let (first, second) = geometry::closest_points(needed_line(&a[0], "a")?, needed_line(&a[1], "b")?)?;
            Ok(Dynamic::from(vec![Dynamic::from(first), Dynamic::from(second)]))
        },
    );
    functions.add(
        "intersection(line, plane)",
        "The point in which an endless line meets a plane. A line parallel to it is refused.",
        |a| {
            let pair = (
                line(&a[0]).or_else(|| line(&a[1])),
                plane(&a[1]).or_else(|| plane(&a[0])),
            );
            match pair {
                (Some(line), Some(plane)) => geometry::intersection(line, plane).map(Dynamic::from),
                (None, None) => Err(value::wrong(&a[0], "the first argument of intersection", "a line")),
                (None, Some(_)) => {
                    let odd = if plane(&a[0]).is_some() { &a[1] } else { &a[0] };
                    Err(value::wrong(odd, "what meets the plane", "a line"))
                }
                (Some(_), None) => {
                    let odd = if line(&a[0]).is_some() { &a[1] } else { &a[0] };
                    let refusal = value::wrong(odd, "what the line meets", "a plane");
                    Err(refusal.hint("two lines seldom meet: closest_points(a, b)"))
                }
            }
        },
    );
    functions.add(
        "project(p, onto)",
        "The point of a line or plane closest to a point: the foot of the perpendicular.",
        |a| {
            let p = point(&a[0], "p")?;
            if let Some(line) = line(&a[1]) {
                return Ok(Dynamic::from(geometry::project_to_line(p, line)));
            }
            match plane(&a[1]) {
                Some(plane) => Ok(Dynamic::from(geometry::project_to_plane(p, plane))),
                None => Err(value::wrong(
                    &a[1],
                    "what a point is projected onto",
                    "a line or a plane",
                )),
            }
        },
    );
}
