//! Every picture of the shipped scripts as files, for somebody to look at.

use crate::scripts::{Trial, with_examples};
use crankline_engine::figure::{Figure, Shown};
use crankline_engine::quantity::text::System;
use crankline_engine::report::{Drawing, FIGURE_STYLE, drawing, figure_table, is_drawn};
use crankline_scripts::script_names;
use std::fmt::Write as _;

/// `PICTURES=/tmp/pictures cargo test -p crankline-tests -- --ignored pictures_to_look_at`: pages for each script, wide and
/// narrow; with `SCRIPTS=joint-angles,road-speed` for these.
#[test]
#[ignore = "for somebody to look at"]
fn pictures_to_look_at() {
    let folder = std::env::var("PICTURES").unwrap();
    std::fs::create_dir_all(&folder).unwrap();
    let wanted = std::env::var("SCRIPTS").unwrap_or_default();
    let wanted: Vec<&str> = wanted.split(',').collect();
    for name in script_names() {
        if !wanted.iter().any(|part| name.contains(part)) {
            continue;
        }
        let trial = with_examples(&name);
        for (which, width) in [("wide", 640.0), ("narrow", 340.0)] {
            let figures = &trial.outcome().figures;
            if figures.is_empty() {
                continue;
            }
            let look = format!("body{{margin:10px;font:14px sans-serif}} h2{{font-size:15px}} {FIGURE_STYLE}");
            let mut page = format!("<!doctype html><meta charset=utf-8><style>{look}</style><h1>{name}</h1>");
            for (nth, shown) in figures.iter().enumerate() {
                let bands = trial.bands.get(&(0, nth)).map_or(&[][..], Vec::as_slice);
                let (title, body) = picture(shown, &format!("f{nth}"), width, bands);
                write!(page, "<h2>{title}</h2>{body}").unwrap();
            }
            let file = format!("{folder}/{}-{which}.html", name.replace('/', "-"));
            std::fs::write(file, page).unwrap();
        }
    }
}

/// Every picture of the only run of a trial, with what redraws it.
pub(super) fn drawn(trial: &Trial, width: f64) -> Vec<(String, serde_json::Value)> {
    let figures = trial.outcome().figures.iter().enumerate();
    let pictures = figures.filter(|(_, shown)| is_drawn(&shown.figure));
    let draw = |(nth, shown): (usize, &Shown)| {
        let on = Drawing {
            system: System::Metric,
            width,
            name: &format!("f{nth}"),
            bands: trial.bands.get(&(0, nth)).map_or(&[], Vec::as_slice),
        };
        let (svg, scene) = drawing(shown, &on, &mut |_, text| maud::html! { (text) });
        (svg.into_string(), scene)
    };
    pictures.map(draw).collect()
}

fn picture(shown: &Shown, name: &str, width: f64, bands: &[Vec<[f64; 2]>]) -> (String, String) {
    let title = shown.figure.title().in_words(|_| "…".to_owned());
    let system = System::Metric;
    let body = match &shown.figure {
        Figure::Table(table) => figure_table(table, system, &mut |_, text| maud::html! { (text) }),
        _ => {
            let on = Drawing {
                system,
                width,
                name,
                bands,
            };
            drawing(shown, &on, &mut |_, text| maud::html! { (text) }).0
        }
    };
    (title, body.into_string())
}
