//! `pack key`: a key to seal packs with, and the one by which others know who sealed them.

use super::made;
use crate::arguments::Common;
use crate::disk;
use crate::screen::Io;
use crankline_engine::diagnostic::{Diagnostic, Refusal};
use crankline_engine::pack::SecretKey;

/// Makes a pair of keys.
pub(super) fn run(file: Option<&str>, common: &Common, io: &Io<'_>) -> Result<String, Diagnostic> {
    let file = made(file, common)?.ok_or_else(|| {
        Refusal::new("key", "nobody has named the file for the key").hint("crankline pack key shop.key")
    })?;
    let mut bytes = [0; 32];
    getrandom::fill(&mut bytes)
        .map_err(|_| Refusal::new("key", "this machine gives no random numbers to make a key of"))?;
    let key = SecretKey::of(&bytes);
    let public = format!("{file}.pub");
    disk::write_new_bytes(&io.directory.join(&public), &public, key.public().text()?.as_bytes())?;
    disk::write_secret(&io.directory.join(file), file, key.text()?.as_bytes())?;
    Ok(format!(
        "written to {file}: the key to seal with, which nobody else may see\nwritten to {public}: give it to whoever \
         gets your packs; its name is {}\n",
        key.public().name()
    ))
}
