//! A figure for a terminal: charts, bars, maps and tables in letters; of a sketch and a dial their true numbers.

use super::super::chart::{COLUMNS, Grid, below, ends, scale};
use super::super::layout::length;
use super::super::written;
use super::axis::{Extent, Ruler, heading, style};
use super::chart::rulers;
use super::sketch_words::{measures, named};
use crate::figure::{Bars, Cell, Chart, Curve, Dial, Figure, Kind, PassMap, Shown, Side, Sketch, Table, View};
use crate::kernel;
use crate::outcome::Amount;
use crate::quantity::Scale;
use crate::quantity::text::{Digits, Style, System, write_number};
use crate::study::Verdict;

/// The figure in lines of at most 80 letters, two spaces in.
#[must_use]
pub fn letters(shown: &Shown, system: System) -> Vec<String> {
    let mut lines = vec![format!("  {}", written::phrase(shown.figure.title(), system))];
    lines.extend(match &shown.figure {
        Figure::Chart(found) => chart(found, system),
        Figure::Sketch(found) => sketch(found, system),
        Figure::Dial(found) => dial(found, system),
        Figure::Bars(found) => bars(found, system),
        Figure::PassMap(found) => pass_map(found, system),
        Figure::Table(found) => columns(&cells(found, system)),
    });
    if let Some(label) = &shown.label {
        let label = written::phrase(label, system);
        lines.extend(
            super::super::layout::wrapped(&label, 76)
                .into_iter()
                .map(|line| format!("  {line}")),
        );
    }
    lines.retain(|line| !line.trim().is_empty());
    lines.into_iter().map(|line| line.replace('\u{a0}', " ")).collect()
}

/// What stands for a line of a chart.
fn letter(nth: usize) -> char {
    char::from(b'a' + u8::try_from(nth % 26).unwrap_or(0))
}

fn chart(chart: &Chart, system: System) -> Vec<String> {
    let [x, y] = rulers(chart, system);
    let (across, up) = (x.along(0.0, 1.0), y.along(0.0, 1.0));
    let mut grid = Grid::new(COLUMNS);
    #[allow(clippy::cast_precision_loss, reason = "sixty columns")]
    let share = |column: usize| column as f64 / (COLUMNS - 1) as f64;
    for level in &chart.levels {
        for column in 0..COLUMNS {
            if !level.upright && level.side == Side::Left {
                grid.put(column, up.place(level.at.si), '-');
            }
        }
        if level.upright {
            let at = across.place(level.at.si);
            let column = (0..COLUMNS).min_by(|a, b| (share(*a) - at).abs().total_cmp(&(share(*b) - at).abs()));
            grid.fill(column.unwrap_or(0), (0.0, 1.0), '|');
        }
    }
    for (nth, curve) in chart.curves.iter().enumerate() {
        let side = if curve.side == Side::Left { Some(up) } else { None };
        let Some(up) = side else { continue };
        let places: Vec<[f64; 2]> = curve
            .xs
            .iter()
            .zip(&curve.ys)
            .map(|(x, y)| [across.place(x.si), up.place(y.si)])
            .collect();
        for column in 0..COLUMNS {
            if let Some(height) = at(&places, share(column), curve.kind == Kind::Points) {
                grid.put(
                    column,
                    height,
                    if curve.kind == Kind::Limit { '=' } else { letter(nth) },
                );
            }
        }
    }
    for mark in &chart.marks {
        let wanted = across.place(mark.x.si);
        let near = |column: &usize| (share(*column) - wanted).abs();
        let column = (0..COLUMNS).min_by(|a, b| near(a).total_cmp(&near(b))).unwrap_or(0);
        grid.put(column, up.place(mark.y.si), '+');
    }
    let unit = y.style.shown_unit();
    let [low, high] = [unit.from_si(y.low), unit.from_si(y.high)];
    let number = |height: f64| match chart.y.logarithmic {
        true => ratio(low, high, height),
        false => scale(low + (high - low) * height, (high - low).abs(), ""),
    };
    let mut lines = vec![format!("  {}", heading(&chart.y, &y.style, system))];
    lines.extend(grid.lines(&number));
    lines.push(below(&"-".repeat(COLUMNS)));
    let shown = |ruler: &Ruler, si: f64| {
        scale(
            ruler.style.value(si),
            (ruler.style.value(x.high) - ruler.style.value(x.low)).abs(),
            "",
        )
    };
    let title = heading(&chart.x, &x.style, system);
    lines.push(ends(
        [&shown(&x, x.low), &format!("{title}  {}", shown(&x, x.high))],
        COLUMNS,
    ));
    lines.extend(key(chart, system));
    lines
}

