//! Answers kept out of plain sight in a page that checks them: folded and written in base 64. No secret: who wants to
//! work them out from the file can, as from the script.

/// Letters of base 64 (RFC 4648, from memory).
const LETTERS: &[u8; 64] = b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";

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

fn base64(bytes: &[u8]) -> String {
    let mut text = String::with_capacity(bytes.len().div_ceil(3) * 4);
    for three in bytes.chunks(3) {
        let byte = |at: usize| u32::from(three.get(at).copied().unwrap_or(0));
        let bits = byte(0) << 16 | byte(1) << 8 | byte(2);
        for (place, shift) in [18, 12, 6, 0].into_iter().enumerate() {
            let letter = LETTERS.get((bits >> shift) as usize & 63).copied().unwrap_or(b'=');
            text.push(if place <= three.len() { char::from(letter) } else { '=' });
        }
    }
    text
}
