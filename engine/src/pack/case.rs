//! Worked examples of a script: what is put in, what must come out, and who says so.

use crate::diagnostic::{Diagnostic, Place, Refusal, SourceText};
use crate::document::{Content, Fields, Item, Key, parse};
use crate::job::{Job, Setting, settings};
use crate::outcome::Origin;
use crate::study::Verdict;
use std::sync::Arc;

type Result<T> = std::result::Result<T, Diagnostic>;

/// A worked example.
#[derive(Clone, Debug)]
pub struct Case {
    /// What it shows.
    pub title: String,
    /// Who says what comes out: a published source and its edition, "common practice", "from memory: …", "computed
    /// with …".
    pub source: Option<String>,
    /// What is put in; the script's own values for the rest.
    pub set: Vec<Setting>,
    /// What must come out.
    pub expectation: Expectation,
    /// Where it stands.
    pub place: Place,
}

/// What must come out of a case.
#[derive(Clone, Debug)]
pub enum Expectation {
    /// These results.
    Results(Vec<Expected>),
    /// An error whose message has these words.
    Error(String, Place),
}

/// One result that is expected.
#[derive(Clone, Debug)]
pub struct Expected {
    /// A step or an input (`front`, `stress[bump]`, `joint.x`), or `check: LABEL`.
    pub address: String,
    /// What it must be.
    pub value: ExpectedValue,
    /// Where it stands.
    pub place: Place,
}

/// What a result must be.
#[derive(Clone, Debug, PartialEq)]
pub enum ExpectedValue {
    /// A quantity as written, and how far off it may be, as written.
    Quantity {
        /// `3.16 deg`
        value: String,
        /// `0.01 deg`
        within: String,
    },
    /// A whole number.
    Count(i64),
    /// A text.
    Text(String),
    /// Yes or no.
    Truth(bool),
    /// What becomes of a check.
    Verdict(Verdict),
}

/// Reads a file of cases.
///
/// # Errors
/// What cannot be read, an unknown key, a case that expects nothing or names no source, with its place.
pub fn read_cases(text: SourceText) -> Result<Vec<Case>> {
    let root = parse(&Arc::new(text))?;
    Fields::any(&root, "a file of cases")?.format()?;
    let fields = Fields::of(&root, "a file of cases", &["format", "case"])?;
    fields.list("case")?.iter().map(case).collect()
}

impl Case {
    /// The case as a job: its script with its values.
    #[must_use]
    pub fn job(&self, script: &str) -> Job {
        Job::of_run(script, self.set.clone())
    }
}

/// What a source may be, and what may be expected.
const SOURCE: &str = "\"a book and its edition\", or \"by hand: how\"";
const EXPECTED: &str =
    "{ STEP = { value = \"3.16 deg\", within = \"0.01 deg\" } }, or expect_error = \"words of the message\"";

/// Who says what comes out; nobody where nothing stands there.
fn source(fields: &Fields<'_>) -> Result<Option<String>> {
    Ok(fields.text("source")?.filter(|source| !source.trim().is_empty()))
}

fn case(item: &Item) -> Result<Case> {
    let fields = Fields::of(item, "a case", &["title", "source", "set", "expect", "expect_error"])?;
    let no_files = |_: &str| Err(Refusal::new("csv", "a case stands by itself: write the rows here"));
    let set = match fields.get("set") {
        Some(item) => settings(item, "`set`", Origin::Chosen, &no_files)?,
        None => Vec::new(),
    };
    let expectation = match (fields.get("expect"), fields.get("expect_error")) {
        (Some(results), None) => Expectation::Results(expected(results)?),
        (None, Some(words)) => Expectation::Error(fields.needed_text("expect_error")?, words.place.clone()),
        (None, None) => return Err(fields.lacks_as("expect", EXPECTED)),
        (Some(_), Some(both)) => {
            let refusal = Refusal::new("case", "a case expects results or an error, not both");
            let hint = "make two of it, or take one of the keys away";
            return Err(Diagnostic::at(refusal.hint(hint), both.place.clone()));
        }
    };
    let source = match expectation {
        Expectation::Results(_) => Some(source(&fields)?.ok_or_else(|| fields.lacks_as("source", SOURCE))?),
        Expectation::Error(..) => source(&fields)?,
    };
    Ok(Case {
        title: fields.needed_text("title")?,
        source,
        set,
        expectation,
        place: fields.get("title").unwrap_or(item).place.clone(),
    })
}

fn expected(item: &Item) -> Result<Vec<Expected>> {
    let entries = Fields::any(item, "`expect`")?.entries();
    if entries.is_empty() {
        let refusal = Refusal::new("case", "this case expects nothing");
        let hint = "name a step or a check: b = { value = \"6 mm\", within = \"0.001 mm\" }";
        return Err(Diagnostic::at(refusal.hint(hint), item.place.clone()));
    }
    let one = |(key, item): &(Key, Item)| {
        let value = match is_check(&key.name) {
            true => ExpectedValue::Verdict(verdict(item)?),
            false => value(item)?,
        };
        Ok(Expected {
            address: key.name.clone(),
            value,
            place: key.place.clone(),
        })
    };
    entries.iter().map(one).collect()
}

/// Whether an address is that of a check.
pub(super) fn is_check(address: &str) -> bool {
    address.starts_with("check:")
}

fn value(item: &Item) -> Result<ExpectedValue> {
    Ok(match &item.content {
        Content::Text(text) => ExpectedValue::Text(text.line()),
        Content::Truth(truth) => ExpectedValue::Truth(*truth),
        Content::Whole(count) => ExpectedValue::Count(*count),
        Content::Table(_) => {
            let fields = Fields::of(item, "an expected value", &["value", "within"])?;
            let text = |key: &str| {
                let item = fields.get(key).ok_or_else(|| fields.lacks(key))?;
                match &item.content {
                    Content::Whole(number) => Ok(number.to_string()),
                    Content::Number(number) => Ok(number.to_string()),
                    _ => item.text(&format!("`{key}`")),
                }
            };
            let (value, within) = (text("value")?, text("within")?);
            ExpectedValue::Quantity { value, within }
        }
        _ => {
            let wanted = "a quantity with how far off it may be ({ value = \"3.16 deg\", within = \"0.01 deg\" })";
            return Err(item.unfit("what is expected", wanted));
        }
    })
}

const VERDICTS: [Verdict; 5] = [
    Verdict::Holds,
    Verdict::Fails,
    Verdict::Unsure,
    Verdict::Untrusted,
    Verdict::Unmeasured,
];

fn verdict(item: &Item) -> Result<Verdict> {
    let word = item.text("what becomes of a check")?;
    let found = VERDICTS.into_iter().find(|verdict| verdict.word() == word);
    found.ok_or_else(|| {
        let words: Vec<&str> = VERDICTS.iter().map(|verdict| verdict.word()).collect();
        let refusal = Refusal::new("case", format!("no check is `{word}`"));
        Diagnostic::at(
            refusal.hint(format!("one of: {}", words.join(", "))),
            item.place.clone(),
        )
    })
}