/// What stands so high on a scale of ratios.
fn ratio(low: f64, high: f64, height: f64) -> String {
    let value = low * kernel::pow(high / low, height);
    write_number(value, Digits::Significant(2))
}

/// How high a line is at a place across: where its places go back on themselves, on their first way there.
fn at(places: &[[f64; 2]], across: f64, points: bool) -> Option<f64> {
    let half = 0.5 / 59.0;
    if points {
        let near = places.iter().find(|place| (place[0] - across).abs() <= half);
        return near.map(|place| place[1]);
    }
    let stretch = places.windows(2).find(|pair| {
        let (from, to) = (kernel::min(pair[0][0], pair[1][0]), kernel::max(pair[0][0], pair[1][0]));
        from - half <= across && across <= to + half
    })?;
    let [from, to] = [stretch[0], stretch[1]];
    let part = if to[0] == from[0] {
        0.0
    } else {
        ((across - from[0]) / (to[0] - from[0])).clamp(0.0, 1.0)
    };
    Some(from[1] + (to[1] - from[1]) * part)
}

/// What the letters stand for; what goes by the scale on the right is told in its numbers.
fn key(chart: &Chart, system: System) -> Vec<String> {
    let mut lines = Vec::new();
    let said = |amount: &Amount, axis: &crate::figure::Axis| in_unit(amount, axis.unit.as_deref(), system);
    for (nth, curve) in chart.curves.iter().enumerate() {
        let name = written::phrase(&curve.name, system);
        match (curve.side, &chart.right) {
            (Side::Right, Some(axis)) => {
                let ends = [curve.ys.first(), curve.ys.last()].into_iter().flatten();
                let ends: Vec<String> = ends.map(|amount| said(amount, axis)).collect();
                lines.push(format!("  right  {name}: {}", ends.join(" to ")));
            }
            _ if curve.kind == Kind::Limit => lines.push(format!("  =  {name}")),
            _ => lines.push(format!("  {}  {name}{}", letter(nth), flat(curve))),
        }
    }
    for level in &chart.levels {
        let axis = if level.upright { &chart.x } else { &chart.y };
        let axis = chart
            .right
            .as_ref()
            .filter(|_| level.side == Side::Right)
            .unwrap_or(axis);
        let sign = if level.upright { '|' } else { '-' };
        let name = written::phrase(&level.name, system);
        lines.push(format!("  {sign}  {name}, {}", said(&level.at, axis)));
    }
    for mark in &chart.marks {
        let name = written::phrase(&mark.name, system);
        lines.push(format!(
            "  +  {name}, {} at {}",
            said(&mark.y, &chart.y),
            said(&mark.x, &chart.x)
        ));
    }
    lines
}

fn flat(curve: &Curve) -> &'static str {
    match curve.kind {
        Kind::Old => " (as it was)",
        _ => "",
    }
}

fn in_unit(amount: &Amount, unit: Option<&str>, system: System) -> String {
    let style = amount.style.clone().or_else(|| unit.map(str::to_owned));
    let amount = Amount {
        style,
        ..amount.clone()
    };
    written::amount(&amount, system)
}

