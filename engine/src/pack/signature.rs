//! Who sealed a pack: an Ed25519 signature (RFC 8032) of its `seal.toml`, whose digests stand for all of its files.

use super::digest::{hexadecimal, sha256};
use crate::diagnostic::{Diagnostic, Refusal, SourceText};
use crate::document::{Fields, parse};
use ed25519_dalek::pkcs8::spki::der::pem::LineEnding;
use ed25519_dalek::pkcs8::{DecodePrivateKey, DecodePublicKey, EncodePrivateKey, EncodePublicKey};
use ed25519_dalek::{Signature, Signer, SigningKey, VerifyingKey};
use std::sync::Arc;

/// A key with which packs are sealed. It is nobody else's business.
pub struct SecretKey(SigningKey);

/// The key by which others know who sealed a pack.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PublicKey(VerifyingKey);

impl SecretKey {
    /// From 32 bytes that nobody can guess.
    #[must_use]
    pub fn of(bytes: &[u8; 32]) -> Self {
        Self(SigningKey::from_bytes(bytes))
    }

    /// From a file (PKCS #8 in PEM, RFC 5958 and 7468).
    ///
    /// # Errors
    /// Where it is none.
    pub fn read(text: &str) -> Result<Self, Refusal> {
        let key = SigningKey::from_pkcs8_pem(text.trim());
        key.map(Self).map_err(|_| {
            let refusal = Refusal::new(
                "key",
                "this is no key to seal with: an Ed25519 key in PKCS #8 is expected",
            );
            refusal.hint("crankline pack key shop.key makes one")
        })
    }

    /// As it is kept in a file.
    ///
    /// # Errors
    /// Where it cannot be written so.
    pub fn text(&self) -> Result<String, Refusal> {
        let text = self.0.to_pkcs8_pem(LineEnding::LF);
        let text = text.map_err(|_| Refusal::new("key", "the key cannot be written"))?;
        Ok(text.to_string())
    }

    /// The key by which others know it.
    #[must_use]
    pub fn public(&self) -> PublicKey {
        PublicKey(self.0.verifying_key())
    }

    /// Signs a seal: the text of `signature.toml`.
    #[must_use]
    pub fn signature(&self, seal: &str) -> String {
        format!(
            "# Ed25519, of the bytes of seal.toml\nformat = 1\nkey = \"{}\"\nsignature = \"{}\"\n",
            hexadecimal(self.0.verifying_key().as_bytes()),
            hexadecimal(&self.0.sign(seal.as_bytes()).to_bytes())
        )
    }
}

impl PublicKey {
    /// From a file (SubjectPublicKeyInfo in PEM, RFC 5280 and 7468).
    ///
    /// # Errors
    /// Where it is none.
    pub fn read(text: &str) -> Result<Self, Refusal> {
        let key = VerifyingKey::from_public_key_pem(text.trim());
        key.map(Self).map_err(|_| {
            let refusal = Refusal::new(
                "key",
                "this is no key to know a sealer by: an Ed25519 public key is expected",
            );
            refusal.hint("crankline pack key shop.key writes it to shop.key.pub")
        })
    }

    /// As it is kept in a file.
    ///
    /// # Errors
    /// Where it cannot be written so.
    pub fn text(&self) -> Result<String, Refusal> {
        let text = self.0.to_public_key_pem(LineEnding::LF);
        text.map_err(|_| Refusal::new("key", "the key cannot be written"))
    }

    /// A short name for it, to be compared over the telephone: four groups of four hexadecimal digits of its SHA-256.
    #[must_use]
    pub fn name(&self) -> String {
        let digest = sha256(self.0.as_bytes());
        let groups = (0..4).filter_map(|group| digest.get(4 * group..4 * group + 4));
        groups.collect::<Vec<_>>().join(" ")
    }
}

/// The key that signed a seal.
///
/// # Errors
/// What cannot be read; a signature that is not of this seal.
pub fn signed_by(seal: &str, signature: SourceText) -> Result<PublicKey, Diagnostic> {
    let root = parse(&Arc::new(signature))?;
    Fields::any(&root, "a signature")?.format()?;
    let fields = Fields::of(&root, "a signature", &["format", "key", "signature"])?;
    let unreadable = |key: &str, digits: usize| {
        let message = format!("the {key} in signature.toml is none: it has {digits} hexadecimal digits");
        Refusal::new("signature", message).hint("get the pack again from whoever sealed it")
    };
    let key = bytes::<32>(&fields.needed_text("key")?).and_then(|bytes| VerifyingKey::from_bytes(&bytes).ok());
    let key = key.ok_or_else(|| unreadable("key", 64))?;
    let signature = bytes::<64>(&fields.needed_text("signature")?).ok_or_else(|| unreadable("signature", 128))?;
    key.verify_strict(seal.as_bytes(), &Signature::from_bytes(&signature))
        .map_err(|_| {
            let refusal = Refusal::new(
                "signature",
                "this pack was changed after it was signed, or somebody else signed it",
            );
            refusal.hint("get it again from whoever sealed it")
        })?;
    Ok(PublicKey(key))
}

/// Bytes from pairs of hexadecimal digits.
fn bytes<const COUNT: usize>(text: &str) -> Option<[u8; COUNT]> {
    let digits: Vec<u8> = text
        .chars()
        .map(|digit| digit.to_digit(16))
        .map(|digit| u8::try_from(digit?).ok())
        .collect::<Option<_>>()?;
    let (pairs, rest) = digits.as_chunks::<2>();
    let bytes: Vec<u8> = pairs.iter().map(|[high, low]| high * 16 + low).collect();
    if rest.is_empty() { bytes.try_into().ok() } else { None }
}
