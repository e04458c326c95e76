/** Long lists of whole numbers in fewer letters, as `engine/src/report/page/packed.rs` writes them. */

const PACKED_DIGITS = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789!#$%&'()*+,-./:;=>?@[]^_`{|}~ ";
/** The first digits end a number, the others say that more of it follows. */
const PACKED_LAST = 60;
const PACKED_MORE = 32;

/**
 * Data with its packed lists as numbers again: a reviver for `JSON.parse`.
 *
 * @param {string} name
 * @param {unknown} value
 */
export function unpacked(name, value) {
  if (typeof value?.["~"] !== "string") return value;
  const numbers = packedNumbers(value["~"]);
  const { of } = value;
  if (of === undefined) return numbers;
  return Array.from({ length: numbers.length / of }, (_, row) => numbers.slice(row * of, (row + 1) * of));
}

function packedNumbers(text) {
  const digits = new Map(Array.from(PACKED_DIGITS, (digit, number) => [digit, number]));
  const numbers = [];
  let [size, place] = [0, 1];
  for (const letter of text) {
    const digit = digits.get(letter);
    size += digit * place;
    place *= PACKED_MORE;
    if (digit < PACKED_LAST) {
      numbers.push(size % 2 === 0 ? size / 2 : -(size - 1) / 2);
      [size, place] = [0, 1];
    }
  }
  return numbers;
}