fn sketch(sketch: &Sketch, system: System) -> Vec<String> {
    let seen = match sketch.view {
        View::Side => "  (a sketch, seen from the left; in numbers:)",
        View::Plan => "  (a sketch, seen from above; in numbers:)",
        View::Rear => "  (a sketch, seen from behind; in numbers:)",
        View::Section => "  (a sketch; in numbers:)",
    };
    let measures = measures(sketch, system).into_iter().map(|line| format!("  {line}"));
    std::iter::once(seen.to_owned()).chain(measures).collect()
}

fn dial(dial: &Dial, system: System) -> Vec<String> {
    let number = |amount: &Amount| written::amount(amount, system);
    let hands = dial.hands.iter().map(|hand| {
        let length = hand.length.as_ref().map(|length| format!(", {} long", number(length)));
        let said = format!("{}{}", number(&hand.angle), length.unwrap_or_default());
        format!("  {}", named(&hand.name, "hand", said, system))
    });
    let arcs = dial.arcs.iter().map(|arc| {
        let said = format!("{} to {}", number(&arc.from), number(&arc.to));
        format!("  {}", named(&arc.name, "arc", said, system))
    });
    hands.chain(arcs).collect()
}

/// Letters of the longest bar.
const LONGEST: usize = 36;
/// How parts of a bar are told apart.
const FILLINGS: [char; 8] = ['/', 'o', '.', 'x', '=', '+', '*', '%'];
/// A bar that is no stack of parts.
const WHOLE: char = '#';

fn bars(bars: &Bars, system: System) -> Vec<String> {
    let sizes = bars
        .bars
        .iter()
        .flat_map(|bar| bar.parts.iter().flat_map(|part| [part.from.si, part.to.si]));
    let limits = bars.bars.iter().filter_map(|bar| bar.limit.as_ref());
    let limits = limits
        .chain(bars.limits.iter().map(|(_, limit)| limit))
        .map(|limit| limit.si);
    // Temperatures have no zero to begin at.
    let points = bars.scale.kind.is_some_and(|(_, scale)| scale == Scale::Point);
    let zero = if points { None } else { Some(0.0) };
    let Extent { low, high } = Extent::of(sizes.chain(limits).chain(zero), false);
    #[allow(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        clippy::cast_precision_loss,
        reason = "clamped"
    )]
    let column = |si: f64| {
        let share = if high > low { (si - low) / (high - low) } else { 0.0 };
        (share * LONGEST as f64).round().clamp(0.0, LONGEST as f64) as usize
    };
    let unit = bars.scale.unit.as_deref();
    let mut parts: Vec<&str> = Vec::new();
    let mut rows = Vec::new();
    for bar in &bars.bars {
        let mut letters = vec![' '; LONGEST + 1];
        for part in &bar.parts {
            if !part.name.is_empty() && !parts.contains(&part.name.as_str()) {
                parts.push(&part.name);
            }
            let nth = parts.iter().position(|name| *name == part.name);
            let filling = nth.map_or(WHOLE, |nth| FILLINGS[nth % FILLINGS.len()]);
            let (from, to) = (
                column(kernel::min(part.from.si, part.to.si)),
                column(kernel::max(part.from.si, part.to.si)),
            );
            letters
                .iter_mut()
                .take(to)
                .skip(from)
                .for_each(|letter| *letter = filling);
        }
        for limit in bar.limit.iter().chain(bars.limits.iter().map(|(_, limit)| limit)) {
            if let Some(letter) = letters.get_mut(column(limit.si)) {
                *letter = '|';
            }
        }
        let size = match (bars.range(bar), bar.parts.as_slice()) {
            (Some([from, to]), _) => format!("{} to {}", in_unit(from, unit, system), in_unit(to, unit, system)),
            (None, [only]) => in_unit(&only.size, unit, system),
            (None, [.., last]) => in_unit(&last.to, unit, system),
            (None, []) => String::new(),
        };
        rows.push(vec![
            bar.name.clone(),
            letters.into_iter().collect::<String>().trim_end().to_owned(),
            size,
        ]);
    }
    let mut lines = columns(&rows);
    for (nth, name) in parts.iter().enumerate().filter(|(_, name)| !name.is_empty()) {
        lines.push(format!("  {}  {name}", FILLINGS[nth % FILLINGS.len()]));
    }
    if bars.bars.iter().any(|bar| bar.limit.is_some()) {
        lines.push("  |  limit of this bar".to_owned());
    }
    for (name, limit) in &bars.limits {
        lines.push(format!(
            "  |  {}, {}",
            written::phrase(name, system),
            in_unit(limit, unit, system)
        ));
    }
    lines
}

