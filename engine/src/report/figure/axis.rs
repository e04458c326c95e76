//! Scales along the edges of a picture.

use super::super::written;
use super::measure::{LINE, TEXT, width, wrapped};
use super::scene::{Anchor, Form, Function, Linear, Scene, still};
use super::ticks::{Tick, ratio_ticks, rounded_out, ticks};
use crate::figure::{Axis, SecondScale};
use crate::kernel;
use crate::outcome::{Amount, Phrase};
use crate::quantity::text::{Style, System};
use crate::quantity::{Dimension, Scale};

/// The lowest and the highest of some numbers.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Extent {
    pub(super) low: f64,
    pub(super) high: f64,
}

/// Numbers that differ by less than this part of themselves are one on a scale: nobody could read them apart, and its ticks
/// would be no more than the last bits of a number.
const ONE_NUMBER: f64 = 1e-9;

/// A scale laid out: how its numbers are written, from where to where it goes, its ticks.
#[derive(Clone, Debug)]
pub(super) struct Ruler {
    pub(super) style: Style,
    pub(super) low: f64,
    pub(super) high: f64,
    pub(super) ticks: Vec<Tick>,
    function: Function,
}

impl Extent {
    /// Of some numbers; of none from 0 to 1. Numbers that a scale of ratios has no place for do not count.
    pub(super) fn of(numbers: impl Iterator<Item = f64>, logarithmic: bool) -> Self {
        let numbers = numbers.filter(|number| number.is_finite() && (!logarithmic || *number > 0.0));
        let around = numbers.fold(None, |extent: Option<Self>, number| {
            let (low, high) = extent.map_or((number, number), |extent| (extent.low, extent.high));
            Some(Self {
                low: kernel::min(low, number),
                high: kernel::max(high, number),
            })
        });
        around.unwrap_or(Self { low: 0.0, high: 1.0 })
    }

    fn largest(self) -> f64 {
        kernel::max(self.low.abs(), self.high.abs())
    }

    /// The same with some room where all is one number, but for its last digits.
    fn opened(self, logarithmic: bool) -> Self {
        if self.high - self.low > ONE_NUMBER * self.largest() {
            return self;
        }
        if logarithmic {
            return Self {
                low: self.low / 2.0,
                high: self.high * 2.0,
            };
        }
        let room = if self.low == 0.0 { 1.0 } else { self.low.abs() / 5.0 };
        Self {
            low: self.low - room,
            high: self.high + room,
        }
    }
}

impl Ruler {
    /// A scale for these numbers. `from_zero`: it goes down to zero where that is not far; `outward`: its ends are round.
    pub(super) fn new(
        axis: &Axis,
        extent: Extent,
        system: System,
        most: usize,
        from_zero: bool,
        outward: bool,
    ) -> Self {
        let style = style(axis, extent.largest(), system);
        let mut extent = extent.opened(axis.logarithmic);
        let function = if axis.logarithmic {
            Function::Log10
        } else {
            Function::Same
        };
        if axis.logarithmic {
            let (low, high) = (extent.low * 0.9, extent.high * 1.1);
            let ticks = ratio_ticks(&style, low, high);
            return Self {
                style,
                low,
                high,
                ticks,
                function,
            };
        }
        // A temperature is no multiple of another: nothing of it is far away.
        let from_zero = from_zero && axis.kind.is_none_or(|(_, scale)| scale != Scale::Point);
        let near_zero = |near: f64, far: f64| near > 0.0 && near < 0.6 * far;
        if from_zero && near_zero(extent.low, extent.high) {
            extent.low = 0.0;
        } else if from_zero && near_zero(-extent.high, -extent.low) {
            extent.high = 0.0;
        }
        let (low, high) = rounded_out(&style, extent.low, extent.high, most);
        let more = (high - low) / (extent.high - extent.low);
        let (low, high) = if outward || more < 1.08 {
            (low, high)
        } else {
            (extent.low, extent.high)
        };
        let ticks = ticks(&style, low, high, most);
        Self {
            style,
            low,
            high,
            ticks,
            function,
        }
    }

    /// From its numbers to places between two ends of it on the page.
    pub(super) fn along(&self, from: f64, to: f64) -> Linear {
        let (low, high) = (self.function.of(self.low), self.function.of(self.high));
        let by = (to - from) / (high - low);
        Linear {
            at: from - by * low,
            by,
            function: self.function,
        }
    }

    /// The width of its widest number.
    pub(super) fn widest(&self) -> f64 {
        widest(&self.ticks)
    }
}

fn widest(ticks: &[Tick]) -> f64 {
    let widths = ticks.iter().map(|tick| width(&tick.text));
    widths.fold(0.0, kernel::max)
}

/// How numbers of a scale are written: in the unit asked for, else in the usual one for the largest of them.
pub(super) fn style(axis: &Axis, largest: f64, system: System) -> Style {
    let (dimension, scale) = axis.kind.unwrap_or((Dimension::NONE, Scale::Difference));
    of_unit(axis.unit.as_deref(), dimension, scale, largest, system)
}

