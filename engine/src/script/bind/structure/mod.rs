//! Structures of straight members; the theory is in [`crate::structure`].
//!
//! A structure is a handle: a second name is the same one, `.copy()` another.
//!
//! | file | what it is |
//! |---|---|
//! | `building.rs` | nodes, members, and what holds them |
//! | `loading.rs` | load cases |
//! | `results.rs` | what a solved structure says |
//! | `worst.rs` | the load case for which something is largest |
//! | `take.rs` | how arguments are taken |

mod building;
mod loading;
mod results;
mod take;
mod worst;

use crate::script::native::Functions;

pub(super) fn add(functions: &mut Functions) {
    functions.concept("structures");
    building::add(functions);
    loading::add(functions);
    results::add(functions);
    worst::add(functions);
}
