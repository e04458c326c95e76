//! Packs on the disk.
//!
//! | file | what it is |
//! |---|---|
//! | `desk.rs` | where the program stands: its folder, and the places in which packs lie |
//! | `found.rs` | a pack that was found, with its files |
//! | `sealed.rs` | a sealed pack in a file, and what became of one that was added |
//! | `used.rs` | sealed packs that scripts were taken from, and what somebody altered in them |
//! | `trial.rs` | a pack tried on this machine |
//! | `patience.rs` | how much work a sealed pack may make before it is added |
//! | `place.rs` | a place in which packs lie, written by one program at a time, wholly or not at all |
//! | `collection.rs` | all packs, the shipped ones and those in folders, by name |
//! | `unknown.rs` | what is said of a pack or a script that is not there |
//! | `lineage.rs` | where a script was copied from, in all generations |

mod collection;
mod desk;
mod found;
mod lineage;
mod patience;
mod place;
mod sealed;
mod trial;
mod unknown;
pub(crate) mod used;

pub(crate) use collection::{BrokenPack, Collection, two_of_one_name};
pub(crate) use desk::Desk;
pub(crate) use found::{FoundPack, Origin};
pub(crate) use lineage::{Generation, generations};
pub(crate) use patience::Patience;
pub(crate) use place::Place;
pub(crate) use sealed::{SealedPack, State};
pub(crate) use trial::Trial;
pub(crate) use unknown::{no_pack, nothing_named};
