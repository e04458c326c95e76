//! Every number of a figure, in a fixed order: for replays, and for whoever must know how many there are.

use super::table::in_phrase;
use super::{Cell, Figure, Mark, Place};
use crate::outcome::Amount;

impl Figure {
    /// Its numbers, in an order that depends on how it was made alone.
    #[must_use]
    pub fn amounts(&self) -> Vec<&Amount> {
        let mut found: Vec<&Amount> = in_phrase(self.title()).collect();
        match self {
            Self::Chart(chart) => {
                for curve in &chart.curves {
                    found.extend(in_phrase(&curve.name));
                    found.extend(&curve.xs);
                    found.extend(&curve.ys);
                }
                for level in &chart.levels {
                    found.extend(in_phrase(&level.name));
                    found.push(&level.at);
                }
                marks(&chart.marks, &mut found);
                let again = [&chart.right_again, &chart.top_again];
                let again = again.into_iter().flatten();
                found.extend(again.flat_map(|scale| [&scale.at, &scale.shows, &scale.factor]));
            }
            Self::Sketch(sketch) => {
                for path in &sketch.paths {
                    found.extend(in_phrase(&path.label));
                    found.extend(path.places.iter().flat_map(both));
                }
                for (label, place) in &sketch.points {
                    found.extend(in_phrase(label));
                    found.extend(both(place));
                }
                for dimension in &sketch.dimensions {
                    found.extend(dimension.label.iter().flat_map(in_phrase));
                    found.extend(both(&dimension.from).into_iter().chain(both(&dimension.to)));
                    found.push(&dimension.distance);
                }
                for angle in &sketch.angles {
                    found.extend(angle.label.iter().flat_map(in_phrase));
                    found.extend(both(&angle.at));
                    found.extend([&angle.from, &angle.to, &angle.between]);
                }
                for circle in &sketch.circles {
                    found.extend(in_phrase(&circle.label));
                    found.extend(both(&circle.centre));
                    found.push(&circle.radius);
                }
            }
            Self::Dial(dial) => {
                for hand in &dial.hands {
                    found.extend(in_phrase(&hand.name));
                    found.push(&hand.angle);
                    found.extend(&hand.length);
                    found.extend(&hand.tip);
                }
                for arc in &dial.arcs {
                    found.extend(in_phrase(&arc.name));
                    found.extend([&arc.from, &arc.to]);
                }
            }
            Self::Bars(bars) => {
                for bar in &bars.bars {
                    found.extend(bar.parts.iter().flat_map(|part| [&part.from, &part.to, &part.size]));
                    found.extend(&bar.limit);
                }
                for (name, limit) in &bars.limits {
                    found.extend(in_phrase(name));
                    found.push(limit);
                }
            }
            Self::PassMap(map) => {
                found.extend(map.xs.iter().chain(&map.ys));
                let margins = map.rows.iter().flatten().filter_map(|cell| match cell {
                    Cell::Margin(margin) => Some(margin),
                    Cell::Judged(_) | Cell::Refused => None,
                });
                found.extend(margins);
                marks(&map.marks, &mut found);
            }
            Self::Table(table) => found.extend(table.amounts()),
        }
        found
    }
}

fn both(place: &Place) -> [&Amount; 2] {
    [&place.across, &place.up]
}

fn marks<'a>(marks: &'a [Mark], found: &mut Vec<&'a Amount>) {
    for Mark { name, x, y } in marks {
        found.extend(in_phrase(name));
        found.extend([x, y]);
    }
}
