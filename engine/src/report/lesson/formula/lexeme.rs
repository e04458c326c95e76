//! The words and signs of a formula.

/// A word or a sign.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Lexeme {
    /// Digits as they are written.
    Number(String),
    /// A number put in, as it is shown; whether it has a sign, whether a unit.
    PutIn(String, bool, bool),
    /// A text in quotation marks, with them.
    Quoted(String),
    /// A name, with the way to it: `cardan::strength`.
    Name(String),
    /// Anything else: `+`, `**`, `#{`.
    Sign(&'static str),
}

/// Longest first.
const SIGNS: [&str; 31] = [
    "#{", "**", "<=", ">=", "==", "!=", "&&", "||", "+", "-", "*", "/", "%", "<", ">", "!", "(", ")", "[", "]", "{",
    "}", ",", ":", ".", "|", "=", "×", "^", "π", "$",
];

/// A text's words and signs; nothing where it holds something else.
pub(super) fn lexemes(text: &str, into: &mut Vec<Lexeme>) -> Option<()> {
    let mut rest = text;
    loop {
        rest = rest.trim_start();
        let Some(first) = rest.chars().next() else {
            return Some(());
        };
        let (lexeme, length) = if first.is_ascii_digit() {
            number(rest)
        } else if first == '"' {
            let end = rest.get(1..)?.find('"')? + 2;
            (Lexeme::Quoted(rest.get(..end)?.to_owned()), end)
        } else if first == '`' {
            let end = rest.get(1..)?.find('`')? + 2;
            (Lexeme::Quoted(with_names(rest.get(1..end - 1)?)), end)
        } else if first.is_ascii_alphabetic() || first == '_' {
            let name = name(rest);
            (Lexeme::Name(name.to_owned()), name.len())
        } else {
            let sign = SIGNS.into_iter().find(|sign| rest.starts_with(sign))?;
            (Lexeme::Sign(sign), sign.len())
        };
        into.push(lexeme);
        rest = rest.get(length..)?;
    }
}

/// A text that names are put into: `car {car}, frame {frame number}`, in quotation marks.
fn with_names(text: &str) -> String {
    format!("\"{}\"", text.replace("${", "{").replace('_', " "))
}

/// `5`, `0.083`, `1e-3`; a point with no digit behind it belongs to a property.
fn number(text: &str) -> (Lexeme, usize) {
    let bytes = text.as_bytes();
    let digits = |from: usize| {
        let more = bytes.iter().skip(from);
        from + more.take_while(|byte| byte.is_ascii_digit() || **byte == b'_').count()
    };
    let is_digit = |at: usize| bytes.get(at).is_some_and(u8::is_ascii_digit);
    let mut end = digits(0);
    if bytes.get(end) == Some(&b'.') && is_digit(end + 1) {
        end = digits(end + 1);
    }
    if matches!(bytes.get(end), Some(b'e' | b'E')) {
        let signed = matches!(bytes.get(end + 1), Some(b'+' | b'-'));
        let from = end + 1 + usize::from(signed);
        if is_digit(from) {
            end = digits(from);
        }
    }
    (Lexeme::Number(text.get(..end).unwrap_or(text).replace('_', "")), end)
}

fn name(text: &str) -> &str {
    let mut end = 0;
    loop {
        let rest = text.get(end..).unwrap_or("");
        end += rest
            .bytes()
            .take_while(|byte| byte.is_ascii_alphanumeric() || *byte == b'_')
            .count();
        let rest = text.get(end..).unwrap_or("");
        let goes_on = rest.strip_prefix("::").and_then(|more| more.chars().next());
        if !goes_on.is_some_and(|next| next.is_ascii_alphabetic() || next == '_') {
            return text.get(..end).unwrap_or(text);
        }
        end += 2;
    }
}
