/**
 * A unit as somebody wrote it: none, one of the table, or a product of powers, `W/(m^2 K)`. A slash takes the one factor
 * after it; what is ambiguous, `W/m K`, is refused.
 */

import { bytesOf, quotedText, withoutSpaceAround, withoutSpaceBefore } from "./characters.js";
import { ReadFailure } from "./scan.js";
import { RAISED_DIGITS, describedWord, unitWords, wholeNumber } from "./unit_words.js";
import { findWrittenUnit, isPointUnit, nearestUnit, sameDimension, unitsMeant } from "./units.js";

/** The highest power of one unit, and how deep brackets may nest. */
const HIGHEST_POWER = 12;
const DEEPEST_BRACKET = 8;
/** The longest text that is read, in bytes. */
const LONGEST_TEXT = 256;
/** What the engine counts powers in: none leaves this. */
const POWER_LIMIT = 2147483647;
const SMALLEST_FACTOR = 2.2250738585072014e-308;

/**
 * Reads an identifier, a symbol, a usual spelling or a product of powers; an empty text is no unit, `null`.
 *
 * @param {string} text
 * @returns {object | null}
 * @throws {ReadFailure}
 */
export function readUnit(text) {
  const trimmed = withoutSpaceAround(text);
  if (trimmed === "") return null;
  const known = findWrittenUnit(trimmed);
  if (known !== undefined) return known;
  try {
    return readProduct(trimmed);
  } catch (failure) {
    if (!(failure instanceof ReadFailure)) throw failure;
    // A single unknown word: the words with spaces are among the near misses too.
    const whole = failure.at[0] === 0 && failure.at[1] === trimmed.length && !/[/(^]/u.test(trimmed);
    const about = whole ? unknownUnit(trimmed, failure.at) : failure;
    throw about.shifted(text.length - withoutSpaceBefore(text).length);
  }
}

/** Refuses a text that is too long to be a quantity. */
export function refuseLongText(text) {
  const bytes = bytesOf(text);
  if (bytes <= LONGEST_TEXT) return;
  let start = 0;
  let before = 0;
  for (const character of text) {
    if (before >= LONGEST_TEXT) break;
    start += character.length;
    before += bytesOf(character);
  }
  throw new ReadFailure([start, text.length], `a text of ${bytes} bytes is too long: ${LONGEST_TEXT} at most`);
}

function readProduct(text) {
  refuseLongText(text);
  const whole = [0, text.length];
  const reader = new ProductReader(text);
  const product = reader.product(0);
  const left = reader.peek();
  if (left !== undefined) throw new ReadFailure(left.at, `${describedWord(left)} has no place here`);
  if (product.powers.some((power) => Math.abs(power) >= 1000)) throw new ReadFailure(whole, "the powers are too high");
  const dimension = withoutIdleAngle(product.powers.map((power) => 12 * power));
  const factor = product.numerator / product.divisor;
  if (!(Math.abs(factor) >= SMALLEST_FACTOR && Math.abs(factor) < Infinity)) {
    throw new ReadFailure(whole, "the unit is too large or too small");
  }
  if (isMotionWithAngle(dimension)) {
    const message = "a speed or a flow cannot have an angle in its unit";
    throw new ReadFailure(whole, message, "leave the angle away where the length is a radius");
  }
  const shown = shownProduct(product);
  const alone = findWrittenUnit(shown);
  // `lb ft` and `mm/m` by themselves are a torque and a slope; as the products they stand in brackets.
  const symbol = alone !== undefined && !sameDimension(alone.dimension, dimension) ? `(${shown})` : shown;
  return { symbol, dimension, numerator: product.numerator, divisor: product.divisor };
}

/** An angle is dropped where a length but no time is in a dimension, and where a mass and a length are. */
function withoutIdleAngle([length, mass, time, current, temperature, angle]) {
  const idle = length !== 0 && (time === 0 || mass !== 0);
  return [length, mass, time, current, temperature, idle ? 0 : angle];
}

/** Whether this is a speed, an acceleration, a flow or a mass flow that still holds an angle. */
function isMotionWithAngle(dimension) {
  const motions = [[1, 0, -1], [1, 0, -2], [3, 0, -1], [2, 0, -1], [0, 1, -1]];
  const bare = (motion) => sameDimension([...dimension.slice(0, 5), 0], [...motion.map((power) => 12 * power), 0, 0, 0]);
  return dimension[5] !== 0 && motions.some(bare);
}

class ProductReader {
  constructor(text) {
    this.words = unitWords(text);
    this.next = 0;
    this.end = [text.length, text.length];
  }

  peek() {
    return this.words[this.next];
  }

  step(kind) {
    const found = this.peek()?.kind === kind;
    if (found) this.next += 1;
    return found;
  }

  /** factor { [·] factor | / factor }, until a closing bracket or the end. */
  product(depth) {
    const product = { numerator: 1, divisor: 1, powers: [0, 0, 0, 0, 0, 0], above: [], below: [] };
    takeFactor(product, ...this.factor(depth));
    let slashed = false;
    for (;;) {
      const slash = this.step("slash");
      const times = !slash && this.step("times");
      const word = this.peek();
      if (word === undefined) {
        if (slash || times) throw new ReadFailure(this.end, "a unit is missing at the end");
        return product;
      }
      if (!slash && !times && word.kind === "close") return product;
      if (slashed && !slash) {
        const message = "it is not clear whether this unit stands below the slash";
        throw new ReadFailure(word.at, message, "write brackets: W/(m K)");
      }
      slashed ||= slash;
      const [factor, power] = this.factor(depth);
      takeFactor(product, factor, slash ? -power : power);
    }
  }

  /** A unit, a one or a bracket, and its power. */
  factor(depth) {
    const word = this.peek();
    if (word === undefined) throw new ReadFailure(this.end, "a unit is missing");
    this.next += 1;
    if (word.kind === "name") {
      const [unit, power] = namedUnit(word.value, word.at);
      return [factorOf(unit), power ?? this.power()];
    }
    if (word.kind === "number" && word.value === 1 && this.next === 1 && this.peek()?.kind === "slash") {
      return [{ numerator: 1, divisor: 1, powers: [0, 0, 0, 0, 0, 0], above: [], below: [] }, this.power()];
    }
    if (word.kind !== "open") throw new ReadFailure(word.at, `a unit was expected, not ${describedWord(word)}`);
    if (depth >= DEEPEST_BRACKET) throw new ReadFailure(word.at, "brackets nest too deep");
    const inner = this.product(depth + 1);
    if (!this.step("close")) throw new ReadFailure(word.at, "this bracket is not closed");
    return [inner, this.power()];
  }

  power() {
    const word = this.peek();
    if (word?.kind !== "power") return 1;
    this.next += 1;
    return powerInRange(word.value, word.at);
  }
}

function powerInRange(power, at) {
  if (power !== 0 && Math.abs(power) <= HIGHEST_POWER) return power;
  throw new ReadFailure(at, `a power of a unit is a whole number from 1 to ${HIGHEST_POWER}, or less than 0`);
}

/** The unit of a name, or of a name with its power at the end: `s2`. */
function namedUnit(name, at) {
  const known = findWrittenUnit(name);
  if (known !== undefined) return [usableUnit(known, at), undefined];
  const bare = name.replace(/[0-9]+$/u, "");
  const unit = findWrittenUnit(bare);
  const power = wholeNumber(name.slice(bare.length));
  if (unit === undefined || power === null) throw unknownUnit(name, at);
  return [usableUnit(unit, at), powerInRange(power, at)];
}

function unknownUnit(name, at) {
  const message = `${quotedText(name)} is no unit that is known`;
  const meant = unitsMeant(name);
  if (meant.length > 0) return new ReadFailure(at, message, `did you mean ${meant.join(" or ")}?`);
  const near = nearestUnit(name);
  return new ReadFailure(at, message, near === undefined ? undefined : `did you mean ${near.name}?`);
}

function usableUnit(unit, at) {
  if (isPointUnit(unit)) {
    const message = `${unit.symbol} is a point on a temperature scale, and a product needs a difference`;
    throw new ReadFailure(at, message, `write delta_${unit.name} or K`);
  }
  if (unit.slope) {
    throw new ReadFailure(at, `${unit.symbol} is a slope, and has no place in a product`, "write rad or deg");
  }
  return unit;
}

function factorOf(unit) {
  const powers = unit.dimension.map((power) => Math.trunc(power / 12));
  return { numerator: unit.numerator, divisor: unit.divisor, powers, above: [groupedSymbol(unit)], below: [] };
}

/** Multiplies a product by another to a power, in the engine's order of operations. */
function takeFactor(product, other, power) {
  const size = Math.abs(power);
  const [above, below] = power < 0 ? [other.divisor, other.numerator] : [other.numerator, other.divisor];
  for (let count = 0; count < size; count += 1) {
    product.numerator *= above;
    product.divisor *= below;
  }
  const clamped = (sum) => Math.max(-POWER_LIMIT - 1, Math.min(POWER_LIMIT, sum));
  product.powers = product.powers.map((mine, base) => clamped(mine + clamped(other.powers[base] * power)));
  const [up, down] = power < 0 ? [other.below, other.above] : [other.above, other.below];
  product.above.push(...up.map((part) => raisedSymbol(part, size)));
  product.below.push(...down.map((part) => raisedSymbol(part, size)));
}

function shownProduct({ above, below }) {
  const over = above.length === 0 ? "1" : above.join(" ");
  if (below.length === 0) return over;
  return below.length === 1 ? `${over}/${below[0]}` : `${over}/(${below.join(" ")})`;
}

/** A symbol as a factor: a product in brackets; what would read as something else by its name. */
function groupedSymbol({ symbol, name }) {
  const words = symbol.split(/[ /()]/u).map((word) => splitPower(word)[0]);
  const clear = words.every((word) => word === "" || findWrittenUnit(word) !== undefined);
  if (!clear || symbol.endsWith("/°")) return name;
  return /[ /]/u.test(symbol) ? `(${symbol})` : symbol;
}

function raisedSymbol(part, power) {
  if (power === 1) return part;
  const [base, already] = splitPower(part);
  return base + Array.from(String(already * power), (digit) => RAISED_DIGITS[Number(digit)]).join("");
}

/** A symbol and the power that stands raised at its end. */
function splitPower(part) {
  const base = part.replace(/[⁰¹²³⁴⁵⁶⁷⁸⁹]+$/u, "");
  const digits = Array.from(part.slice(base.length), (digit) => RAISED_DIGITS.indexOf(digit));
  return [base, Math.max(Number(digits.join("")), 1)];
}
