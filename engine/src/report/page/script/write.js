/**
 * Quantities as the reports write them: `3.16°`, `518 rad/s² (356 to 712)`, `at most 0.51°`, `12 11/16 in less 0.007 in`,
 * to the letter of the engine.
 *
 * How an amount is written is a `spec`, made by `writing` of the engine:
 *
 *     {
 *       "dimension": [0, 0, 0, 0, 0, 12],   // six powers in twelfths
 *       "scale": "point",                   // of a temperature on its scale; else left out
 *       "style": STYLE,                     // what the script says, if it does
 *       "usual": [[0, UNIT], [10, UNIT]],   // else: from which SI size on which unit, rising
 *       "signs": ["left", "right"],         // words for its sign, if it has any
 *       "least": 1e-12                      // below this it is nothing, if there is such a size
 *     }
 *
 * A STYLE is `{"unit": UNIT}`, `{"unit": UNIT, "decimals": 1}` or `{"denominator": 16, "feet": false}` (inches), a UNIT
 * `{"symbol": "mm", "numerator": 1, "divisor": 1000, "offset"?, "slope"?}`, or `null` of a plain number. An interval is
 * `{low, high}` in SI, or null where there is none. Every value, width and support is in SI.
 */

import { digitsFor, fixedDigits, scientificDigits, writeNumber } from "./decimal.js";
import { fromSi, symbolOf, widthFromSi } from "./units.js";

/** An interval this narrow, as a share of the value, is what rounding leaves of none. */
const ROUNDING_SHARE = 1e-9;
/** Significant digits of the numbers put into a formula. */
const WORKING_DIGITS = 6;
/** Beyond this many inches a fraction of one is no longer held by a number. */
const LONGEST_RULE = 1e9;
/** Of a style in fractions. */
const INCH_UNIT = Object.freeze({ symbol: "in", numerator: 254, divisor: 10000 });

/**
 * The style of a spec: its own, else the usual one for an SI size.
 *
 * @param {object} spec
 * @param {number} size
 * @returns {object} a STYLE
 */
export function styleFor(spec, size) {
  if (spec.style !== undefined) return spec.style;
  const reached = Math.abs(size === 0 ? 1 : size);
  const rung = spec.usual.findLast(([from]) => reached >= from) ?? spec.usual[0];
  return { unit: rung[1] };
}

/** A number without its interval: `3.16°`, `0.30° left`. */
export function writeAmount(si, spec) {
  return writeSigned(styleFor(spec, si), si, null, spec);
}

/** A number with its interval: `518 rad/s² (356 to 712)`; `at most 0.51°` where it lies at the edge of what it can be. */
export function writeInterval(si, interval, spec) {
  return writeStyledInterval(styleFor(spec, interval !== null && si === 0 ? interval.high : si), si, interval, spec);
}

/** The same in a given style: of a check, whose two sides have one. */
export function writeStyledInterval(style, si, interval, spec) {
  const shown = interval === null ? null : shownInterval(si, interval, spec);
  if (shown === null) return writeSigned(style, si, null, spec);
  const support = supportOf(style, si, shown);
  // An angle with more than a right angle to both sides points nowhere.
  if (isAngle(spec) && shown.high - shown.low > Math.PI) return "not known";
  if (isResidual(si, shown)) return `at most ${writeSigned(style, shown.high, support, spec)}`;
  return `${writeSigned(style, si, support, spec)} (${writeRange(style, shown, support, spec)})`;
}

/** A value in a style, to the place that its support allows (null: four digits), with a word for its sign. */
export function writeSigned(style, si, support, spec) {
  const value = beside(settled(si, spec), support);
  if (!spec.signs || value === 0) return writeUncertain(style, value, support);
  const [positive, negative] = spec.signs;
  return `${writeUncertain(style, Math.abs(value), support)} ${value < 0 ? negative : positive}`;
}

/** Numbers put into a formula: with as many digits as it takes to do it again. */
export function writePrecise(si, spec) {
  return preciseIn(styleFor(spec, si), settled(si, spec));
}

/** A number as it was entered: all its digits, a word for its sign. */
export function writeEntered(si, spec) {
  const style = styleFor(spec, si);
  if (!spec.signs || si === 0) return preciseIn(style, si);
  const [positive, negative] = spec.signs;
  return `${preciseIn(style, Math.abs(si))} ${si < 0 ? negative : positive}`;
}

/**
 * A reading with its ±: `3.4° ± 0.1°`.
 *
 * @param {number} si
 * @param {number | null} halfWidth null of what is exact
 * @param {object} spec
 * @param {boolean} [holdsAll] whether the ± holds every value; else `(95 in 100)` is said of it
 */
