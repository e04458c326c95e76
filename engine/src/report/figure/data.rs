//! A figure's numbers for programs: every series with its unit, as shown and in SI.

use super::super::json::name;
use super::super::written;
use crate::figure::{Angle, Bars, Cell, Chart, Curve, Dial, Figure, HandKind, Kind, Look, Mark, PassMap, Sense, Shown};
use crate::figure::{Axis, Place, SecondScale, Side, Sketch, Table, View, Zero};
use crate::outcome::{Amount, Phrase, Value as Found};
use crate::quantity::text::{Style, System};
use crate::quantity::words;
use serde_json::{Map, Value, json};

/// A figure: `{"kind", "title", "label", "heading", "line", …}`.
pub(in crate::report) fn data(shown: &Shown, system: System) -> Value {
    let writer = Writer { system };
    let mut object = Map::new();
    object.insert("kind".to_owned(), json!(shown.figure.kind()));
    object.insert("title".to_owned(), writer.words(shown.figure.title()));
    object.insert("label".to_owned(), writer.words_or_null(shown.label.as_ref()));
    object.insert("heading".to_owned(), writer.words_or_null(shown.heading.as_ref()));
    object.insert("line".to_owned(), json!(shown.place.as_ref().map(|place| place.line)));
    let rest = match &shown.figure {
        Figure::Chart(chart) => writer.chart(chart),
        Figure::Sketch(sketch) => writer.sketch(sketch),
        Figure::Dial(dial) => writer.dial(dial),
        Figure::Bars(bars) => writer.bars(bars),
        Figure::PassMap(map) => writer.pass_map(map),
        Figure::Table(table) => writer.table(table),
    };
    if let Value::Object(rest) = rest {
        object.extend(rest);
    }
    Value::Object(object)
}

struct Writer {
    system: System,
}

impl Writer {
    fn words(&self, phrase: &Phrase) -> Value {
        json!(written::phrase(phrase, self.system))
    }

    fn words_or_null(&self, phrase: Option<&Phrase>) -> Value {
        phrase.map_or(Value::Null, |phrase| self.words(phrase))
    }

