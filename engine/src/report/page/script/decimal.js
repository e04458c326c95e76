/**
 * Numbers as decimal digits, rounded as people round: first to 15 significant digits, then half away from zero. The same
 * digits as the engine's.
 */

/** How many significant digits of a number are believed. */
const BELIEVED_DIGITS = 15;
/** So many decimals, exact to the last, tell every half from what is beside it. */
const LONGEST_EXACT = 100;
/** So many digits behind those that are kept tell it of nearly every number. */
const FEW_MORE = 2;

/**
 * A number in decimal digits. Below 0.00001 and from a thousand million on it has a power of ten (`1.2e-9`); where a
 * number of decimals is fixed, only from 10¹⁵ on.
 *
 * @param {number} value
 * @param {{decimals: number} | {place: number} | {significant: number}} digits
 *   so many decimals; or the last digit counts ten to this power, zeros kept; or up to so many significant digits
 * @returns {string}
 */
export function writeNumber(value, digits) {
  if (Number.isNaN(value)) return "not a number";
  if (!Number.isFinite(value)) return "infinite";
  const decimal = decimalOf(value);
  const lead = decimal.exponent;
  const significant = digits.significant !== undefined;
  const place = significant ? lead - Math.max(digits.significant, 1) + 1 : (digits.place ?? -digits.decimals);
  const [lowest, highest] = digits.decimals !== undefined ? [-400, 15] : [-5, 9];
  if (isZeroDecimal(decimal) || (lead >= lowest && lead < highest)) {
    if (!significant) return fixedDecimal(roundedDecimal(decimal, place), place);
    const shown = Math.min(place, 0);
    return withoutIdleZeros(fixedDecimal(roundedDecimal(decimal, shown), shown));
  }
  // Rounding may carry into a new leading digit: 9.99e9 becomes 1e10.
  const rounded = roundedDecimal(decimal, Math.min(place, lead));
  const text = fixedDecimal({ ...rounded, exponent: 0 }, Math.min(place - rounded.exponent, 0));
  return `${digits.place !== undefined ? text : withoutIdleZeros(text)}e${rounded.exponent}`;
}

/**
 * The digits that a standard uncertainty supports: two figures of it decide the last place shown, but never more than ten
 * significant digits of the value. Without an uncertainty four significant digits. Both in the same unit.
 *
 * @param {number} value
 * @param {number | null} uncertainty
 * @returns {{place: number} | {significant: number}}
 */
export function digitsFor(value, uncertainty) {
  const width = uncertainty !== null && Number.isFinite(uncertainty) ? decimalOf(uncertainty) : null;
  if (width === null || isZeroDecimal(width)) return { significant: 4 };
  const place = roundedDecimal(width, width.exponent - 1).exponent - 1;
  const decimal = Number.isFinite(value) ? decimalOf(value) : null;
  const finest = decimal !== null && !isZeroDecimal(decimal) ? decimal.exponent - 9 : place;
  return { place: Math.max(place, finest) };
}

/**
 * The digits of a size and its power of ten, `d₀.d₁d₂… · 10^exponent`; what lies half between goes to the even digit, as
 * the engine's formatting does (the browser's own goes up).
 *
 * @param {number} value finite
 * @param {number} count at least 1
 * @returns {{digits: string, exponent: number}}
 */
export function scientificDigits(value, count) {
  const size = Math.abs(value);
  // All digits take long, and only a number that lies all but half between needs them.
  const few = count < 20 ? digitsToRound(size, count, count + FEW_MORE - 1) : null;
  const isClear = few !== null && !/^(49|50)/u.test(few.rest);
  const { kept, rest, exponent } = isClear ? few : digitsToRound(size, count, LONGEST_EXACT);
  const half = "5".padEnd(rest.length, "0");
  const up = rest > half || (rest === half && "13579".includes(kept.at(-1)));
  const decimal = { negative: false, digits: kept, exponent };
  const { digits, exponent: carried } = up ? oneMore(decimal) : decimal;
  return { digits: digits.slice(0, count), exponent: carried };
}

/** The digits of a size that are kept and those behind them, with so many decimals to its power of ten. */
function digitsToRound(size, count, decimals) {
  const [mantissa, exponent] = size.toExponential(decimals).split("e");
  const all = mantissa.replace(".", "");
  return { kept: all.slice(0, count), rest: all.slice(count), exponent: Number(exponent) };
}

