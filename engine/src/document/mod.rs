//! Files that people write in TOML: job files, worked cases, manifests. A text in, a tree out that knows the place of
//! each key and value.
//!
//! | file | what it is |
//! |---|---|
//! | `tree.rs` | from a text to keys and values with their places |
//! | `words.rs` | a text, on one line |
//! | `fields.rs` | taking what is known from a table, refusing what is not |

mod fields;
mod tree;
mod words;

pub(crate) use fields::Fields;
pub(crate) use tree::{Content, Item, Key, Lines, parse};
