//! Answers kept out of plain sight in a page that checks them: folded and written in base 64. No secret: who wants to
//! work them out from the file can, as from the script.

use crate::report::page::base64;

/// A text folded with a key: `unsealed` of the page's `exercise.js` unfolds it.
pub(super) fn sealed(text: &str, key: u32) -> String {
    let mut stream = Stream(key | 1);
    let folded: Vec<u8> = text.bytes().map(|byte| byte ^ stream.next()).collect();
    base64(&folded)
}

/// Marsaglia's xorshift with 13, 17, 5 (from memory).
struct Stream(u32);

impl Stream {
    fn next(&mut self) -> u8 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 17;
        self.0 ^= self.0 << 5;
        self.0.to_le_bytes()[0]
    }
}
