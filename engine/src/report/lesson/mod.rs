//! A calculation shown line by line (words, letters, numbers, answer), and exercise sheets.
//!
//! | file | what it is |
//! |---|---|
//! | `line.rs` | what a lesson is made of, as plain data |
//! | `build.rs` | from runs to a lesson |
//! | `formula/` | formulas in letters: from the script's text to a line of words, or laid out |
//! | `names.rs` | what the names in a formula stand for, where their numbers came from |
//! | `answer.rs` | what comes out, with all digits and rounded; how near a pupil has to come |
//! | `limit.rs` | checks beside the lines that they judge |
//! | `wrong.rs` | slips in words |
//! | `text.rs`, `markdown.rs`, `json.rs` | the lesson for a terminal, a folder, a program |
//! | `page.rs`, `lesson.css` | the lesson for a class screen, a phone, and paper |
//! | `exercise.rs` | exercise sheets: what is asked, the table of answers |
//! | `exercise_text.rs`, `exercise_json.rs`, `exercise_page.rs`, `exercise.css` | the same, written |
//! | `seal.rs` | answers kept out of plain sight |
//! | `script.rs` | the page's modules as one inline script |
//!
//! The wrong ways themselves are worked out by `study::slips`, the readings of a sheet are drawn by `study::draw`.

mod answer;
mod build;
mod exercise;
mod exercise_json;
mod exercise_page;
mod exercise_text;
mod formula;
mod json;
mod limit;
mod line;
mod markdown;
mod names;
mod page;
mod script;
mod seal;
mod text;
mod wrong;

pub use build::{in_letters, lesson};
pub use exercise::{ExerciseSheet, Exercises};
pub use exercise_json::exercises_json;
pub use exercise_page::{answers_page, exercises_page};
pub use exercise_text::{exercises_markdown, exercises_text};
pub use json::lesson_json;
pub use line::Lesson;
pub use markdown::lesson_markdown;
pub use page::lesson_page;
pub use text::lesson_text;
