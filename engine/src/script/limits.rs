//! What a script may use up. Set by us, the same in debug and release builds; a script cannot raise them.

use rhai::Engine;

/// Operations of the language in one run.
pub(crate) const OPERATIONS: u64 = 20_000_000;
/// Work of native functions in one run, in simple operations: about a second.
pub(crate) const WORK: u64 = 100_000_000;
/// Characters of one text.
pub(crate) const TEXT: usize = 100_000;
/// Items of one list.
pub(crate) const LIST: usize = 10_000;
/// Entries of one map.
pub(crate) const MAP: usize = 10_000;
/// Items of all lists, maps and closures that a name holds in one another.
pub(crate) const HELD: u64 = 200_000;
/// Work that a number counts for which a figure, a structure or a result keeps, beside that of making it: as much as lets a
/// run keep some two million, of a hundred bytes each.
pub(crate) const KEPT: u64 = 50;
/// Functions called inside one another.
pub(crate) const CALLS: usize = 64;
/// Expressions inside one another.
pub(crate) const NESTING: usize = 128;
/// Names in one scope.
pub(crate) const NAMES: usize = 10_000;
/// Functions in one script.
pub(crate) const FUNCTIONS: usize = 1_000;
/// Modules that one script imports, in all.
pub(crate) const MODULES: usize = 64;
/// Inputs, steps and checks in one run, each.
pub(crate) const RESULTS: usize = 20_000;
/// Bytes of one script's text.
pub(crate) const SOURCE: usize = 1_000_000;

/// What whoever runs a script can do about the work that it may do; a script can do nothing about it.
pub(crate) const MORE: &str = "--effort 10 lets it do ten times as much, for this one run";

/// Sets them.
pub(crate) fn set(engine: &mut Engine) {
    engine
        .set_max_operations(OPERATIONS)
        .set_max_string_size(TEXT)
        .set_max_array_size(LIST)
        .set_max_map_size(MAP)
        .set_max_call_levels(CALLS)
        .set_max_expr_depths(NESTING, NESTING)
        .set_max_variables(NAMES)
        .set_max_functions(FUNCTIONS)
        .set_max_modules(MODULES);
}
