//! Packs: folders of scripts with worked cases.
//!
//! | file | what it is |
//! |---|---|
//! | `files.rs` | what the files of a pack are called |
//! | `manifest.rs` | `pack.toml`: what a pack is called, whose it is, which packs it uses |
//! | `archive.rs` | a pack as one file, a plain zip archive |
//! | `seal.rs` | what is in a sealed pack, file by file |
//! | `signature.rs` | who sealed it |
//! | `version.rs` | what may be a version, and which of two is the newer one |
//! | `diff.rs`, `moved.rs` | what a changed script has otherwise: lines, results |
//! | `lineage.rs` | where scripts came from, written into a manifest, and in words |
//! | `digest.rs` | SHA-256 of a file |
//! | `template.rs` | a new pack, which works and explains itself |
//! | `case.rs` | `NAME.cases.toml`: worked examples of a script |
//! | `prove.rs` | whether a case comes out |

mod archive;
mod case;
mod diff;
mod digest;
mod files;
mod lineage;
mod manifest;
mod moved;
mod prove;
mod seal;
mod signature;
mod template;
mod version;

pub use archive::{LARGEST_ARCHIVE, PackFile, pack_up, unpack};
pub use case::{Case, Expectation, Expected, ExpectedValue, read_cases};
pub use diff::{ChangedLine, changed_lines};
pub use digest::sha256;
pub use files::{MANIFEST, SEAL, SIGNATURE, is_file_of_pack, is_script_name, why_no_file};
pub use lineage::{Today, imported_packs, with_adapted};
pub use manifest::{Adapted, Ancestor, Manifest, UsedPack, is_pack_name};
pub use moved::{Moved, Yielded, moved};
pub use prove::{asks_closely, difference_words, prove, states_something};
pub use seal::{Seal, Sealed, SealedFile};
pub use signature::{PublicKey, SecretKey, signed_by};
pub use template::{new_manifest, new_pack};
pub use version::order_of_versions;