export function writeReading(si, halfWidth, spec, holdsAll = true) {
  if (halfWidth === null) return writeEntered(si, spec);
  const style = styleFor(spec, si);
  const certainty = holdsAll ? "" : " (95 in 100)";
  if (!spec.signs) return `${writePlusMinus(style, si, halfWidth)}${certainty}`;
  return `${writeEntered(si, spec)} ± ${writeHalfWidth(style, halfWidth, si)}${certainty}`;
}

/** A reading and its ±; the ± has up to two significant figures, the value at least its decimals. */
export function writePlusMinus(style, si, halfWidth) {
  if (style.denominator !== undefined) {
    return `${writeStyled(style, si)} ± ${writeNumber(inchesOf(halfWidth), { significant: 2 })} in`;
  }
  const { unit } = style;
  const width = writeNumber(widthFromSi(unit, halfWidth, si), { significant: 2 });
  const own = numberIn(style, si, null);
  const decimals = Math.max(decimalsOf(own), decimalsOf(width));
  const fixed = !own.includes("e") && !width.includes("e");
  const value = fixed ? writeNumber(valueIn(style, si), { decimals }) : own;
  return `${withSymbol(value, unit)} ± ${withSymbol(width, unit)}`;
}

/** A half width about the value `at`, in the unit of a style: `0.15°`. */
export function writeHalfWidth(style, width, at) {
  return withWidthSymbol(style, writeNumber(widthFromSi(unitOf(style), width, at), { significant: 2 }));
}

/** A difference about the value `at`, to the last place of what it is a difference of: `over by 0.86°` beside 3.86°. */
export function writeDifference(style, size, at, support) {
  const unit = unitOf(style);
  const shown = widthFromSi(unit, size, at);
  const place = support === null ? null : digitsFor(shown, widthFromSi(unit, support, at));
  const number = place === null ? "" : writeNumber(shown, place);
  // What turns a verdict is never shown as nothing.
  const fallback = () => writeNumber(shown, { significant: support === null ? 3 : 2 });
  return withWidthSymbol(style, /[1-9]/u.test(number) ? number : fallback());
}

/** Another value `si` of an amount that is `like`, to the power of ten that goes 200 to 2,000 times into a range. */
export function writeTo(si, range, like, spec) {
  const style = styleFor(spec, like);
  const shown = widthFromSi(unitOf(style), range, si);
  const support = range > 0 ? 10 * Number(`2e${exponentOf(shown / 200, 1)}`) * (range / shown) : null;
  return writeSigned(style, si, support, spec);
}

/** A value in the unit in which it was written (null: a plain number), for messages. */
export function writeInUnit(unit, si) {
  return writeUncertain({ unit }, si, null);
}

/** `in 48 of 100 samples`: what a script does not come to in all of them; null where it does. */
export function writeSamples(share) {
  if (share >= 1) return null;
  if (share * 100 < 1) return "in fewer than 1 of 100 samples";
  return `in ${fixedDigits(share * 100 < 99 ? share * 100 : 99, 0)} of 100 samples`;
}

/**
 * The uncertainty, in SI, whose two figures end where a value and both ends of its interval are to end; null where the
 * interval has no width.
 */
export function supportOf(style, at, interval) {
  const halfWidth = (interval.high - interval.low) / 2;
  const shown = widthFromSi(unitOf(style), halfWidth, at);
  if (!(Number.isFinite(shown) && shown > 0)) return null;
  const { digits, exponent } = scientificDigits(shown, 2);
  // In between two powers of ten, so that no rounding can carry it over.
  const power = digits < "50" ? exponent : exponent + 1;
  return halfWidth * (Number(`2e${power}`) / shown);
}

/** An interval without what is nothing but rounding; null where nothing is left. */
function shownInterval(si, interval, spec) {
  const [low, high] = [settled(interval.low, spec), settled(interval.high, spec)];
  if (settled(si, spec) === 0 && low === high) return null;
  return high - low <= ROUNDING_SHARE * Math.abs(si) ? null : { low, high };
}

/** A quantity that cannot be negative and would be (near) zero with the readings as they are: its upper end counts. */
function isResidual(si, { low, high }) {
  return low >= 0 && si >= 0 && si <= low && si <= high / 4;
}

function isAngle({ dimension }) {
  return dimension.every((power, base) => power === (base === 5 ? 12 : 0));
}

