//! A scene as the page's script reads it: of every shape that moves, where it goes for which numbers.
//!
//! A coordinate is a number, or a list: a number, then for each term factor, slot and function (0 the number itself,
//! 1 its common logarithm, 2 one over it, 3 its cosine, 4 its sine). A band also has its curve's places, `xs` and `ys`: a number that moves as a
//! list of its slot, another as it is. A region has its margins in the same way.

use super::scene::{Coordinate, Form, Scene, Spot};
use crate::outcome::Amount;
use serde_json::{Value, json};

/// The scene's moving shapes in the order of their `data-e`, and the frame that they are kept in.
pub(super) fn redraw(scene: &Scene) -> Value {
    let moving = scene.shapes.iter().filter(|shape| shape.form.moves());
    json!({
        "frame": scene.frame,
        "moving": moving.map(|shape| form(&shape.form)).collect::<Vec<_>>(),
    })
}

fn form(form: &Form) -> Value {
    match form {
        Form::Line { places, closed } => {
            json!({"kind": "line", "closed": closed, "places": places.iter().map(spot).collect::<Vec<_>>()})
        }
        Form::Band { along, scale, curve } => json!({
            "kind": "band",
            "curve": curve,
            "across": along.iter().map(|end| coordinate(&end.across)).collect::<Vec<_>>(),
            "xs": along.iter().map(|end| number(&end.place[0])).collect::<Vec<_>>(),
            "ys": along.iter().map(|end| number(&end.place[1])).collect::<Vec<_>>(),
            "scale": [short(scale.at), short(scale.by), f64::from(scale.function.code())],
        }),
        Form::Box { corners } => json!({"kind": "box", "corners": corners.iter().map(spot).collect::<Vec<_>>()}),
        Form::Ellipse { centre, radii } => {
            json!({"kind": "ellipse", "centre": spot(centre), "radii": radii.iter().map(coordinate).collect::<Vec<_>>()})
        }
        Form::Arc { centre, radii, angles } => json!({
            "kind": "arc",
            "centre": spot(centre),
            "radii": radii.map(short),
            "angles": angles.iter().map(coordinate).collect::<Vec<_>>(),
        }),
        Form::Marker { at, .. } | Form::Text { at, .. } => json!({"kind": "at", "at": spot(at)}),
        Form::Region { across, up, margins } => json!({
            "kind": "region",
            "across": across.iter().map(|place| short(*place)).collect::<Vec<_>>(),
            "up": up.iter().map(|place| short(*place)).collect::<Vec<_>>(),
            "margins": margins.iter().map(number).collect::<Vec<_>>(),
        }),
        Form::Cell { .. } => json!({"kind": "cell"}),
    }
}

fn spot(spot: &Spot) -> Value {
    spot.iter().map(coordinate).collect()
}

fn coordinate(coordinate: &Coordinate) -> Value {
    if coordinate.terms.is_empty() {
        return json!(short(coordinate.fixed));
    }
    let mut list = vec![json!(short(coordinate.fixed))];
    for term in &coordinate.terms {
        list.extend([json!(short(term.factor)), json!(term.slot), json!(term.function.code())]);
    }
    Value::Array(list)
}

/// Nine digits: a thousandth of what can be seen, even where two large numbers all but cancel.
fn short(number: f64) -> f64 {
    format!("{number:.8e}").parse().unwrap_or(number)
}

/// A number of the tape as a list of its slot alone, another as it is.
fn number(amount: &Amount) -> Value {
    amount.slot.map_or_else(|| json!(amount.si), |slot| json!([slot]))
}
