//! Names that no script knows: kept where they are of their own, refused where they are probably a slip.

use crate::diagnostic::nearest;

/// The known name that somebody probably meant by an unknown one. Names that differ in their numbers only are a series
/// (`joint_1`, `joint_2`), and no slip.
pub(crate) fn meant<'a>(name: &str, known: impl Iterator<Item = &'a str>) -> Option<&'a str> {
    let letters = |name: &str| name.chars().filter(|c| !c.is_numeric()).collect::<String>();
    let own = letters(name);
    nearest(name, known.filter(|known| letters(known) != own))
}