function writeRange(style, { low, high }, support, spec) {
  const end = (si) => {
    const number = numberIn(style, beside(si, support), support);
    return symbolIn(style) === "°" ? `${number}°` : number;
  };
  if (!spec.signs) return `${end(low)} to ${end(high)}`;
  if (low < 0 !== high < 0) {
    return `${writeSigned(style, low, support, spec)} to ${writeSigned(style, high, support, spec)}`;
  }
  return high < 0 ? `${end(-high)} to ${end(-low)}` : `${end(low)} to ${end(high)}`;
}

/** Zero where a number is nothing but what rounding left. */
function settled(si, spec) {
  return spec.least !== undefined && Math.abs(si) < spec.least ? 0 : si;
}

/** Zero where a number is below half of the last place shown, a twentieth of the support. */
function beside(si, support) {
  return support !== null && Math.abs(si) < support / 40 ? 0 : si;
}

function preciseIn(style, si) {
  if (style.denominator !== undefined || style.decimals !== undefined) return writeStyled(style, si);
  return withSymbol(writeNumber(valueIn(style, si), { significant: WORKING_DIGITS }), style.unit);
}

function writeStyled(style, si) {
  return writeUncertain(style, si, null);
}

function writeUncertain(style, si, uncertainty) {
  if (style.denominator !== undefined) return writeFraction(inchesOf(si), style.denominator, style.feet);
  return withSymbol(numberIn(style, si, uncertainty), style.unit);
}

/** The number alone, in the unit of a style. */
function numberIn(style, si, uncertainty) {
  const value = valueIn(style, si);
  if (style.denominator !== undefined) return writeNumber(value, { decimals: 3 });
  if (style.decimals !== undefined) return writeNumber(value, { decimals: style.decimals });
  return writeNumber(value, digitsFor(value, uncertainty === null ? null : widthFromSi(style.unit, uncertainty, si)));
}

function valueIn(style, si) {
  return style.denominator !== undefined ? inchesOf(si) : fromSi(style.unit, si);
}

/** An inch is 254/10 000 m exactly. */
function inchesOf(si) {
  return (si * 1e4) / 254;
}

function unitOf(style) {
  return style.denominator !== undefined ? INCH_UNIT : style.unit;
}

function symbolIn(style) {
  return style.denominator !== undefined ? "in" : symbolOf(style.unit);
}

function withSymbol(number, unit) {
  const symbol = symbolOf(unit);
  if (symbol === "") return number;
  return symbol === "°" ? `${number}°` : `${number} ${symbol}`;
}

function withWidthSymbol(style, number) {
  const symbol = symbolIn(style);
  if (symbol === "") return number;
  if (symbol === "°") return `${number}°`;
  return `${number} ${symbol === "°C" ? "K" : symbol}`;
}

function decimalsOf(number) {
  const point = number.indexOf(".");
  return point === -1 ? 0 : Math.min(number.length - point - 1, 255);
}

function exponentOf(value, count) {
  return Number.isFinite(value) ? scientificDigits(value, count).exponent : 0;
}

/** `12 11/16 in`, `4 ft 1 1/2 in`, and by how much the value is more or less. */
function writeFraction(inches, denominator, feet) {
  const size = Math.abs(inches);
  if (Number.isNaN(size) || size >= LONGEST_RULE) return `${writeNumber(inches, { decimals: 3 })} in`;
  const steps = Math.floor(size * denominator + 0.5);
  // A difference of two near numbers holds their rounding: what is a tie but for that goes away from zero.
  const rest = size - steps / denominator;
  const off = writeNumber(rest + (rest < 0 || Object.is(rest, -0) ? -1e-12 : 1e-12), { decimals: 3 });
  const nearest = `${inches < 0 && steps > 0 ? "-" : ""}${writeSteps(steps, denominator, feet)}`;
  if (off === "0.000" || off === "-0.000") return nearest;
  // Beside a negative value, more in size is less in value.
  const less = off.startsWith("-") ? inches > 0 : inches < 0;
  return `${nearest} ${less ? "less" : "plus"} ${off.replace("-", "")} in`;
}

/** A whole number of steps of 1/denominator inch, the fraction in lowest terms. */
function writeSteps(steps, denominator, feet) {
  const foot = 12 * denominator;
  const wholeFeet = feet ? Math.floor(steps / foot) : 0;
  const left = steps - wholeFeet * foot;
  const whole = Math.floor(left / denominator);
  let [above, below] = [left % denominator, denominator];
  while (above > 0 && above % 2 === 0) [above, below] = [above / 2, below / 2];
  const fraction = above === 0 ? "" : `${above}/${below}`;
  const inches = fraction === "" ? `${whole} in` : `${whole === 0 ? "" : `${whole} `}${fraction} in`;
  return wholeFeet > 0 ? `${wholeFeet} ft ${inches}` : inches;
}
