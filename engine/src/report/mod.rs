//! What people and programs read of a run: the first screen, the working, Markdown, JSON.
//!
//! | file | what it is |
//! |---|---|
//! | `sheet.rs` | all that a report is made of: outcomes, verdicts, units |
//! | `finding.rs` | checks with their verdicts, worst first |
//! | `headline.rs` | the one line that says how it stands |
//! | `cautions.rs` | cautions, the most urgent first |
//! | `considered.rs` | ways considered, and the runs that try one |
//! | `compared.rs` | the two sides of a check in words |
//! | `lookup.rs` | which result a number of a check is |
//! | `written.rs` | numbers, intervals and texts in words |
//! | `readings.rs` | what inputs were given, in words |
//! | `advice.rs` | what would settle a check, and what to do next at the car |
//! | `layout.rs` | columns and line breaks of 80 columns |
//! | `text.rs` | the first screen |
//! | `head.rs`, `results.rs`, `closing.rs` | its top, its numbers, what stands below the verdicts |
//! | `working.rs` | every step with its numbers put in |
//! | `markdown.rs` | the sheet for a folder |
//! | `json.rs` | the sheet for programs |
//! | `figure/` | figures drawn, in letters and as data |
//! | `file_of_page.rs`, `file_of_page.css` | what every page is as a file |
//! | `page/` | the sheet as one HTML file |
//! | `spread.rs` | what the ± does, in the long form |
//! | `swept/`, `chart.rs` | what happens between here and there; curves in letters |
//! | `comparison/` | two records of runs side by side |
//! | `solved.rs` | where inputs have to be |
//! | `lesson/` | a calculation line by line, and exercise sheets |
//! | `description.rs` | what a script is for, what it wants to know, what it gives |
//! | `inspected/` | scripts looked through without readings |
//! | `measuring/` | what is to be measured: sheets, what is missing, questions, a new job file |
//! | `properties.rs` | what is known of a material |
//!
//! Nothing here calculates: a number shown is one that a run or a study yielded, or the difference of two
//! such.

mod advice;
mod cautions;
mod chart;
mod closing;
mod compared;
mod comparison;
mod considered;
mod description;
mod figure;
mod file_of_page;
mod finding;
mod head;
mod headline;
mod inspected;
mod json;
mod layout;
mod lesson;
mod lookup;
mod markdown;
mod measuring;
pub mod page;
mod properties;
mod readings;
mod results;
mod sheet;
mod solved;
mod spread;
mod swept;
mod text;
mod working;
pub mod written;

pub use comparison::{Comparison, Record, compare, comparison_json, comparison_markdown, comparison_text};
pub use description::{About, description, description_markdown};
pub use figure::{
    Banded, Drawing, FIGURE_STYLE, WriteNumber, drawing, figure_table, figure_title, is_drawn,
    letters as figure_letters, picture, swept_figures,
};
pub use inspected::{Looked, LookedScript, inspected_json, inspected_markdown, inspected_text};
pub use json::json;
pub use layout::wrapped;
pub use lesson::{
    ExerciseSheet, Exercises, Lesson, answers_page, exercises_json, exercises_markdown, exercises_page, exercises_text,
    in_letters, lesson, lesson_json, lesson_markdown, lesson_page, lesson_text,
};
pub use markdown::{markdown, plain};
pub use measuring::{
    Draft, DraftLink, DraftRun, Measuring, draft, measuring_json, measuring_markdown, measuring_page, measuring_text,
    missing_json, missing_markdown, missing_text, noted, question,
};
pub use page::{Made, page};
pub use properties::properties;
pub use sheet::{AID, AlteredPack, Identity, Paint, SetValue, Sheet, SheetRun, TakenInput, short_digest, unpainted};
pub use solved::{AdjustedInput, SolvedSheet, Way, setting_text, solved_json, solved_markdown, solved_text};
pub use spread::{spread_json, spread_markdown, spread_text};
pub use swept::{AxisSheet, PartSheet, SweptSheet, WatchedSheet, swept_csv, swept_json, swept_markdown, swept_text};
pub use text::{Depth, text};
pub use working::working;
