//! Points and lines in space, as one view shows them.

use super::take::{Handle, change, copy, words, words_or_none};
use crate::diagnostic::Refusal;
use crate::figure::{Look, Sketch, View};
use crate::geometry::{Cuboid, Point};
use crate::quantity::Dimension;
use crate::script::bind::geometry::{direction, point, points};
use crate::script::native::Functions;
use crate::script::value;
use rhai::Dynamic;

type Result<T> = std::result::Result<T, Refusal>;
type Held = Handle<Sketch>;

pub(super) fn add(functions: &mut Functions) {
    functions.add(
        "sketch(title, view)",
        "A sketch of points and lines in space, empty yet, as one view shows them: \"side\" from the car's left, rear to the \
         right; \"plan\" from above, the car's right side up the page; \"rear\" from behind; \"section\" for what is no car, y to the \
         right and z up. Drawn to scale, as large as it \
         fits. A second name is the same sketch.",
        |a| {
            let title = words(&a[0], "the title of a sketch")?;
            let name = value::text(&a[1], "the view of a sketch")?;
            let view = View::of(&name).ok_or_else(|| {
                let refusal = Refusal::new("figure", format!("there is no view `{name}`"));
                refusal.hint("\"side\", \"plan\", \"rear\" or \"section\"")
            })?;
            Ok(Handle::value(Sketch::new(title, view)))
        },
    );
    lines(functions);
    outlines(functions);
    numbers(functions);
    round(functions);
    functions.method::<Held>(
        "sketch.exaggerate(times)",
        "Draws what goes up the page so many times larger than what goes across, and says so: slopes too small to see \
         become plain. The numbers written stay true.",
        |a| {
            let times = value::number(&a[1], Dimension::NONE, "how many times a sketch exaggerates")?;
            if !times.is_constant() || !(0.01..=1000.0).contains(&times.shown()) {
                let message = "how many times a sketch exaggerates is a plain number from 0.01 to 1000";
                return Err(Refusal::new("figure", message));
            }
            change(a, |sketch: &mut Sketch| {
                sketch.exaggerated = times.shown();
                Ok(())
            })
        },
    );
    functions.method::<Held>(
        "sketch.copy()",
        "Another sketch, as this one is now: what is added to one is not in the other.",
        copy::<Sketch>,
    );
}

fn lines(functions: &mut Functions) {
    let all = [
        (
            "sketch.line(p, q[, label])",
            "A line from p to q: an edge that is there.",
            Look::Edge,
        ),
        (
            "sketch.centre_line(p, q[, label])",
            "The same in long and short strokes: the middle of something, a shaft's line.",
            Look::Centre,
        ),
        (
            "sketch.old_line(p, q[, label])",
            "The same, faint: as it was, or what stands behind.",
            Look::Old,
        ),
        (
            "sketch.arrow(p, q[, label])",
            "An arrow from p to q: a force, a move.",
            Look::Arrow,
        ),
    ];
    for (signature, about, look) in all {
        functions.method::<Held>(signature, about, move |a| {
            let ends = [point(&a[1], "where a line begins")?, point(&a[2], "where a line ends")?];
            let label = words_or_none(a.get(3), "the label of a line")?;
            change(a, |sketch: &mut Sketch| sketch.path(label, &ends, false, look))
        });
    }
}

