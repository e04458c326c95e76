//! A row for each result, used again after its last reader.

use super::clean::Cleaned;
use super::line::{Line, Name, Origin};
use super::rows::Place;

/// Where every name stands.
pub(super) struct Layout {
    /// The place of each name; of a name that nobody reads or makes it means nothing.
    pub(super) places: Vec<Place>,
    /// How many rows there are; one at least, where names that nobody makes stand.
    pub(super) rows: usize,
    /// Rows that hold a known number from the start.
    pub(super) known: Vec<(Place, f64)>,
    /// The inputs that are put in, with their places.
    pub(super) inputs: Vec<(u32, Place)>,
}

/// Inputs and known numbers that are read from rows come first and keep their places, as do wanted results; all others take
/// a row that is free, the one freed last first: it is most likely still near.
pub(super) fn layout(cleaned: &Cleaned, reads_row: impl Fn(&Line, usize) -> bool) -> Layout {
    let mut laying = Laying::new(cleaned.origins.len());
    for (name, origin) in cleaned.origins.iter().enumerate() {
        if let Origin::Input(number) = origin {
            laying.layout.places[name] = laying.take();
            laying.layout.inputs.push((*number, laying.layout.places[name]));
        }
    }
    for name in cleaned.wanted.values() {
        laying.last_reader[*name as usize] = usize::MAX;
        laying.hold(cleaned, *name);
    }
    for (number, line) in cleaned.lines.iter().enumerate() {
        for (position, name) in line.arguments.iter().enumerate() {
            let last = &mut laying.last_reader[*name as usize];
            *last = (*last).max(number);
            if reads_row(line, position) {
                laying.hold(cleaned, *name);
            }
        }
    }
    for (number, line) in cleaned.lines.iter().enumerate() {
        // Taken before the arguments' rows are given back: a result never stands on one of its own arguments.
        for name in &line.results {
            laying.layout.places[*name as usize] = laying.take();
        }
        for name in line.arguments.iter().chain(&line.results) {
            if matches!(cleaned.origins[*name as usize], Origin::Line) {
                laying.give_back(*name, number);
            }
        }
    }
    laying.layout
}

struct Laying {
    layout: Layout,
    free: Vec<Place>,
    /// The last line that reads a name; 0 where there is none, which is no reader's number for a line's result.
    last_reader: Vec<usize>,
    held: Vec<bool>,
}

impl Laying {
    fn new(names: usize) -> Self {
        Self {
            layout: Layout {
                places: vec![0; names],
                rows: 1,
                known: Vec::new(),
                inputs: Vec::new(),
            },
            free: Vec::new(),
            last_reader: vec![0; names],
            held: vec![false; names],
        }
    }

    fn take(&mut self) -> Place {
        self.free.pop().unwrap_or_else(|| {
            self.layout.rows += 1;
            Place::try_from(self.layout.rows - 1).unwrap_or(Place::MAX)
        })
    }

    /// A known number gets a row of its own.
    fn hold(&mut self, cleaned: &Cleaned, name: Name) {
        let Origin::Known(value) = cleaned.origins[name as usize] else {
            return;
        };
        if !std::mem::replace(&mut self.held[name as usize], true) {
            let place = self.take();
            self.layout.places[name as usize] = place;
            self.layout.known.push((place, value));
        }
    }

    /// Frees the row of a name that no later line reads.
    fn give_back(&mut self, name: Name, line: usize) {
        let last = &mut self.last_reader[name as usize];
        if *last <= line {
            // A name may stand twice among the arguments, and is given back once.
            *last = usize::MAX;
            self.free.push(self.layout.places[name as usize]);
        }
    }
}
