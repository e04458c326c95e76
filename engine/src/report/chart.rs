//! A curve in letters, for a terminal.

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

const COLUMNS: usize = 60;
const ROWS: usize = 11;
/// Columns of the scale on the left.
const SCALE: usize = 14;

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
    let mut grid = vec![vec![' '; columns]; ROWS];
    for column in 0..columns {
        let at = place(column);
        let row = |value: f64| row_of(value, low, high);
        if let (Some(Some(from)), Some(Some(to))) = (curve.lows.get(at), curve.highs.get(at)) {
            for line in &mut grid[row(*to)..=row(*from)] {
                line[column] = ':';
            }
        }
        if let Some(Some(value)) = curve.values.get(at) {
            grid[row(*value)][column] = '*';
        }
    }
    for (number, line) in grid.iter().enumerate() {
        #[allow(clippy::cast_precision_loss, reason = "eleven rows")]
        let value = high - (high - low) * number as f64 / (ROWS - 1) as f64;
        let label = if number % 5 == 0 {
            scale(value, high - low, &curve.unit)
        } else {
            String::new()
        };
        let line: String = line.iter().collect();
        lines.push(format!("{label:>SCALE$} | {}", line.trim_end()));
    }
    let below: String = (0..columns)
        .filter_map(|column| curve.below.get(place(column)))
        .collect();
    lines.push(format!("{:SCALE$} + {below}", ""));
    let [first, last] = &curve.ends;
    let room = columns.saturating_sub(first.chars().count());
    lines.push(format!("{:SCALE$}   {first}{last:>room$}", ""));
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
fn row_of(value: f64, low: f64, high: f64) -> usize {
    let share = (high - value) / (high - low);
    ((share * (ROWS - 1) as f64).round() as usize).min(ROWS - 1)
}

/// A number of the scale, to a hundredth of its span.
fn scale(value: f64, span: f64, unit: &str) -> String {
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
