//! Which lines changed.

use crankline_engine::pack::{ChangedLine, changed_lines};

fn gone(number: usize, text: &str) -> ChangedLine {
    ChangedLine::Gone(number, text.to_owned())
}

fn come(number: usize, text: &str) -> ChangedLine {
    ChangedLine::Come(number, text.to_owned())
}

#[test]
fn lines_that_go_and_come() {
    assert_eq!(changed_lines("a\nb\nc\n", "a\nb\nc\n"), []);
    assert_eq!(changed_lines("a\nb\nc\n", "a\nx\nc\n"), [gone(2, "b"), come(2, "x")]);
    assert_eq!(changed_lines("a\nc\n", "a\nb\nc\n"), [come(2, "b")]);
    assert_eq!(changed_lines("", "a\n"), [come(1, "a")]);
    assert_eq!(changed_lines("a\n", ""), [gone(1, "a")]);
    // The longest that both have is a, c, d.
    assert_eq!(
        changed_lines("a\nb\nc\nd\n", "x\na\nc\ny\nd\n"),
        [come(1, "x"), gone(2, "b"), come(4, "y")]
    );
}

/// Whatever went and came, it makes one text of the other.
#[test]
fn changes_make_one_of_the_other() {
    let texts = [
        "",
        "a\nb\n",
        "b\na\n",
        "a\na\nb\nc\na\n",
        "c\nb\na\nb\nc\n",
        "a\nx\na\nx\n",
    ];
    for before in texts {
        for after in texts {
            let mut lines: Vec<Option<&str>> = before.lines().map(Some).collect();
            let changed = changed_lines(before, after);
            let mut made: Vec<String> = Vec::new();
            for change in &changed {
                if let ChangedLine::Gone(number, text) = change {
                    assert_eq!(lines[number - 1].take(), Some(text.as_str()));
                }
            }
            made.extend(lines.into_iter().flatten().map(str::to_owned));
            for change in &changed {
                if let ChangedLine::Come(number, text) = change {
                    made.insert(number - 1, text.clone());
                }
            }
            assert_eq!(made, after.lines().collect::<Vec<_>>(), "{before:?} {after:?}");
        }
    }
}