/** A number in all the digits that tell it from its neighbours, without a power of ten. */
export function plainDigits(value) {
  if (Number.isNaN(value)) return "NaN";
  if (!Number.isFinite(value)) return value < 0 ? "-inf" : "inf";
  const { digits, exponent } = shortestDigits(Math.abs(value));
  const sign = value < 0 || Object.is(value, -0) ? "-" : "";
  if (exponent < 0) return `${sign}0.${"0".repeat(-exponent - 1)}${digits}`;
  const whole = digits.slice(0, exponent + 1).padEnd(exponent + 1, "0");
  const rest = digits.slice(exponent + 1);
  return `${sign}${whole}${rest === "" ? "" : `.${rest}`}`;
}

/** The fewest digits that tell a size from its neighbours; of two that do as well, the larger, as the engine has it. */
function shortestDigits(size) {
  const [mantissa, power] = size.toExponential().split("e");
  const short = { digits: mantissa.replace(".", ""), exponent: Number(power) };
  const exact = size.toExponential(LONGEST_EXACT).replace(".", "");
  if (!exact.startsWith(short.digits) || !/^50*e/u.test(exact.slice(short.digits.length))) return short;
  const larger = oneMore(short);
  return Number(`${larger.digits[0]}.${larger.digits.slice(1)}e${larger.exponent}`) === size ? larger : short;
}

/** A size below 10⁸⁰ with that many decimals, what lies half between to the even digit. */
export function fixedDigits(size, decimals) {
  const count = scientificDigits(size, 1 + LONGEST_EXACT).exponent + 1 + decimals;
  const none = { digits: "0", exponent: -decimals };
  const short = () => (count < 0 ? none : roundedAway(size, decimals));
  const { digits, exponent } = count > 0 ? scientificDigits(size, count) : short();
  return fixedDecimal({ negative: false, digits, exponent }, -decimals);
}

/** Of a number below one in the last place: that, where it is more than half of one. */
function roundedAway(size, decimals) {
  const { digits } = scientificDigits(size, 1 + LONGEST_EXACT);
  return { digits: digits > "5".padEnd(digits.length, "0") ? "1" : "0", exponent: -decimals };
}

/** The digits that are believed: `{negative, digits, exponent}`. */
function decimalOf(value) {
  return { negative: value < 0, ...scientificDigits(value, BELIEVED_DIGITS) };
}

function isZeroDecimal({ digits }) {
  return /^0*$/u.test(digits);
}

/** Rounded so that the last digit counts 10^place. */
function roundedDecimal(decimal, place) {
  const zero = { negative: false, digits: "0", exponent: Math.min(place, 0) };
  const kept = decimal.exponent - place + 1;
  if (kept < 0) return zero;
  const up = (decimal.digits[kept] ?? "0") >= "5";
  const short = { ...decimal, digits: decimal.digits.slice(0, kept) };
  const rounded = up ? oneMore(short) : short;
  return rounded.digits === "" ? zero : rounded;
}

/** One more in the last place. */
function oneMore(decimal) {
  const nines = /9*$/u.exec(decimal.digits)[0].length;
  const before = decimal.digits.slice(0, decimal.digits.length - nines);
  const zeros = "0".repeat(nines);
  if (before === "") return { ...decimal, digits: `1${zeros}`, exponent: decimal.exponent + 1 };
  const raised = before.slice(0, -1) + String(Number(before.at(-1)) + 1);
  return { ...decimal, digits: raised + zeros };
}

/** Written out down to 10^place; a number already rounded there. */
function fixedDecimal(decimal, place) {
  const digit = (power) => decimal.digits[decimal.exponent - power] ?? "0";
  let text = decimal.negative && !isZeroDecimal(decimal) ? "-" : "";
  for (let power = Math.max(decimal.exponent, 0); power >= 0; power -= 1) text += digit(power);
  if (place < 0) {
    text += ".";
    for (let power = -1; power >= place; power -= 1) text += digit(power);
  }
  return text;
}

function withoutIdleZeros(text) {
  return text.includes(".") ? text.replace(/0+$/u, "").replace(/\.$/u, "") : text;
}
