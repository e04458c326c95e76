//! What moves in a picture, in few letters: one list of whole numbers, see `script/page_scene.js`.
//!
//! The list has the shapes one after the other, each by the number of its kind and what follows from that. A coordinate is
//! the count of its terms, its fixed part, and for each term factor, place and function. Fixed parts and factors are numbers
//! of the list `numbers`. A number that may move is −1 and one of that list, or a place.

use crate::tape::{Place, Slot};
use serde_json::{Value, json};
use std::collections::BTreeMap;

/// The kinds of shapes, by number.
const KINDS: [&str; 7] = ["line", "band", "box", "ellipse", "arc", "at", "region"];

/// A scene as `redrawFigure` takes it, shortened; `places` has where the number of each slot stands.
pub(super) fn shortened(scene: &Value, places: &BTreeMap<Slot, Place>) -> Value {
    let mut short = Short {
        places,
        numbers: Vec::new(),
        code: Vec::new(),
    };
    let moving = scene.get("moving").and_then(Value::as_array);
    for shape in moving.into_iter().flatten() {
        short.shape(shape);
    }
    json!({"frame": scene.get("frame"), "numbers": short.numbers, "code": short.code})
}

struct Short<'a> {
    places: &'a BTreeMap<Slot, Place>,
    numbers: Vec<f64>,
    code: Vec<i64>,
}

impl Short<'_> {
    fn shape(&mut self, shape: &Value) {
        let kind = shape.get("kind").and_then(Value::as_str).unwrap_or_default();
        let number = KINDS.iter().position(|known| *known == kind).unwrap_or(KINDS.len());
        self.count(number);
        let list = |name: &str| shape.get(name).and_then(Value::as_array).map_or(&[][..], Vec::as_slice);
        match kind {
            "line" => {
                self.code
                    .push(i64::from(shape.get("closed") == Some(&Value::Bool(true))));
                self.count(list("places").len());
                self.spots(list("places"));
            }
            "band" => {
                self.code
                    .push(shape.get("curve").and_then(Value::as_i64).unwrap_or_default());
                self.count(list("across").len());
                self.coordinates(list("across"));
                list("xs")
                    .iter()
                    .chain(list("ys"))
                    .for_each(|number| self.number(number));
                let scale = list("scale");
                scale.iter().take(2).for_each(|number| self.fixed(number));
                self.code.push(scale.get(2).and_then(Value::as_i64).unwrap_or_default());
            }
            "box" => self.spots(list("corners")),
            "ellipse" => {
                self.coordinates(list("centre"));
                self.coordinates(list("radii"));
            }
            "arc" => {
                self.coordinates(list("centre"));
                list("radii").iter().for_each(|number| self.fixed(number));
                self.coordinates(list("angles"));
            }
            "at" => self.coordinates(list("at")),
            "region" => {
                for way in ["across", "up"] {
                    self.count(list(way).len());
                    list(way).iter().for_each(|place| self.fixed(place));
                }
                list("margins").iter().for_each(|margin| self.number(margin));
            }
            _ => {}
        }
    }

    fn spots(&mut self, spots: &[Value]) {
        for spot in spots {
            self.coordinates(spot.as_array().map_or(&[], Vec::as_slice));
        }
    }

    fn coordinates(&mut self, coordinates: &[Value]) {
        for coordinate in coordinates {
            match coordinate.as_array().map(Vec::as_slice) {
                Some([fixed, terms @ ..]) => {
                    self.count(terms.len() / 3);
                    self.fixed(fixed);
                    for term in terms.chunks_exact(3) {
                        let [factor, slot, function] = term else { continue };
                        self.fixed(factor);
                        let place = self.place(slot).unwrap_or(-1);
                        self.code.extend([place, function.as_i64().unwrap_or_default()]);
                    }
                }
                _ => {
                    self.count(0);
                    self.fixed(coordinate);
                }
            }
        }
    }

    /// A number that moves where it is a list of its slot.
    fn number(&mut self, number: &Value) {
        let place = number.get(0).and_then(|slot| self.place(slot));
        match place {
            Some(place) => self.code.push(place),
            None => {
                self.code.push(-1);
                self.fixed(number);
            }
        }
    }

    /// The number of a number that does not move.
    fn fixed(&mut self, number: &Value) {
        let number = number.as_f64().map_or(0.0, rounded);
        let known = self.numbers.iter().position(|known| *known == number);
        let at = known.unwrap_or(self.numbers.len());
        if known.is_none() {
            self.numbers.push(number);
        }
        self.count(at);
    }

    fn count(&mut self, count: usize) {
        self.code.extend(i64::try_from(count));
    }

    fn place(&self, slot: &Value) -> Option<i64> {
        let slot = Slot::try_from(slot.as_u64()?).ok()?;
        self.places.get(&slot).copied().map(i64::from)
    }
}

/// To nine figures: on the page a thousandth of what anybody sees.
fn rounded(number: f64) -> f64 {
    format!("{number:.8e}").parse().unwrap_or(number)
}
