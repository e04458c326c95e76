//! Sealed packs as `pack look` takes them: any bytes are a whole pack or refused, and what was taken is plain.
#![no_main]

use crankline_engine::diagnostic::SourceText;
use crankline_engine::pack::{SEAL, SIGNATURE, Sealed, is_file_of_pack, pack_up, read_cases, signed_by, unpack};
use crankline_fuzz::file;
use libfuzzer_sys::fuzz_target;

/// What an archive may unpack to.
const LARGEST_WHOLE: usize = 32 * 1024 * 1024;

fuzz_target!(|bytes: &[u8]| {
    let Ok(files) = unpack(bytes) else { return };
    assert!(files.iter().map(|file| file.bytes.len()).sum::<usize>() <= LARGEST_WHOLE);
    for file in &files {
        assert!(is_file_of_pack(&file.name) && file.name.is_ascii(), "{:?}", file.name);
    }
    // What came out goes in again and is the same.
    let mut sorted = files.clone();
    sorted.sort_by(|a, b| a.name.cmp(&b.name));
    let again = pack_up(&sorted).ok().and_then(|packed| unpack(&packed).ok());
    assert!(again == Some(sorted), "what is packed comes out again");

    let Ok(sealed) = Sealed::of(files) else { return };
    assert!(sealed.seal.differences(&sealed.files).is_empty());
    let text = |name: &str| -> Option<SourceText> {
        let found = sealed.files.iter().find(|file| file.name == name)?;
        Some(file(name, &String::from_utf8_lossy(&found.bytes)))
    };
    if let (Some(seal), Some(signature)) = (text(SEAL), text(SIGNATURE)) {
        let _ = signed_by(&seal.text, signature).map(|key| key.name());
    }
    for found in sealed.files.iter().filter(|file| file.name.ends_with(".cases.toml")) {
        let _ = text(&found.name).map(read_cases);
    }
});
