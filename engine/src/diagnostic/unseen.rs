//! Characters that nobody sees, or that turn what stands beside them: two texts that read the same and are not, a reading
//! under a name that seems to be another, a label that seems to be empty.
//!
//! Source: from memory of the Unicode Character Database, DerivedCoreProperties (Default_Ignorable_Code_Point), and of its
//! general category Cf; beside them the blank of Braille, which is a letter and looks like a space. Signs of Arabic and
//! other scripts that are Cf and are drawn stay.

/// Why a character may not stand in a text; nothing where it may.
pub(super) fn why(character: char) -> Option<&'static str> {
    let own = UNSEEN
        .iter()
        .find(|(first, last, _)| (*first..=*last).contains(&character));
    own.map(|(_, _, why)| *why)
}

const TURNS: &str = "turns the direction of writing, unseen";
const FILLS: &str = "is a letter without a shape";
const JOINS: &str = "changes how the letters beside it join or break, unseen";
const ENDS: &str = "ends a line, unseen";
const LOOKS: &str = "says how the character before it is drawn, unseen";
const ANNOTATES: &str = "marks a remark between the lines, unseen";
const FORMATS: &str = "formats what follows it, unseen";
const TAGS: &str = "is a tag that nobody sees";
const NOTHING: &str = "is kept for what nobody sees";

/// The first and the last of a group, and why.
const UNSEEN: &[(char, char, &str)] = &[
    // A soft hyphen; a joiner of combining letters.
    ('\u{ad}', '\u{ad}', JOINS),
    ('\u{34f}', '\u{34f}', JOINS),
    ('\u{61c}', '\u{61c}', TURNS),
    // Fillers of Hangul, vowels of Khmer that are not written.
    ('\u{115f}', '\u{1160}', FILLS),
    ('\u{17b4}', '\u{17b5}', FILLS),
    // Selectors and the vowel separator of Mongolian.
    ('\u{180b}', '\u{180f}', LOOKS),
    // A space of no width; joiners that some scripts are spelt with, and that nobody could tell from nothing.
    ('\u{200b}', '\u{200d}', JOINS),
    ('\u{200e}', '\u{200f}', TURNS),
    ('\u{2028}', '\u{2029}', ENDS),
    ('\u{202a}', '\u{202e}', TURNS),
    // A joiner of words, and the signs of mathematics that are not drawn.
    ('\u{2060}', '\u{2064}', JOINS),
    ('\u{2065}', '\u{2065}', NOTHING),
    ('\u{2066}', '\u{2069}', TURNS),
    ('\u{206a}', '\u{206f}', FORMATS),
    ('\u{2800}', '\u{2800}', "looks like a space and is none"),
    ('\u{3164}', '\u{3164}', FILLS),
    // What draws a sign as a picture: it reads the same without.
    ('\u{fe00}', '\u{fe0f}', LOOKS),
    ('\u{feff}', '\u{feff}', "is the mark of a file's start, unseen"),
    ('\u{ffa0}', '\u{ffa0}', FILLS),
    ('\u{fff0}', '\u{fff8}', NOTHING),
    ('\u{fff9}', '\u{fffb}', ANNOTATES),
    // Of shorthand and of music.
    ('\u{1bca0}', '\u{1bca3}', FORMATS),
    ('\u{1d173}', '\u{1d17a}', FORMATS),
    ('\u{e0000}', '\u{e00ff}', TAGS),
    ('\u{e0100}', '\u{e01ef}', LOOKS),
    ('\u{e01f0}', '\u{e0fff}', NOTHING),
];
