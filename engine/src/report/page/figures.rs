//! The figures of a run: pictures whose shapes follow the numbers, and tables.

use super::pen::Pen;
use super::run::heading;
use crate::figure::{Figure, Shown};
use crate::report::figure::{Drawing, drawing, figure_table};
use crate::report::sheet::SheetRun;
use crate::study::Bands;
use maud::{Markup, html};

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
            div.wide tabindex="0" role="region" aria-label="Table" {
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
    let slots = shown.figure.amounts().into_iter().filter_map(|amount| amount.slot);
    pen.keep_picture(scene, slots);
    picture
}
