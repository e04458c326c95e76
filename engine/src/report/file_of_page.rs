//! What every page is as a file: one that fetches nothing, in the same colours on a light screen, a dark one and on paper.

use super::page::policy;
use maud::{DOCTYPE, Markup, PreEscaped, html};

/// Colours as custom properties, letters, and the table whose head a printer repeats: before a page's own styles.
const STYLE: &str = include_str!("file_of_page.css");

/// A file around a body; a script in it runs only where it is this one, an empty one is none.
pub(super) fn file_of_page(title: &str, styles: &[&str], script: &str, body: &Markup) -> String {
    html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                meta http-equiv="Content-Security-Policy" content=(policy(script));
                meta name="color-scheme" content="light dark";
                title { (title) }
                style { (PreEscaped(STYLE)) @for style in styles { (PreEscaped(style)) } }
            }
            body { (body) }
        }
    }
    .into_string()
}
