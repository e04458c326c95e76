//! The modules that a lesson takes as one inline script.

use crate::report::page;

/// The modules that a lesson and its exercises take, each with its text, those that others need first.
const MODULES: [(&str, &str); 18] = [
    ("characters.js", include_str!("../page/script/characters.js")),
    ("decimal.js", include_str!("../page/script/decimal.js")),
    ("kernel_bits.js", include_str!("../page/script/kernel_bits.js")),
    (
        "kernel_far_angle.js",
        include_str!("../page/script/kernel_far_angle.js"),
    ),
    (
        "kernel_elementary.js",
        include_str!("../page/script/kernel_elementary.js"),
    ),
    ("slope.js", include_str!("../page/script/slope.js")),
    ("near_miss.js", include_str!("../page/script/near_miss.js")),
    ("units.js", include_str!("../page/script/units.js")),
    ("scan.js", include_str!("../page/script/scan.js")),
    ("unit_words.js", include_str!("../page/script/unit_words.js")),
    ("unit_text.js", include_str!("../page/script/unit_text.js")),
    ("dimension_words.js", include_str!("../page/script/dimension_words.js")),
    ("written_number.js", include_str!("../page/script/written_number.js")),
    ("amount_text.js", include_str!("../page/script/amount_text.js")),
    ("write.js", include_str!("../page/script/write.js")),
    ("read.js", include_str!("../page/script/read.js")),
    ("exercise.js", include_str!("../page/script/exercise.js")),
    ("lesson.js", include_str!("../page/script/lesson.js")),
];

/// These modules with all that they import, as one script, what starts it last.
pub(super) fn joined(wanted: &[&'static str], start: &str) -> String {
    let mut needed: Vec<&str> = wanted.to_vec();
    for (name, text) in MODULES.iter().rev() {
        if needed.contains(name) {
            needed.extend(imported(text));
        }
    }
    let modules = MODULES.iter().filter(|(name, _)| needed.contains(name));
    page::joined(modules.map(|(_, text)| *text), start)
}

/// The files that a module imports.
fn imported(text: &'static str) -> impl Iterator<Item = &'static str> {
    let imports = text.lines().filter(|line| line.starts_with("import "));
    imports.filter_map(|line| line.rsplit_once("\"./")?.1.strip_suffix("\";"))
}
