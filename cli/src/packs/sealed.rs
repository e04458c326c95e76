//! A sealed pack in a file, and what became of one that was added.

use super::found::{FoundPack, Origin};
use crate::disk;
use crankline_engine::diagnostic::{Diagnostic, Place, Refusal, SourceText};
use crankline_engine::pack::{LARGEST_ARCHIVE, PackFile, PublicKey, SEAL, SIGNATURE, Seal, Sealed, signed_by, unpack};
use std::path::Path;
use std::sync::Arc;

/// A sealed pack, found whole, and who signed it.
pub(crate) struct SealedPack {
    pub(crate) sealed: Sealed,
    pub(crate) signer: Option<PublicKey>,
}

impl SealedPack {
    /// Reads and checks a file; nothing in it is run.
    pub(crate) fn read(directory: &Path, name: &str) -> Result<Self, Diagnostic> {
        let bytes = disk::read_bytes(&directory.join(name), name, LARGEST_ARCHIVE)?;
        Self::of(&bytes).map_err(|error| in_file(error, name))
    }

    /// The same of a file's bytes.
    pub(crate) fn of(bytes: &[u8]) -> Result<Self, Diagnostic> {
        let sealed = Sealed::of(unpack(bytes)?)?;
        let signer = signer(&sealed.files)?;
        Ok(Self { sealed, signer })
    }

    /// The pack, as one that was found.
    pub(crate) fn pack(&self) -> FoundPack {
        FoundPack::sealed(self.sealed.manifest.clone(), &self.sealed.files)
    }

    /// Refuses a pack that another key signed than the one expected, or none.
    pub(crate) fn expect(&self, by: Option<&PublicKey>) -> Result<(), Refusal> {
        let Some(by) = by else { return Ok(()) };
        let signer = match &self.signer {
            Some(signer) if signer == by => return Ok(()),
            Some(signer) => format!("is signed with the key {}", signer.name()),
            None => "is not signed".to_owned(),
        };
        let name = &self.sealed.manifest.name;
        Err(Refusal::new(
            "signature",
            format!("the pack `{name}` {signer}, not with the key {}", by.name()),
        ))
    }
}

/// A message about what is in a file says which file that is.
fn in_file(error: Diagnostic, name: &str) -> Diagnostic {
    let refusal = error.refusal.about(&format!("`{name}`"));
    let refusal = match refusal.hints() {
        [] => refusal.hint("get it again from whoever made it: `crankline pack seal` makes a file that is read here"),
        _ => refusal,
    };
    let place = |place: Place| {
        let source = SourceText {
            name: format!("{} in {name}", place.source.name),
            text: place.source.text.clone(),
        };
        Place {
            source: Arc::new(source),
            ..place
        }
    };
    let places = error.places.into_iter().map(place).collect();
    Diagnostic { refusal, places }
}

/// Who signed a pack; nobody where it is not signed.
fn signer(files: &[PackFile]) -> Result<Option<PublicKey>, Diagnostic> {
    let text = |name: &str| {
        let file = files.iter().find(|file| file.name == name)?;
        Some(String::from_utf8_lossy(&file.bytes).into_owned())
    };
    let (Some(seal), Some(signature)) = (text(SEAL), text(SIGNATURE)) else {
        return Ok(None);
    };
    let signature = SourceText {
        name: SIGNATURE.to_owned(),
        text: signature,
    };
    signed_by(&seal, signature).map(Some)
}

/// What a pack in a folder is.
pub(crate) enum State {
    /// Somebody writes it here.
    Own,
    /// It was added, and is as it was sealed.
    AsSealed(Option<PublicKey>),
    /// It was added, and differs from what was sealed: in this.
    Changed(String),
}

impl State {
    /// Of a pack.
    pub(crate) fn of(pack: &FoundPack) -> Result<Self, Diagnostic> {
        let Some(seal) = pack.file(SEAL)? else {
            return Ok(Self::Own);
        };
        let files = pack.files()?;
        let difference = match Seal::read(seal) {
            Ok(seal) => seal.differences(&files).into_iter().next(),
            Err(error) => Some(error.refusal.message().to_owned()),
        };
        Ok(match (difference, signer(&files)) {
            (Some(difference), _) => Self::Changed(difference),
            (None, Ok(signer)) => Self::AsSealed(signer),
            (None, Err(error)) => Self::Changed(error.refusal.message().to_owned()),
        })
    }

    /// In a word.
    pub(crate) fn word(&self, origin: &Origin) -> &'static str {
        match self {
            Self::Own if *origin == Origin::Shipped => "shipped",
            Self::Own => "own",
            Self::AsSealed(_) => "as sealed",
            Self::Changed(_) => "changed",
        }
    }

    /// The short name of the key with which it is signed, where it is as it was sealed.
    pub(crate) fn signed_with(&self) -> Option<String> {
        match self {
            Self::AsSealed(signer) => signer.as_ref().map(PublicKey::name),
            Self::Own | Self::Changed(_) => None,
        }
    }

    /// In words, whatever it is.
    pub(crate) fn told(&self, origin: &Origin) -> String {
        match self {
            Self::Own if *origin == Origin::Shipped => "shipped with Crankline".to_owned(),
            Self::Own => "your own, not sealed".to_owned(),
            Self::AsSealed(_) | Self::Changed(_) => self.words(),
        }
    }

    /// In words, for a list.
    pub(crate) fn words(&self) -> String {
        match self {
            Self::Own => String::new(),
            Self::AsSealed(Some(key)) => format!("as sealed, signed with the key {}", key.name()),
            Self::AsSealed(None) => "as sealed, not signed".to_owned(),
            Self::Changed(difference) => format!("changed since it was added: {difference}"),
        }
    }
}
