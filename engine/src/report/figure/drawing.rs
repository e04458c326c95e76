//! A figure on a page: the door.

use super::super::written;
use super::chart::chart;
use super::redraw::redraw;
use super::scene::Scene;
use super::svg::{WriteNumber, svg};
use super::{bars, dial, pass_map, sketch};
use crate::figure::{Figure, Shown, Table};
use crate::outcome::{Amount, Phrase, Piece, Value};
use crate::quantity::text::System;
use maud::{Markup, PreEscaped, html};

/// How pictures look: colours by custom properties, with values of their own where a page sets none. For a page once.
pub const FIGURE_STYLE: &str = include_str!("figure.css");

/// What a picture is drawn for.
#[derive(Clone, Copy, Debug)]
pub struct Drawing<'a> {
    /// The reader's units.
    pub system: System,
    /// How wide the page is, in the pixels in which text is 12 high: 340 for a telephone, 640 for paper.
    pub width: f64,
    /// The picture's own name on its page: letters, digits and hyphens.
    pub name: &'a str,
    /// For each line of a chart the ends of its band, as a study gives them; empty draws none.
    pub bands: &'a [Vec<[f64; 2]>],
}

/// Whether a figure is a picture; a table is not, see [`figure_table`].
#[must_use]
pub const fn is_drawn(figure: &Figure) -> bool {
    !matches!(figure, Figure::Table(_))
}

/// A figure's title, its numbers in the reader's units.
#[must_use]
pub fn figure_title(shown: &Shown, system: System) -> String {
    written::phrase(shown.figure.title(), system)
}

/// A figure as SVG, and as data from which the page's script redraws it (`redrawFigure`). `write` puts the figure's numbers
/// into its words. The title and the label are not in the picture: they belong beside it. A table gives nothing.
pub fn drawing(shown: &Shown, on: &Drawing<'_>, write: WriteNumber<'_>) -> (Markup, serde_json::Value) {
    let Some(mut scene) = scene(&shown.figure, on) else {
        return (html! {}, serde_json::Value::Null);
    };
    let title = written::phrase(shown.figure.title(), on.system);
    if let Some(label) = &shown.label {
        scene
            .spoken
            .insert(0, format!("{}.", written::phrase(label, on.system)));
    }
    let words = |amount: &Amount| written::amount(amount, on.system);
    (svg(&scene, on.name, &title, &words, write), redraw(&scene))
}

/// A figure as an SVG file of its own, as wide as a page of paper; empty for a table.
#[must_use]
pub fn picture(shown: &Shown, system: System) -> String {
    let on = Drawing {
        system,
        width: 640.0,
        name: "figure",
        bands: &[],
    };
    let (svg, _) = drawing(shown, &on, &mut |_, words| html! { (words) });
    let look = html! { style { (PreEscaped(FIGURE_STYLE)) } }.into_string();
    let svg = svg.into_string();
    match svg.split_once('>') {
        Some((opening, rest)) => format!("{opening}>{look}{rest}"),
        None => svg,
    }
}

fn scene(figure: &Figure, on: &Drawing<'_>) -> Option<Scene> {
    Some(match figure {
        Figure::Chart(found) => chart(found, on.bands, on.system, on.width),
        Figure::Sketch(found) => sketch::sketch(found, on.system, on.width),
        Figure::Dial(found) => dial::dial(found, on.system, on.width),
        Figure::Bars(found) => bars::bars(found, on.system, on.width),
        Figure::PassMap(found) => pass_map::pass_map(found, on.system, on.width),
        Figure::Table(_) => return None,
    })
}

/// A table of a figure as HTML.
pub fn figure_table(table: &Table, system: System, write: WriteNumber<'_>) -> Markup {
    let mut cell = |value: &Value| match value {
        Value::Amount(amount) => html! { td class="number" { (write(amount, written::amount(amount, system))) } },
        Value::Text(text) => html! { td { (phrase(text, system, write)) } },
        other => html! { td { (written::value(other, system)) } },
    };
    let mut rows = Vec::new();
    for row in &table.rows {
        rows.push(row.iter().map(&mut cell).collect::<Vec<Markup>>());
    }
    html! {
        table {
            thead { tr { @for column in &table.columns { th scope="col" { (phrase(column, system, write)) } } } }
            tbody { @for row in &rows { tr { @for cell in row { (cell) } } } }
        }
    }
}

fn phrase(text: &Phrase, system: System, write: WriteNumber<'_>) -> Markup {
    html! {
        @for piece in &text.pieces {
            @match piece {
                Piece::Words(words) => (words),
                Piece::Amount(amount) => (write(amount, written::amount(amount, system))),
            }
        }
    }
}
