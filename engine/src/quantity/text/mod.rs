//! Reading quantities from what a person writes, and writing them for people.
//!
//! | file | what it is |
//! |---|---|
//! | `read.rs` | a whole reading: value or vector, ±, words for the sign |
//! | `amount.rs` | a number with its unit, feet and inches, degrees and minutes |
//! | `number.rs` | decimals and fractions |
//! | `vector.rs` | three numbers in brackets |
//! | `sign_word.rs` | words that say the sign |
//! | `scan.rs` | a place in a text |
//! | `style.rs` | how a quantity is to be written, as read from `as` |
//! | `usual.rs` | the unit in which a kind of quantity is usually shown |
//! | `write.rs` | writing in a style |
//! | `decimal.rs` | numbers as rounded decimal digits |

mod amount;
mod decimal;
mod number;
mod read;
mod scan;
mod sign_word;
mod style;
mod usual;
mod vector;
mod write;

pub use decimal::{Digits, digits_for, write_number};
pub use read::{Reading, Spread, Values, read, read_with_signs};
pub use style::Style;
pub use usual::{System, usual_unit, usual_units};
pub use write::shown;
