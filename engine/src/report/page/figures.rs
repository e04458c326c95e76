//! The figures of a run: pictures whose shapes follow the numbers, and tables.

use super::pen::Pen;
use super::pictures::shortened;
use super::run::heading;
use crate::figure::{Figure, Shown};
use crate::report::figure::{Drawing, drawing, figure_table};
use crate::report::sheet::SheetRun;
use crate::study::Bands;
use maud::{Markup, PreEscaped, html};

/// Between a telephone's width and half a screen's: letters stay readable on both.
const WIDTH: f64 = 420.0;

/// All figures of a run.
pub(super) fn figures(pen: &Pen<'_>, number: usize, run: &SheetRun<'_>, bands: &Bands) -> Markup {
    let figures = &run.outcome.figures;
    if figures.is_empty() {
        return html! {};
    }
    let reached = pen.carried.reached.get(number);
    html! {
        (heading(pen, "Figures"))
        div.figures { @for (nth, shown) in figures.iter().enumerate() {
            @let at = pen.position(number, reached.and_then(|reached| reached.figures.get(nth)));
            @let bands = bands.get(&(number, nth)).map_or([].as_slice(), Vec::as_slice);
            figure data-at=[at] {
                figcaption {
                    b { (pen.phrase(shown.figure.title())) }
                    @if let Some(label) = &shown.label { " " (pen.phrase(label)) }
                }
                (one(pen, shown, bands))
            }
        } }
    }
}

fn one(pen: &Pen<'_>, shown: &Shown, bands: &[Vec<[f64; 2]>]) -> Markup {
    if let Figure::Table(table) = &shown.figure {
        return html! {
            div.wide tabindex="0" role="group" aria-label="Table" {
                (figure_table(table, pen.sheet.system, &mut |amount, _| pen.amount(amount)))
            }
        };
    }
    let name = pen.next_picture();
    let on = Drawing {
        system: pen.sheet.system,
        width: WIDTH,
        name: &name,
        bands,
    };
    let (picture, scene) = drawing(shown, &on, &mut |amount, words| pen.in_picture(amount, &words));
    pen.keep_picture(shortened(&scene, &pen.carried.places));
    html! { (PreEscaped(lean(&picture.into_string(), &name))) }
}

/// The same picture in fewer letters: without a frame that keeps nothing, and with its shapes closed in themselves.
/// Text in it has no such marks, its own are escaped.
fn lean(picture: &str, name: &str) -> String {
    let mut lean = picture.to_owned();
    if !lean.contains(&format!("url(#{name}-frame)")) {
        lean = without(&lean, &format!("<clipPath id=\"{name}-frame\""), "</clipPath>");
    }
    for element in ["path", "rect", "circle", "ellipse"] {
        lean = lean.replace(&format!("></{element}>"), "/>");
    }
    for class in ["edge", "grid"] {
        lean = joined(&lean, class);
    }
    // What is so by default need not be said.
    lean.replace("<defs></defs>", "").replace(" text-anchor=\"start\"", "")
}

/// Paths of a class that follow one another and do not move, as one.
fn joined(picture: &str, class: &str) -> String {
    let start = format!("<path class=\"{class}\" d=\"");
    let mut pieces = picture.split(&start);
    let mut joined = pieces.next().unwrap_or_default().to_owned();
    let mut is_path_before = false;
    for piece in pieces {
        let Some((path, after)) = piece.split_once('"') else {
            continue;
        };
        if is_path_before {
            joined.truncate(joined.len().saturating_sub("\"/>".len()));
        } else {
            joined.push_str(&start);
        }
        joined.push_str(path);
        joined.push('"');
        joined.push_str(after);
        is_path_before = after == "/>";
    }
    joined
}

/// A text without what stands from one mark to the end of the next other.
fn without(text: &str, from: &str, to: &str) -> String {
    let Some((before, rest)) = text.split_once(from) else {
        return text.to_owned();
    };
    let after = rest.split_once(to).map_or("", |(_, after)| after);
    format!("{before}{after}")
}