fn outlines(functions: &mut Functions) {
    let all = [
        (
            "sketch.path(points[, label])",
            "A line through a list of points.",
            false,
            Look::Edge,
        ),
        (
            "sketch.outline(points[, label])",
            "The same back to the first point: a casing, a rail.",
            true,
            Look::Edge,
        ),
        (
            "sketch.old_outline(points[, label])",
            "The same, faint: as it was, or what stands behind.",
            true,
            Look::Old,
        ),
        (
            "sketch.filled(points[, label])",
            "The same, filled: a plate, a floor.",
            true,
            Look::Filled,
        ),
    ];
    for (signature, about, closed, look) in all {
        functions.method::<Held>(signature, about, move |a| {
            let places = points(&a[1], "the points of a line")?;
            let label = words_or_none(a.get(2), "the label of a line")?;
            change(a, |sketch: &mut Sketch| sketch.path(label, &places, closed, look))
        });
    }
    let boxes = [
        ("sketch.box(body[, label])", "The edges of a box.", Look::Edge),
        (
            "sketch.old_box(body[, label])",
            "The same, faint: as it was, or what stands behind.",
            Look::Old,
        ),
    ];
    for (signature, about, look) in boxes {
        functions.method::<Held>(signature, about, move |a| {
            let body: Cuboid = value::typed(&a[1], "what is drawn", "a box, box(min, max)")?;
            let label = words_or_none(a.get(2), "the label of a box")?;
            change(a, |sketch: &mut Sketch| {
                let corners = body.corners();
                // Lower face, upper face, the edges between them.
                let lower = [0, 1, 3, 2].map(|corner: usize| corners[corner]);
                let upper = [4, 5, 7, 6].map(|corner: usize| corners[corner]);
                sketch.path(label, &lower, true, look)?;
                sketch.path(Default::default(), &upper, true, look)?;
                for edge in lower.into_iter().zip(upper) {
                    sketch.path(Default::default(), &[edge.0, edge.1], false, look)?;
                }
                Ok(())
            })
        });
    }
}

fn numbers(functions: &mut Functions) {
    functions.method::<Held>("sketch.point(p[, label])", "Marks a place.", |a| {
        let place = point(&a[1], "the place that is marked")?;
        let label = words_or_none(a.get(2), "the label of a point")?;
        change(a, |sketch: &mut Sketch| sketch.point(label, place))
    });
    functions.method::<Held>(
        "sketch.dimension(p, q[, label])",
        "Writes how far q is from p in this view beside an arrow; a label stands in place of the number: \
         dimension(p, q, `${distance(p, q)} in space`).",
        |a| {
            let ends = ends(a)?;
            let label = a.get(3).map(|label| words(label, "the label of a dimension"));
            let label = label.transpose()?;
            change(a, |sketch: &mut Sketch| sketch.dimension(ends[0], ends[1], label))
        },
    );
    functions.method::<Held>(
        "sketch.angle(a, b, at[, label])",
        "Marks the angle between two directions (vectors or lines) where they meet, and writes what it is in this view; a \
         label stands in place of the number, for the true angle in space say.",
        |a| {
            let directions = [
                direction(&a[1], "the first side of an angle")?,
                direction(&a[2], "the second side of an angle")?,
            ];
            let at = point(&a[3], "where an angle opens")?;
            let label = a.get(4).map(|label| words(label, "the label of an angle"));
            let label = label.transpose()?;
            change(a, |sketch: &mut Sketch| {
                sketch.angle(directions[0], directions[1], at, label)
            })
        },
    );
}

fn round(functions: &mut Functions) {
    let all = [
        (
            "sketch.circle(centre, radius[, label])",
            "A circle in the plane of the view: a hole, a tube end on.",
            false,
        ),
        (
            "sketch.old_circle(centre, radius[, label])",
            "The same, faint: how far a place may be off.",
            true,
        ),
    ];
    for (signature, about, old) in all {
        functions.method::<Held>(signature, about, move |a| {
            let centre = point(&a[1], "the centre of a circle")?;
            let radius = value::quantity(&a[2], "the radius of a circle")?;
            let label = words_or_none(a.get(3), "the label of a circle")?;
            change(a, |sketch: &mut Sketch| sketch.circle(label, centre, radius, old))
        });
    }
}

fn ends(a: &[Dynamic]) -> Result<[Point; 2]> {
    Ok([point(&a[1], "the first point")?, point(&a[2], "the second point")?])
}
