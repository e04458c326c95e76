//! Columns and line breaks.

/// Columns of a terminal that nobody has widened.
pub(super) const WIDTH: usize = 80;
/// Where the words begin that stand beside a verdict.
pub(super) const TEXT_COLUMN: usize = 13;

/// Text broken into lines of at most `width` characters, at spaces; a longer word stands alone and sticks out.
#[must_use]
pub fn wrapped(text: &str, width: usize) -> Vec<String> {
    let mut lines = Vec::new();
    for paragraph in text.lines() {
        let mut line = String::new();
        for word in paragraph.split_whitespace() {
            let long = length(&line) + 1 + length(word) > width;
            if long && !line.is_empty() {
                lines.push(std::mem::take(&mut line));
            }
            if !line.is_empty() {
                line.push(' ');
            }
            line.push_str(word);
        }
        lines.push(line);
    }
    lines
}

/// Characters of a text.
pub(super) fn length(text: &str) -> usize {
    text.chars().count()
}

/// A page being written.
#[derive(Debug, Default)]
pub(super) struct Page {
    pub(super) text: String,
}

impl Page {
    /// A line as it is.
    pub(super) fn line(&mut self, line: &str) {
        self.text.push_str(line.trim_end());
        self.text.push('\n');
    }

    /// An empty line, unless there is one.
    pub(super) fn gap(&mut self) {
        if !self.text.is_empty() && !self.text.ends_with("\n\n") {
            self.text.push('\n');
        }
    }

    /// A text, broken into lines that begin in `column`.
    pub(super) fn block(&mut self, column: usize, text: &str) {
        for line in wrapped(text, WIDTH.saturating_sub(column)) {
            self.line(&format!("{}{line}", " ".repeat(column)));
        }
    }

    /// A word in the margin (`shown` is the same with colour) with a text beside it.
    pub(super) fn marked(&mut self, word: &str, shown: &str, text: &str) {
        let lines = wrapped(text, WIDTH - TEXT_COLUMN);
        let gap = TEXT_COLUMN.saturating_sub(2 + length(word)).max(1);
        let first = lines.first().map_or("", String::as_str);
        self.line(&format!("  {shown}{}{first}", " ".repeat(gap)));
        for line in lines.iter().skip(1) {
            self.line(&format!("{}{line}", " ".repeat(TEXT_COLUMN)));
        }
    }

    /// Cells in columns of these widths, from the text column on; one below the other where they do not fit.
    pub(super) fn cells(&mut self, cells: &[(&str, usize)]) {
        let fits = cells.split_last().is_none_or(|((last, _), before)| {
            let columns = before.iter().map(|(_, width)| width).sum::<usize>();
            before.iter().all(|(cell, width)| length(cell) + 2 <= *width)
                && TEXT_COLUMN + columns + length(last) <= WIDTH
        });
        if !fits {
            for (cell, _) in cells {
                self.block(TEXT_COLUMN, cell);
            }
            return;
        }
        let mut line = " ".repeat(TEXT_COLUMN);
        for (cell, width) in cells {
            line.push_str(cell);
            line.push_str(&" ".repeat(width.saturating_sub(length(cell))));
        }
        self.line(&line);
    }
}