    /// Numbers of one kind: `{"unit", "dimension", "values", "si"}`, in one unit.
    fn series<'a>(&self, amounts: impl Iterator<Item = &'a Amount>, unit: Option<&str>) -> Value {
        let amounts: Vec<&Amount> = amounts.collect();
        let Some(first) = amounts.first() else {
            return json!({"unit": null, "dimension": null, "values": [], "si": []});
        };
        let largest = amounts.iter().map(|amount| amount.si.abs());
        let largest = largest.fold(0.0, crate::kernel::max);
        let own = unit.or(first.style.as_deref());
        let own = own.and_then(|unit| Style::parse(unit, first.dimension, first.scale).ok());
        let style = own.unwrap_or_else(|| Style::usual(first.dimension, first.scale, self.system, largest));
        json!({
            "unit": name(&style.shown_unit()),
            "dimension": words::name_of(first.dimension),
            "values": amounts.iter().map(|amount| style.value(amount.si)).collect::<Vec<_>>(),
            "si": amounts.iter().map(|amount| amount.si).collect::<Vec<_>>(),
        })
    }

    fn number(&self, amount: &Amount, unit: Option<&str>) -> Value {
        let style = amount.style.clone().or_else(|| unit.map(str::to_owned));
        let amount = Amount {
            style,
            ..amount.clone()
        };
        super::super::json::number_json(&amount, self.system)
    }

    fn axis(&self, axis: &Axis) -> Value {
        json!({"label": self.words(&axis.label), "unit": axis.unit, "logarithmic": axis.logarithmic})
    }

    fn second(&self, scale: Option<&SecondScale>) -> Value {
        scale.map_or(Value::Null, |scale| {
            json!({
                "label": self.words(&scale.label),
                "unit": scale.unit,
                "at": self.number(&scale.at, None),
                "shows": self.number(&scale.shows, scale.unit.as_deref()),
            })
        })
    }

    fn chart(&self, chart: &Chart) -> Value {
        let unit = |side: Side| match side {
            Side::Left => chart.y.unit.as_deref(),
            Side::Right => chart.right.as_ref().and_then(|axis| axis.unit.as_deref()),
        };
        let side = |side: Side| if side == Side::Left { "left" } else { "right" };
        let line = |curve: &Curve| {
            json!({
                "name": self.words(&curve.name),
                "kind": match curve.kind {
                    Kind::Line => "line",
                    Kind::Old => "old_line",
                    Kind::Limit => "limit_line",
                    Kind::Points => "points",
                },
                "scale": side(curve.side),
                "x": self.series(curve.xs.iter(), chart.x.unit.as_deref()),
                "y": self.series(curve.ys.iter(), unit(curve.side)),
            })
        };
        let limits = chart.levels.iter().map(|level| {
            let unit = if level.upright {
                chart.x.unit.as_deref()
            } else {
                unit(level.side)
            };
            json!({
                "name": self.words(&level.name),
                "upright": level.upright,
                "scale": if level.upright { "lower" } else { side(level.side) },
                "at": self.number(&level.at, unit),
            })
        });
        json!({
            "x": self.axis(&chart.x),
            "y": self.axis(&chart.y),
            "right": chart.right.as_ref().map(|axis| self.axis(axis)),
            "right_again": self.second(chart.right_again.as_ref()),
            "top_again": self.second(chart.top_again.as_ref()),
            "lines": chart.curves.iter().map(line).collect::<Vec<_>>(),
            "limits": limits.collect::<Vec<_>>(),
            "marks": self.marks(&chart.marks, &chart.x, &chart.y),
        })
    }

    fn marks(&self, marks: &[Mark], x: &Axis, y: &Axis) -> Value {
        let mark = |mark: &Mark| {
            json!({
                "name": self.words(&mark.name),
                "x": self.number(&mark.x, x.unit.as_deref()),
                "y": self.number(&mark.y, y.unit.as_deref()),
            })
        };
        marks.iter().map(mark).collect()
    }

    fn place(&self, place: &Place) -> Value {
        json!({"across": self.number(&place.across, None), "up": self.number(&place.up, None)})
    }

    fn sketch(&self, sketch: &Sketch) -> Value {
        let paths = sketch.paths.iter().map(|path| {
            json!({
                "label": self.words(&path.label),
                "kind": match path.look {
                    Look::Edge => "edge",
                    Look::Centre => "centre",
                    Look::Old => "old",
                    Look::Arrow => "arrow",
                    Look::Filled => "filled",
                },
                "closed": path.closed,
                "across": self.series(path.places.iter().map(|place| &place.across), None),
                "up": self.series(path.places.iter().map(|place| &place.up), None),
            })
        });
        let points = sketch.points.iter();
        let points = points.map(|(label, place)| json!({"label": self.words(label), "at": self.place(place)}));
        let dimensions = sketch.dimensions.iter().map(|dimension| {
            json!({
                "label": self.words_or_null(dimension.label.as_ref()),
                "from": self.place(&dimension.from),
                "to": self.place(&dimension.to),
                "distance": self.number(&dimension.distance, None),
            })
        });
        let angle = |angle: &Angle| {
            json!({
                "label": self.words_or_null(angle.label.as_ref()),
                "at": self.place(&angle.at),
                "from": self.number(&angle.from, None),
                "to": self.number(&angle.to, None),
                "between": self.number(&angle.between, None),
            })
        };
        let circles = sketch.circles.iter().map(|circle| {
            json!({
                "label": self.words(&circle.label),
                "centre": self.place(&circle.centre),
                "radius": self.number(&circle.radius, None),
                "old": circle.old,
            })
        });
        json!({
            "view": match sketch.view {
                View::Side => "side",
                View::Plan => "plan",
                View::Rear => "rear",
                View::Section => "section",
            },
            "exaggerated": sketch.exaggerated,
            "lines": paths.collect::<Vec<_>>(),
            "points": points.collect::<Vec<_>>(),
            "dimensions": dimensions.collect::<Vec<_>>(),
            "angles": sketch.angles.iter().map(angle).collect::<Vec<_>>(),
            "circles": circles.collect::<Vec<_>>(),
        })
    }

    fn dial(&self, dial: &Dial) -> Value {
        let hands = dial.hands.iter().map(|hand| {
            json!({
                "name": self.words(&hand.name),
                "kind": match hand.kind {
                    HandKind::Arrow => "hand",
                    HandKind::Across => "across",
                    HandKind::Old => "old_hand",
                },
                "angle": self.number(&hand.angle, None),
                "length": hand.length.as_ref().map(|length| self.number(length, None)),
            })
        });
        let arcs = dial.arcs.iter().map(|arc| {
            json!({
                "name": self.words(&arc.name),
                "from": self.number(&arc.from, None),
                "to": self.number(&arc.to, None),
            })
        });
        json!({
            "zero": if dial.zero == Zero::Top { "top" } else { "right" },
            "sense": if dial.sense == Sense::Clockwise { "clockwise" } else { "counter-clockwise" },
            "hands": hands.collect::<Vec<_>>(),
            "arcs": arcs.collect::<Vec<_>>(),
        })
    }

    fn bars(&self, bars: &Bars) -> Value {
        let unit = bars.scale.unit.as_deref();
        let each = bars.bars.iter().map(|bar| {
            let parts = bar.parts.iter().map(|part| {
                json!({
                    "name": part.name,
                    "from": self.number(&part.from, unit),
                    "to": self.number(&part.to, unit),
                    "size": self.number(&part.size, unit),
                })
            });
            json!({
                "name": bar.name,
                "parts": parts.collect::<Vec<_>>(),
                "limit": bar.limit.as_ref().map(|limit| self.number(limit, unit)),
            })
        });
        let limits = bars.limits.iter();
        let limits = limits.map(|(name, limit)| json!({"name": self.words(name), "at": self.number(limit, unit)}));
        json!({
            "scale": self.axis(&bars.scale),
            "bars": each.collect::<Vec<_>>(),
            "limits": limits.collect::<Vec<_>>(),
        })
    }

    fn pass_map(&self, map: &PassMap) -> Value {
        let cell = |cell: &Cell| match cell {
            Cell::Margin(margin) => json!({
                "margin_si": margin.si,
                "verdict": if margin.si >= 0.0 { "holds" } else { "fails" },
            }),
            Cell::Judged(verdict) => json!({"margin_si": null, "verdict": verdict.word()}),
            Cell::Refused => json!({"margin_si": null, "verdict": "cannot be calculated"}),
        };
        let rows = map.rows.iter().map(|row| row.iter().map(cell).collect::<Vec<_>>());
        json!({
            "x": self.axis(&map.x),
            "y": self.axis(&map.y),
            "xs": self.series(map.xs.iter(), map.x.unit.as_deref()),
            "ys": self.series(map.ys.iter(), map.y.unit.as_deref()),
            "rows": rows.collect::<Vec<_>>(),
            "marks": self.marks(&map.marks, &map.x, &map.y),
        })
    }

    fn table(&self, table: &Table) -> Value {
        let cell = |cell: &Found| match cell {
            Found::Amount(amount) => self.number(amount, None),
            other => json!({"value": written::value(other, self.system)}),
        };
        let rows = table.rows.iter().map(|row| row.iter().map(cell).collect::<Vec<_>>());
        json!({
            "columns": table.columns.iter().map(|column| self.words(column)).collect::<Vec<_>>(),
            "rows": rows.collect::<Vec<_>>(),
        })
    }
}
