//! The page's own side: its modules joined into one script, which the page's policy names by its digest, so that no other
//! one runs.

use sha2::{Digest, Sha256};

/// The modules, each after those that it takes.
const MODULES: &[&str] = &[
    include_str!("script/decimal.js"),
    include_str!("script/characters.js"),
    include_str!("script/near_miss.js"),
    include_str!("script/kernel_bits.js"),
    include_str!("script/kernel_far_angle.js"),
    include_str!("script/kernel_elementary.js"),
    include_str!("script/slope.js"),
    include_str!("script/units.js"),
    include_str!("script/write.js"),
    include_str!("script/study_verdict.js"),
    include_str!("script/page_check_words.js"),
    include_str!("script/page_headline.js"),
    include_str!("script/page_numbers.js"),
    include_str!("script/page_checks.js"),
    include_str!("script/page_controls.js"),
    include_str!("script/page_notice.js"),
    include_str!("script/scan.js"),
    include_str!("script/unit_words.js"),
    include_str!("script/unit_text.js"),
    include_str!("script/written_number.js"),
    include_str!("script/amount_text.js"),
    include_str!("script/dimension_words.js"),
    include_str!("script/read.js"),
    include_str!("script/page_trials.js"),
    include_str!("script/kernel_search.js"),
    include_str!("script/kernel_distribution.js"),
    include_str!("script/sobol.js"),
    include_str!("script/study_draw.js"),
    include_str!("script/study_interval.js"),
    include_str!("script/vouch.js"),
    include_str!("script/study_bands.js"),
    include_str!("script/study.js"),
    include_str!("script/kernel_power.js"),
    include_str!("script/kernel_ldlt.js"),
    include_str!("script/kernel_spectrum.js"),
    include_str!("script/kernel_start.js"),
    include_str!("script/kernel_lowest.js"),
    include_str!("script/kernel_eigen.js"),
    include_str!("script/tape_program.js"),
    include_str!("script/tape_rows.js"),
    include_str!("script/kernel_vector.js"),
    include_str!("script/kernel_hull.js"),
    include_str!("script/kernel_gap.js"),
    include_str!("script/tape_single.js"),
    include_str!("script/tape_lanes.js"),
    include_str!("script/tape.js"),
    include_str!("script/figure.js"),
    include_str!("script/page_scene.js"),
    include_str!("script/page_figures.js"),
    include_str!("script/page_packed.js"),
    include_str!("script/page_study.js"),
    include_str!("script/page.js"),
];

/// All modules as one script.
pub(super) fn script() -> String {
    joined(MODULES.iter().copied(), "startPage(document);")
}

/// Modules as one script, what starts it last: without their `import` lines, which name each other, without `export`,
/// without remarks and what lines are set in by. No text in them goes over several lines.
pub(in crate::report) fn joined<'a>(modules: impl Iterator<Item = &'a str>, start: &str) -> String {
    let mut joined = String::new();
    let mut in_remark = false;
    for line in modules.flat_map(str::lines) {
        let words = line.trim();
        in_remark |= words.starts_with("/**");
        let left_out = in_remark || words.is_empty() || words.starts_with("//") || line.starts_with("import ");
        in_remark &= !words.ends_with("*/");
        if !left_out {
            joined.push_str(line.strip_prefix("export ").unwrap_or(words));
            joined.push('\n');
        }
    }
    joined.push_str(start);
    joined.push('\n');
    joined
}

/// A policy under which a page fetches nothing and runs this script alone.
pub(in crate::report) fn policy(script: &str) -> String {
    let digest = Sha256::digest(script.as_bytes());
    format!(
        "default-src 'none'; style-src 'unsafe-inline'; script-src 'sha256-{}'",
        base64(&digest)
    )
}

/// RFC 4648, section 4.
pub(in crate::report) fn base64(bytes: &[u8]) -> String {
    const DIGITS: &[u8; 64] = b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    let mut text = String::new();
    for three in bytes.chunks(3) {
        let byte = |at: usize| u32::from(three.get(at).copied().unwrap_or(0));
        let bits = byte(0) << 16 | byte(1) << 8 | byte(2);
        for place in 0..4_usize {
            let digit = (bits >> (18 - 6 * place)) as usize & 63;
            text.push(match DIGITS.get(digit) {
                Some(digit) if place <= three.len() => char::from(*digit),
                _ => '=',
            });
        }
    }
    text
}