fn of_unit(unit: Option<&str>, dimension: Dimension, scale: Scale, largest: f64, system: System) -> Style {
    let own = unit.and_then(|unit| Style::parse(unit, dimension, scale).ok());
    own.unwrap_or_else(|| Style::usual(dimension, scale, system, largest))
}

/// What a scale counts, with its unit: `Shaft speed, rpm`.
pub(super) fn heading(axis: &Axis, style: &Style, system: System) -> String {
    titled(&written::phrase(&axis.label, system), style)
}

fn titled(label: &str, style: &Style) -> String {
    match (label, style.symbol()) {
        ("", unit) => unit.to_owned(),
        (label, "") => label.to_owned(),
        // The unit does not stand alone on a line.
        (label, unit) => format!("{label},\u{a0}{}", unit.replace(' ', "\u{a0}")),
    }
}

/// The lower scale: ticks, numbers, below them what it counts. Gives where it ends.
pub(super) fn lower(scene: &mut Scene, ruler: &Ruler, title: &str, [left, right, bottom]: [f64; 3]) -> f64 {
    let along = ruler.along(left, right);
    scene.rule("edge", [left, bottom], [right, bottom]);
    let mut last = f64::NEG_INFINITY;
    for tick in &ruler.ticks {
        let x = along.place(tick.si);
        scene.rule("edge", [x, bottom], [x, bottom + 4.0]);
        let half = width(&tick.text) / 2.0;
        let at = x.clamp(half, kernel::max(half, scene.size[0] - half));
        if at - half > last + 6.0 {
            scene.words("number", [at, bottom + 16.0], Anchor::Middle, &tick.text);
            last = at + half;
        }
    }
    if title.is_empty() {
        return bottom + 20.0;
    }
    let mut at = bottom + 16.0;
    for line in wrapped(
        &Phrase::words(title),
        kernel::min(right, scene.size[0]) / 1.1,
        System::Metric,
    ) {
        at += LINE;
        let lines = vec![line];
        let place = still(right, at);
        let anchor = Anchor::End;
        scene.add(
            "title",
            false,
            Form::Text {
                at: place,
                anchor,
                lines,
            },
        );
    }
    at + 4.0
}

/// The left scale: numbers, faint lines across, above it what it counts.
/// `above` is how far that stands above the scale.
pub(super) fn left(
    scene: &mut Scene,
    ruler: &Ruler,
    (title, above): (&str, f64),
    [left, right, top, bottom]: [f64; 4],
) {
    let up = ruler.along(bottom, top);
    for tick in &ruler.ticks {
        let y = up.place(tick.si);
        scene.rule("grid", [left, y], [right, y]);
        scene.words("number", [left - 6.0, y + 0.35 * TEXT], Anchor::End, &tick.text);
    }
    scene.rule("edge", [left, top], [left, bottom]);
    scene.words("title", [0.0, top - above], Anchor::Start, title);
}

/// The scale on the right.
pub(super) fn right(scene: &mut Scene, ruler: &Ruler, title: &str, [right, top, bottom]: [f64; 3]) {
    let up = ruler.along(bottom, top);
    scene.rule("edge", [right, top], [right, bottom]);
    for tick in &ruler.ticks {
        let y = up.place(tick.si);
        scene.rule("edge", [right, y], [right + 4.0, y]);
        scene.words("number", [right + 7.0, y + 0.35 * TEXT], Anchor::Start, &tick.text);
    }
    let size = scene.size[0];
    scene.words("title", [size, top - 10.0], Anchor::End, title);
}

/// A second scale's numbers: how they are written, and where they stand on the first.
pub(super) struct Again {
    pub(super) title: String,
    pub(super) ticks: Vec<Tick>,
    pub(super) factor: Amount,
}

impl Again {
    pub(super) fn new(scale: &SecondScale, of: &Ruler, system: System, most: usize) -> Self {
        let factor = scale.factor.si;
        let (low, high) = (of.low * factor, of.high * factor);
        let largest = kernel::max(low.abs(), high.abs());
        let style = of_unit(
            scale.unit.as_deref(),
            scale.shows.dimension,
            Scale::Difference,
            largest,
            system,
        );
        let ticks = if of.function == Function::Log10 {
            ratio_ticks(&style, low, high)
        } else {
            ticks(&style, low, high, most)
        };
        Self {
            title: titled(&written::phrase(&scale.label, system), &style),
            ticks,
            factor: scale.factor.clone(),
        }
    }

    pub(super) fn widest(&self) -> f64 {
        widest(&self.ticks)
    }

    /// Where a tick stands on the first scale, whatever becomes of the factor.
    pub(super) fn place(&self, tick: &Tick, first: Linear) -> super::scene::Coordinate {
        match first.function {
            // at + by (log t − log factor)
            Function::Log10 => Linear {
                at: first.at + first.by * Function::Log10.of(tick.si),
                by: -first.by,
                function: Function::Log10,
            }
            .of(&self.factor),
            _ => Linear {
                at: first.at,
                by: first.by * tick.si,
                function: Function::Over,
            }
            .of(&self.factor),
        }
    }
}
