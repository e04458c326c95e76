//! Lists in text, Markdown and JSON.

use crate::arguments::Format;
use crankline_engine::report::{AID, plain, wrapped};
use serde_json::{Map, Value};

/// Columns of a terminal.
pub(crate) const WIDTH: usize = 80;

/// A text beside a word in the margin, which is so many columns wide.
pub(crate) fn in_margin(margin: usize, word: &str, text: &str) -> String {
    let lines = wrapped(text, WIDTH - margin).into_iter().enumerate();
    let lines = lines.map(|(nth, line)| {
        let word = if nth == 0 { word } else { "" };
        let line = format!("  {word:<width$}{line}", width = margin - 2);
        format!("{}\n", line.trim_end())
    });
    lines.collect()
}

/// Rows under headings: in text, the first column stands in the margin, the others follow it, broken at spaces.
#[derive(Debug)]
pub(crate) struct Listing {
    /// Names of the columns, as in JSON.
    pub(crate) columns: &'static [&'static str],
    /// Heading and cells of each row.
    pub(crate) rows: Vec<(String, Vec<String>)>,
    /// Said where there is no row.
    pub(crate) none: String,
}

impl Listing {
    /// Written in a format; what people read ends with what it is not.
    pub(crate) fn write(&self, format: Format) -> String {
        match format {
            Format::Text | Format::Csv | Format::Html => format!("{}\n{AID}\n", self.text()),
            Format::Markdown => format!("{}\n*{AID}*\n", self.markdown()),
            Format::Json => self.json(),
        }
    }

    fn text(&self) -> String {
        if self.rows.is_empty() {
            return format!("{}\n", self.none);
        }
        let longest = self.rows.iter().map(|(_, cells)| length(cells.first()));
        let margin = longest.max().unwrap_or(0).min(30) + 4;
        let mut text = String::new();
        let mut heading = "";
        for (own, cells) in &self.rows {
            if own != heading {
                let gap = if text.is_empty() { "" } else { "\n" };
                text.push_str(&format!("{gap}{own}\n"));
                heading = own;
            }
            let first = cells.first().map_or("", String::as_str);
            let rest: Vec<&str> = cells
                .iter()
                .skip(1)
                .map(String::as_str)
                .filter(|cell| !cell.is_empty())
                .collect();
            let lines = wrapped(&rest.join("; "), WIDTH - margin);
            let fits = first.chars().count() + 4 <= margin;
            if !fits {
                text.push_str(&format!("  {first}\n"));
            }
            for (nth, line) in lines.iter().enumerate() {
                let left = if nth == 0 && fits {
                    format!("  {first}")
                } else {
                    String::new()
                };
                let pad = margin.saturating_sub(left.chars().count());
                text.push_str(format!("{left}{}{line}", " ".repeat(pad)).trim_end());
                text.push('\n');
            }
            if lines.is_empty() && fits {
                text.push_str(&format!("  {first}\n"));
            }
        }
        text
    }

    fn markdown(&self) -> String {
        let mut text = format!("| {} |\n", self.columns.join(" | "));
        text.push_str(&format!("|{}\n", "---|".repeat(self.columns.len())));
        for (_, cells) in &self.rows {
            let cells: Vec<String> = cells.iter().map(|cell| plain(cell)).collect();
            text.push_str(&format!("| {} |\n", cells.join(" | ")));
        }
        text
    }

    fn json(&self) -> String {
        let row = |(heading, cells): &(String, Vec<String>)| {
            let mut object = Map::new();
            object.insert("group".to_owned(), Value::from(heading.as_str()));
            for (column, cell) in self.columns.iter().zip(cells) {
                object.insert((*column).to_owned(), Value::from(cell.as_str()));
            }
            Value::Object(object)
        };
        pretty(&Value::Array(self.rows.iter().map(row).collect()))
    }
}

/// JSON on several lines.
pub(crate) fn pretty(value: &Value) -> String {
    serde_json::to_string_pretty(value).unwrap_or_else(|_| value.to_string()) + "\n"
}

/// Whether any of these texts holds the pattern, whatever the case of its letters; no pattern is in all.
pub(crate) fn matches(pattern: Option<&str>, texts: &[&str]) -> bool {
    let Some(pattern) = pattern.map(str::to_lowercase) else {
        return true;
    };
    texts.iter().any(|text| text.to_lowercase().contains(&pattern))
}

fn length(text: Option<&String>) -> usize {
    text.map_or(0, |text| text.chars().count())
}
