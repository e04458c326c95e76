//! Curves in letters, for a terminal: what a sweep shows and what a script's chart shows are drawn by one routine.

use super::layout::length;

/// A curve over equally spaced places.
#[derive(Clone, Debug)]
pub(super) struct Curve {
    pub(super) title: String,
    pub(super) unit: String,
    /// Values in that unit; none where there is none.
    pub(super) values: Vec<Option<f64>>,
    /// The lower ends of the band.
    pub(super) lows: Vec<Option<f64>>,
    /// The upper ends.
    pub(super) highs: Vec<Option<f64>>,
    /// What stands at the first place and the last.
    pub(super) ends: [String; 2],
    /// A letter below each place.
    pub(super) below: Vec<char>,
}

pub(super) const COLUMNS: usize = 60;
const ROWS: usize = 11;
/// Columns of the scale on the left.
const SCALE: usize = 14;

/// Columns and rows of letters beside a scale.
#[derive(Clone, Debug)]
pub(super) struct Grid {
    letters: Vec<Vec<char>>,
}

impl Grid {
    pub(super) fn new(columns: usize) -> Self {
        Self {
            letters: vec![vec![' '; columns]; ROWS],
        }
    }

    /// Puts a letter in a column, so high: 0 the bottom, 1 the top. What lies beyond is left out.
    pub(super) fn put(&mut self, column: usize, height: f64, letter: char) {
        if !(-0.05..=1.05).contains(&height) {
            return;
        }
        if let Some(place) = self.letters.get_mut(row_of(height)).and_then(|row| row.get_mut(column)) {
            *place = letter;
        }
    }

    /// The same from one height to another.
    pub(super) fn fill(&mut self, column: usize, (from, to): (f64, f64), letter: char) {
        let (lower, upper) = (row_of(from), row_of(to));
        for row in self.letters.iter_mut().take(lower + 1).skip(upper) {
            if let Some(place) = row.get_mut(column) {
                *place = letter;
            }
        }
    }

    /// The rows with their scale: what stands at which height, asked at the top, at the middle and at the bottom.
    pub(super) fn lines(&self, label: &dyn Fn(f64) -> String) -> Vec<String> {
        let row = |(number, letters): (usize, &Vec<char>)| {
            #[allow(clippy::cast_precision_loss, reason = "eleven rows")]
            let height = 1.0 - number as f64 / (ROWS - 1) as f64;
            let label = if number % 5 == 0 { label(height) } else { String::new() };
            let letters: String = letters.iter().collect();
            format!("{label:>SCALE$} | {}", letters.trim_end())
        };
        self.letters.iter().enumerate().map(row).collect()
    }
}

/// The line below a grid.
pub(super) fn below(letters: &str) -> String {
    format!("{:SCALE$} + {letters}", "")
}

/// What stands at the first column and at the last.
pub(super) fn ends([first, last]: [&str; 2], columns: usize) -> String {
    let room = columns.saturating_sub(length(first));
    format!("{:SCALE$}   {first}{last:>room$}", "")
}

/// The curve as lines: `*` the value, `:` its band, a scale on the left, the row of letters below.
pub(super) fn chart(curve: &Curve) -> Vec<String> {
    let all = curve.values.iter().chain(&curve.lows).chain(&curve.highs).flatten();
    let (low, high) = all.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), value| {
        (
            if *value < low { *value } else { low },
            if *value > high { *value } else { high },
        )
    });
    let mut lines = vec![format!("  {}", curve.title)];
    if !low.is_finite() || !high.is_finite() {
        lines.push("  nothing to draw".to_owned());
        return lines;
    }
    let (low, high) = padded(low, high);
    let count = curve.values.len();
    let columns = count.clamp(1, COLUMNS);
    let place = |column: usize| {
        if columns > 1 {
            column * (count - 1) / (columns - 1)
        } else {
            0
        }
    };
    let height = |value: f64| (value - low) / (high - low);
    let mut grid = Grid::new(columns);
    for column in 0..columns {
        let at = place(column);
        if let (Some(Some(from)), Some(Some(to))) = (curve.lows.get(at), curve.highs.get(at)) {
            grid.fill(column, (height(*from), height(*to)), ':');
        }
        if let Some(Some(value)) = curve.values.get(at) {
            grid.put(column, height(*value), '*');
        }
    }
    let scale = |height: f64| scale(high - (high - low) * (1.0 - height), high - low, &curve.unit);
    lines.extend(grid.lines(&scale));
    let letters: String = (0..columns)
        .filter_map(|column| curve.below.get(place(column)))
        .collect();
    lines.push(below(&letters));
    let [first, last] = &curve.ends;
    lines.push(ends([first, last], columns));
    lines
}

/// A little room above and below; something to draw in where all is one value.
fn padded(low: f64, high: f64) -> (f64, f64) {
    if high > low {
        return (low, high);
    }
    let room = if low == 0.0 { 1.0 } else { low.abs() / 10.0 };
    (low - room, high + room)
}

#[allow(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    clippy::cast_precision_loss,
    reason = "clamped to the rows"
)]
fn row_of(height: f64) -> usize {
    (((1.0 - height) * (ROWS - 1) as f64).round() as usize).min(ROWS - 1)
}

/// A number of the scale, to a hundredth of its span.
pub(super) fn scale(value: f64, span: f64, unit: &str) -> String {
    let shown = format!("{span:e}");
    let exponent: i32 = shown
        .split_once('e')
        .and_then(|(_, exponent)| exponent.parse().ok())
        .unwrap_or(0);
    let decimals = usize::try_from(2 - exponent).unwrap_or(0).min(9);
    let number = format!("{value:.decimals$}");
    match unit {
        "" => number,
        "°" => format!("{number}°"),
        unit => format!("{number} {unit}"),
    }
}
