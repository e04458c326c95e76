//! Names that nothing is called by, found before a script runs.

use super::native::Functions;
use super::source::Script;
use crate::diagnostic::Diagnostic;
use rhai::AST;

/// x
pub(crate) fn look(_tree: &AST, _script: &Script, _functions: &Functions) -> Result<(), Diagnostic> {
    Ok(())
}
