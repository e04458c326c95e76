//! Lines, limits and marks over one another.

use super::take::{Handle, change, copy, numbers, unit, words};
use crate::diagnostic::Refusal;
use crate::figure::{Axis, Chart, Kind, SecondScale, Side};
use crate::script::native::Functions;
use crate::script::value;
use rhai::Dynamic;

type Result<T> = std::result::Result<T, Refusal>;
type Held = Handle<Chart>;

pub(super) fn add(functions: &mut Functions) {
    functions.add(
        "chart(title)",
        "A chart, empty yet. Its scales take what their first numbers measure; a unit is asked for with x_label and y_label. \
         Where the ys of a line move with the readings and its xs do not, its 95 % band is drawn with it. A second name is \
         the same chart. At most 20 000 numbers in a figure, 200 figures in a run.",
        |a| Ok(Handle::value(Chart::new(words(&a[0], "the title of a chart")?))),
    );
    curves(functions);
    places(functions);
    scales(functions);
    functions.method::<Held>(
        "chart.copy()",
        "Another chart, as this one is now: what is added to one is not in the other.",
        copy::<Chart>,
    );
}

fn curves(functions: &mut Functions) {
    let all = [
        (
            "chart.line(name, xs, ys)",
            "A line through places: two lists of quantities, equally long, at least two places.",
            Side::Left,
            Kind::Line,
        ),
        (
            "chart.old_line(name, xs, ys)",
            "The same, faint: how it was before, or would be otherwise.",
            Side::Left,
            Kind::Old,
        ),
        (
            "chart.points(name, xs, ys)",
            "Places without a line between them: what was measured.",
            Side::Left,
            Kind::Points,
        ),
        (
            "chart.limit_line(name, xs, ys)",
            "A limit that is not the same all along.",
            Side::Left,
            Kind::Limit,
        ),
        (
            "chart.right_line(name, xs, ys)",
            "A line that goes by the scale on the right, which right_axis makes.",
            Side::Right,
            Kind::Line,
        ),
    ];
    for (signature, about, side, kind) in all {
        functions.method::<Held>(signature, about, move |a| {
            let name = words(&a[1], "the name of a line")?;
            let (xs, ys) = (numbers(&a[2], "the xs")?, numbers(&a[3], "the ys")?);
            change(a, |chart: &mut Chart| chart.curve(name, (&xs, &ys), side, kind))
        });
    }
}

fn places(functions: &mut Functions) {
    let all = [
        (
            "chart.limit(name, y)",
            "A limit that is the same all along: a level line.",
            Side::Left,
            false,
        ),
        (
            "chart.right_limit(name, y)",
            "The same by the scale on the right.",
            Side::Right,
            false,
        ),
        (
            "chart.upright(name, x)",
            "An upright line at x: a speed that something must stay clear of, a station.",
            Side::Left,
            true,
        ),
    ];
    for (signature, about, side, upright) in all {
        functions.method::<Held>(signature, about, move |a| {
            let name = words(&a[1], "the name of a limit")?;
            let at = value::quantity(&a[2], "where a limit stands")?;
            change(a, |chart: &mut Chart| chart.level(name, at, side, upright))
        });
    }
    functions.method::<Held>(
        "chart.mark(name, x, y)",
        "Marks one place, with its name beside it.",
        |a| {
            let name = words(&a[1], "the name of a mark")?;
            let x = value::quantity(&a[2], "where a mark stands")?;
            let y = value::quantity(&a[3], "where a mark stands")?;
            change(a, |chart: &mut Chart| chart.mark(name, x, y))
        },
    );
}

fn scales(functions: &mut Functions) {
    functions.method::<Held>(
        "chart.x_label(text[, unit])",
        "What the lower scale counts, and in which unit (else the usual one): x_label(\"Shaft speed\", \"rpm\").",
        |a| named(a, |chart| Ok(&mut chart.x)),
    );
    functions.method::<Held>(
        "chart.y_label(text[, unit])",
        "What the left scale counts, and in which unit.",
        |a| named(a, |chart| Ok(&mut chart.y)),
    );
    functions.method::<Held>(
        "chart.right_axis(text[, unit[, at, shows]])",
        "A scale on the right: of its own, for right_line and right_limit; or the left scale in other numbers, in proportion: \
         where that has `at` it shows `shows`: right_axis(\"Shaft speed\", \"rpm\", redline, redline / gear).",
        right_axis,
    );
    functions.method::<Held>(
        "chart.top_axis(text, unit, at, shows)",
        "The lower scale in other numbers, at the top, in proportion: where the lower one has `at` it shows `shows`: \
         top_axis(\"Propeller shaft\", \"rpm\", cruise_speed, shaft_at_cruise).",
        |a| {
            let (text, unit) = (words(&a[1], "the words of a scale")?, unit(a.get(2))?);
            let pair = [
                value::quantity(&a[3], "where a scale shows something")?,
                value::quantity(&a[4], "what a scale shows")?,
            ];
            change(a, |chart: &mut Chart| {
                chart.top_again = Some(SecondScale::new(&mut chart.x, text, unit, pair)?);
                Ok(())
            })
        },
    );
    for (signature, across) in [("chart.log_x()", true), ("chart.log_y()", false)] {
        let about = "Makes equal steps of the scale equal ratios; what is not above zero is not drawn.";
        functions.method::<Held>(signature, about, move |a| {
            change(a, |chart: &mut Chart| {
                let axis = if across { &mut chart.x } else { &mut chart.y };
                axis.logarithmic = true;
                Ok(())
            })
        });
    }
}

fn right_axis(a: &[Dynamic]) -> Result<Dynamic> {
    let (text, unit) = (words(&a[1], "the words of a scale")?, unit(a.get(2))?);
    let mut pair = Vec::new();
    for quantity in a.iter().skip(3) {
        pair.push(value::quantity(quantity, "what a scale goes by")?);
    }
    change(a, |chart: &mut Chart| {
        match pair.as_slice() {
            [] => chart.right.get_or_insert_with(Axis::default).name(text, unit)?,
            [at, shows] => chart.right_again = Some(SecondScale::new(&mut chart.y, text, unit, [*at, *shows])?),
            _ => {
                let message = "a second scale needs what the first has and what it shows there";
                return Err(
                    Refusal::new("figure", message).hint("right_axis(\"Shaft\", \"rpm\", redline, redline / gear)")
                );
            }
        }
        if chart.right.is_some() && chart.right_again.is_some() {
            let message = "the right of this chart has a scale already";
            return Err(Refusal::new("figure", message).hint("a second chart says it more clearly"));
        }
        Ok(())
    })
}

/// Names a scale.
fn named(a: &[Dynamic], axis: fn(&mut Chart) -> Result<&mut Axis>) -> Result<Dynamic> {
    let (text, unit) = (words(&a[1], "the words of a scale")?, unit(a.get(2))?);
    change(a, |chart: &mut Chart| axis(chart)?.name(text, unit))
}
