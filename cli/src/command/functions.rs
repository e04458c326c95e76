//! `functions`: what scripts may call.

use crate::arguments::Common;
use crate::listing::{Listing, matches};
use crankline_engine::script::Library;
use crankline_engine::source::NoSources;
use std::rc::Rc;

/// Functions whose signature or description holds the pattern.
pub(crate) fn run(pattern: Option<&str>, common: &Common) -> String {
    let library = Library::new(Rc::new(NoSources));
    let found = library.functions().described();
    // Units are a list of their own.
    let found = found.filter(|function| function.concept != "units");
    let found = found.filter(|function| matches(pattern, &[&function.signature, &function.about]));
    let mut rows: Vec<(String, Vec<String>)> = Vec::new();
    for function in found {
        let row = (
            function.concept.to_owned(),
            vec![function.signature.clone(), function.about.clone()],
        );
        // One function for several types stands here once.
        if !rows.contains(&row) {
            rows.push(row);
        }
    }
    let listing = Listing {
        columns: &["function", "about"],
        rows,
        none: format!("no function has `{}` in its name or description", pattern.unwrap_or("")),
    };
    listing.write(common.format)
}