fn pass_map(map: &PassMap, system: System) -> Vec<String> {
    let written_in = |axis: &crate::figure::Axis, places: &[Amount]| -> Vec<String> {
        let largest = places.iter().map(|place| place.si.abs()).fold(0.0, kernel::max);
        let style: Style = style(axis, largest, system);
        places.iter().map(|place| style.number(place.si, None)).collect()
    };
    let (xs, ys) = (written_in(&map.x, &map.xs), written_in(&map.y, &map.ys));
    let sign = |cell: &Cell| match cell {
        Cell::Margin(margin) if margin.si >= 0.0 => "-",
        Cell::Judged(Verdict::Holds) => "-",
        Cell::Margin(_) | Cell::Judged(Verdict::Fails) => "#",
        Cell::Judged(_) => "?",
        Cell::Refused => "x",
    };
    let title = |axis: &crate::figure::Axis, places: &[Amount]| {
        let largest = places.iter().map(|place| place.si.abs()).fold(0.0, kernel::max);
        heading(axis, &style(axis, largest, system), system)
    };
    let mut lines = vec![format!("  {}", title(&map.y, &map.ys))];
    for (row, y) in map.rows.iter().zip(&ys).rev() {
        let signs: Vec<&str> = row.iter().map(sign).collect();
        lines.push(format!("{y:>14} | {}", signs.join(" ")));
    }
    let (first, last) = (
        xs.first().map_or("", String::as_str),
        xs.last().map_or("", String::as_str),
    );
    lines.push(format!("{:14}   {first} to {last}  {}", "", title(&map.x, &map.xs)));
    lines.push("  - all holds, # something fails, ? unsure, x cannot be calculated".to_owned());
    for mark in &map.marks {
        let (x, y) = (
            in_unit(&mark.x, map.x.unit.as_deref(), system),
            in_unit(&mark.y, map.y.unit.as_deref(), system),
        );
        lines.push(format!("  {}: {x}, {y}", written::phrase(&mark.name, system)));
    }
    lines
}

/// A table's head and its rows in words.
pub(in crate::report) fn cells(table: &Table, system: System) -> Vec<Vec<String>> {
    let head = table
        .columns
        .iter()
        .map(|column| written::phrase(column, system))
        .collect();
    let rows = table.rows.iter();
    let rows = rows.map(|row| row.iter().map(|cell| written::cell(cell, system)).collect());
    std::iter::once(head).chain(rows).collect()
}

/// Cells in columns, two spaces in.
fn columns(rows: &[Vec<String>]) -> Vec<String> {
    let count = rows.iter().map(Vec::len).max().unwrap_or(0);
    let widest = |column: usize| {
        rows.iter()
            .filter_map(|row| row.get(column))
            .map(|cell| length(cell))
            .max()
    };
    let widths: Vec<usize> = (0..count).map(|column| widest(column).unwrap_or(0)).collect();
    let line = |row: &Vec<String>| {
        let cells = row
            .iter()
            .zip(&widths)
            .map(|(cell, width)| format!("{cell}{}", " ".repeat(width - length(cell))));
        format!("  {}", cells.collect::<Vec<_>>().join("   "))
            .trim_end()
            .to_owned()
    };
    rows.iter().map(line).collect()
}
