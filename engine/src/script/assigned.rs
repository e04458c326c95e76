//! Which names of a script get items or values beside those that they were given with: found on its words.

use super::grammar::Keyword;
use super::lexeme::Lexeme;
use std::collections::{BTreeMap, BTreeSet};

/// The names before `[…] =`, `[…].x[…] =` and the like, each with its first place; and those before a `=` alone that does
/// not declare them.
pub(super) fn assigned(lexemes: &[Lexeme]) -> (BTreeMap<String, usize>, BTreeSet<String>) {
    let (mut filled, mut reassigned) = (BTreeMap::new(), BTreeSet::new());
    let signs = lexemes.iter().enumerate();
    for (sign, _) in signs.filter(|(_, lexeme)| matches!(lexeme.word.as_str(), "=" | "+=" | "-=" | "*=" | "/=")) {
        let Some(at) = base(lexemes, sign) else { continue };
        let name = &lexemes[at].word;
        let before = at.checked_sub(1).map_or("", |before| lexemes[before].word.as_str());
        if at + 1 < sign {
            filled.entry(name.clone()).or_insert(at);
        } else if !matches!(before, "let" | "const") && !Keyword::of(before).is_some_and(Keyword::declares) {
            reassigned.insert(name.clone());
        }
    }
    (filled, reassigned)
}

/// The first word of the chain of points and square brackets before a sign.
fn base(lexemes: &[Lexeme], sign: usize) -> Option<usize> {
    let mut at = sign.checked_sub(1)?;
    loop {
        let mut open = 0_usize;
        loop {
            match lexemes[at].word.as_str() {
                ")" | "]" | "}" => open += 1,
                "(" | "[" | "{" | "#{" => open = open.checked_sub(1)?,
                _ => {}
            }
            if open == 0 {
                break;
            }
            at = at.checked_sub(1)?;
        }
        let before = at.checked_sub(1);
        match (
            lexemes[at].word.as_str(),
            before.map(|before| lexemes[before].word.as_str()),
        ) {
            ("[", Some(_)) => at = before?,
            (_, Some(".")) => at = before?.checked_sub(1)?,
            _ => return Some(at),
        }
    }
}
