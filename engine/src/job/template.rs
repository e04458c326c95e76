//! Lines of a job file that wait for a reading: remarks that hold its example, `# wall = "2.1 mm +/- 0.1 mm"`.
//!
//! Nobody has measured what stands in a remark. Whoever measures takes the mark away and writes another value.

use std::ops::Range;

/// A value under a name as such a remark, on several lines where the value has several.
#[must_use]
pub(crate) fn commented(name: &str, toml: &str) -> String {
    let lines = format!("{name} = {toml}");
    let lines: Vec<String> = lines.lines().map(|line| format!("# {line}")).collect();
    lines.join("\n")
}

/// The remark that waits for a reading: its extent in the text, without the end of its last line.
pub(super) fn waiting(text: &str, name: &str) -> Option<Range<usize>> {
    let mut is_section = false;
    let mut start = None;
    let mut at = 0;
    for line in text.split_inclusive('\n') {
        let content = line.trim();
        let here = at..at + line.trim_end().len();
        at += line.len();
        if let Some(start) = start {
            match content {
                "# ]" => return Some(start..here.end),
                // A list that is not closed so is somebody's own remark.
                _ if !content.starts_with('#') => return None,
                _ => continue,
            }
        }
        if content.starts_with('[') {
            is_section = matches!(content, "[measured]" | "[chosen]");
            continue;
        }
        match value_of(content, name).filter(|_| is_section) {
            Some("[") => start = Some(here.start),
            Some(_) => return Some(here),
            None => {}
        }
    }
    None
}

/// What stands after the name and `=` in a remark.
fn value_of<'a>(line: &'a str, name: &str) -> Option<&'a str> {
    let remark = line.strip_prefix('#')?;
    let value = remark
        .strip_prefix(' ')
        .unwrap_or(remark)
        .strip_prefix(name)?
        .trim_start()
        .strip_prefix('=')?;
    Some(value.trim())
}
