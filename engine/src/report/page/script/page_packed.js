/** Long lists of whole numbers in fewer letters, as `engine/src/report/page/packed.rs` writes them. */

const PACKED_DIGITS = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";

/**
 * Data with its packed lists as numbers again: a reviver for `JSON.parse`.
 *
 * @param {string} name
 * @param {unknown} value
 */
export function unpacked(name, value) {
  return typeof value?.["~"] === "string" ? packedNumbers(value["~"]) : value;
}

function packedNumbers(text) {
  const digits = new Map(Array.from(PACKED_DIGITS, (digit, number) => [digit, number]));
  const numbers = [];
  let [size, place] = [0, 1];
  for (const letter of text) {
    const digit = digits.get(letter);
    size += (digit & 31) * place;
    place *= 32;
    if (digit < 32) {
      numbers.push(size % 2 === 0 ? size / 2 : -(size - 1) / 2);
      [size, place] = [0, 1];
    }
  }
  return numbers;
}
