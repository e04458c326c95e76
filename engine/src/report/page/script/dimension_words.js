/** Dimensions in words, for messages: "a length", "a torque or energy". */

import { nameOfKnownDimension } from "./units.js";

/**
 * What a dimension is called; what has no name is spelled as a product: `"length² / time"`.
 *
 * @param {number[]} dimension six powers in twelfths
 * @returns {string}
 */
export function nameOfDimension(dimension) {
  return nameOfKnownDimension(dimension) ?? dimensionAsProduct(dimension);
}

/** A name with its article: `"a length"`, `"an angle"`. */
export function withArticle(name) {
  return `${/^[aeiou]/u.test(name) ? "an" : "a"} ${name}`;
}

function dimensionAsProduct([length, mass, time, current, temperature, angle]) {
  // The mass comes first, as in SI.
  const powers = Object.entries({ mass, length, time, current, temperature, angle });
  const side = (sign) =>
    powers.filter(([, power]) => sign * power > 0).map(([word, power]) => poweredWord(word, sign * power));
  const above = side(1).join(" · ") || "1";
  const below = side(-1);
  if (below.length === 0) return above;
  return `${above} / ${below.length === 1 ? below[0] : `(${below.join(" · ")})`}`;
}

/** `length²`, `length^(1/2)`: raised digits for whole powers below ten. */
function poweredWord(word, twelfths) {
  const whole = twelfths / 12;
  if (Number.isInteger(whole)) return whole < 10 ? word + ["", "", ..."²³⁴⁵⁶⁷⁸⁹"][whole] : `${word}^${whole}`;
  const shared = [12, 6, 4, 3, 2].find((divisor) => twelfths % divisor === 0) ?? 1;
  return `${word}^(${twelfths / shared}/${12 / shared})`;
}
