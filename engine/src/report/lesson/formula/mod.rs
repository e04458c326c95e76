//! A formula as the script writes it, made readable for a class.
//!
//! | file | what it is |
//! |---|---|
//! | `expression.rs` | what a formula is made of |
//! | `lexeme.rs`, `parse.rs` | from the script's text, or the text with numbers put in, to that |
//! | `letters.rs` | as a line of text: powers raised, roots in words |
//! | `mathml.rs` | laid out, for a page |
//!
//! The script's own text is the only source: nothing here knows what a function computes.

mod expression;
mod letters;
mod lexeme;
mod mathml;
mod parse;

pub(super) use expression::Expression;
pub(super) use letters::letters;
pub(super) use mathml::laid_out;
pub(super) use parse::{of_phrase, of_script};
