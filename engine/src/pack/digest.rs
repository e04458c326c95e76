//! SHA-256 (FIPS 180-4) of a file.

use sha2::{Digest, Sha256};

/// The SHA-256 of bytes, in 64 hexadecimal digits.
#[must_use]
pub fn sha256(bytes: &[u8]) -> String {
    hexadecimal(&Sha256::digest(bytes))
}

/// Bytes as pairs of hexadecimal digits.
pub(super) fn hexadecimal(bytes: &[u8]) -> String {
    bytes.iter().map(|byte| format!("{byte:02x}")).collect()
}
