//! A sweep as reports have it.

use super::super::sheet::Sheet;
use crate::outcome::{Amount, Phrase};
use crate::study::Swept;

/// A sweep and what it was made of.
pub struct SweptSheet<'a> {
    /// The runs at the first point: names, checks, units.
    pub sheet: &'a Sheet<'a>,
    /// The swept inputs, in order: ranges first.
    pub axes: Vec<AxisSheet>,
    /// The watched numbers: name as asked for, label, and how they are written.
    pub watched: Vec<WatchedSheet>,
    /// One sweep for each combination of choices.
    pub parts: Vec<PartSheet>,
}

/// A swept input.
#[derive(Clone, Debug)]
pub struct AxisSheet {
    /// Its name.
    pub name: String,
    /// Its first value, and how it is written.
    pub from: Amount,
    /// Its last value, SI units.
    pub to: f64,
}

/// A watched number.
#[derive(Clone, Debug)]
pub struct WatchedSheet {
    /// Its name, as it was asked for.
    pub name: String,
    /// What it is.
    pub label: Option<Phrase>,
    /// How it is written.
    pub amount: Amount,
}

/// The sweep under one combination of choices.
#[derive(Clone, Debug)]
pub struct PartSheet {
    /// The choices, each with its input's name.
    pub chosen: Vec<(String, String)>,
    /// What came.
    pub swept: Swept,
}
