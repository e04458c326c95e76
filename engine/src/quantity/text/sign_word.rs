//! Words that say the sign of a reading: `3.2 deg tail up`.

use core::ops::Range;

use super::scan::Scan;

/// A word for a sign at the end of a piece.
pub(super) struct SignWord {
    pub(super) negative: bool,
    pub(super) word: String,
    pub(super) at: Range<usize>,
}

/// The piece without the word that may stand at its end, and the word.
pub(super) fn split_sign<'a>(piece: Scan<'a>, signs: Option<(&str, &str)>) -> (Scan<'a>, Option<SignWord>) {
    let Some((positive, negative)) = signs else {
        return (piece, None);
    };
    let mut candidates = [(positive, false), (negative, true)];
    // The longer first, where one ends in the other.
    candidates.sort_by_key(|(word, _)| core::cmp::Reverse(word.split_whitespace().count()));
    for (word, negative) in candidates {
        if let Some(start) = ends_in_words(piece.rest(), word) {
            let (before, tail) = piece.split(start);
            let at = tail.trimmed().span();
            return (
                before,
                Some(SignWord {
                    negative,
                    word: word.to_owned(),
                    at,
                }),
            );
        }
    }
    (piece, None)
}

/// Where the words stand at the end of a text.
fn ends_in_words(text: &str, words: &str) -> Option<usize> {
    let mut rest = text;
    let mut wanted = words.split_whitespace().rev().peekable();
    wanted.peek()?;
    for word in wanted {
        rest = rest.trim_end();
        let start = rest
            .char_indices()
            .rev()
            .take_while(|(_, c)| !c.is_whitespace())
            .last()
            .map(|(at, _)| at)?;
        if rest[start..].to_lowercase() != word.to_lowercase() {
            return None;
        }
        rest = &rest[..start];
    }
    Some(rest.len())
}
