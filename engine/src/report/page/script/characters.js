/**
 * Characters and words as the engine sorts them: by their Unicode properties, not by what the browser's own `trim` and
 * `\s` take for space.
 */

/** Whether a character is white space. */
export function isSpace(character) {
  return /^\p{White_Space}$/u.test(character);
}

/** Whether a character is a letter of any script. */
export function isLetter(character) {
  return /^\p{Alphabetic}$/u.test(character);
}

/** Whether a character is one of 0 to 9. */
export function isDigit(character) {
  return character.length === 1 && character >= "0" && character <= "9";
}

/** The first character of a text, a whole one; "" of an empty text. */
export function firstCharacter(text) {
  return text === "" ? "" : String.fromCodePoint(text.codePointAt(0));
}

/** A text without white space at its front. */
export function withoutSpaceBefore(text) {
  return text.replace(/^\p{White_Space}+/u, "");
}

/** A text without white space at its end. */
export function withoutSpaceAfter(text) {
  let end = text.length;
  // White space is never a surrogate pair.
  while (end > 0 && isSpace(text[end - 1])) end -= 1;
  return text.slice(0, end);
}

/** A text without white space at both ends. */
export function withoutSpaceAround(text) {
  return withoutSpaceAfter(withoutSpaceBefore(text));
}

/** The words of a text, between white space. */
export function wordsOf(text) {
  return text.split(/\p{White_Space}+/u).filter((word) => word !== "");
}

/** How many bytes a text takes in UTF-8. */
export function bytesOf(text) {
  return new TextEncoder().encode(text).length;
}

/** A text in quotes, with what cannot be seen spelled out: `"a\tb"`. */
export function quotedText(text) {
  return `"${Array.from(text, (character) => spelledOut(character, '"')).join("")}"`;
}

/** A character in quotes. */
export function quotedCharacter(character) {
  return `'${spelledOut(character, "'")}'`;
}

function spelledOut(character, quote) {
  const short = { "\0": "\\0", "\t": "\\t", "\r": "\\r", "\n": "\\n", "\\": "\\\\", [quote]: `\\${quote}` };
  if (Object.hasOwn(short, character)) return short[character];
  const unseen = /[\p{Grapheme_Extend}\p{C}\p{Z}]/u.test(character) && character !== " ";
  return unseen ? `\\u{${character.codePointAt(0).toString(16)}}` : character;
}
