/**
 * Amounts in a text: a number with its unit, several that follow each other (`4 ft 1-1/2 in`, `11° 30' 15"`), three
 * numbers in brackets.
 */

import { firstCharacter, isLetter, isSpace, withoutSpaceBefore } from "./characters.js";
import { plainDigits } from "./decimal.js";
import { ReadFailure } from "./scan.js";
import { readUnit } from "./unit_text.js";
import { dimensionOf, findUnit, isPointUnit, sameDimension, symbolOf, toSi } from "./units.js";
import { startsNumber, takeNumber } from "./written_number.js";

/** What may follow what, and how many of it make one of the larger. */
const SMALLER_PARTS = Object.freeze([
  ["ft", "inch", 12],
  ["deg", "arcmin", 60],
  ["arcmin", "arcsec", 60],
  ["h", "min", 60],
  ["min", "s", 60],
  ["lb", "oz", 16],
]);

const ANGLE_POWERS = Object.freeze([0, 0, 0, 0, 0, 12]);

/**
 * Reads a piece of text as one amount; nothing may be left.
 *
 * @param {TextScan} piece
 * @returns {{number: object, unit: object | null, parts: number, inParts: boolean}}
 *   the first number and its unit; the smaller parts in SI, without the sign, and whether there are any
 * @throws {ReadFailure}
 */
export function readAmount(piece) {
  const scan = piece.trimmed();
  const number = takeNumber(scan);
  const unit = amountUnit(takeUnitText(scan, number), null);
  const amount = { number, unit, parts: 0, inParts: false };
  let larger = [number, unit];
  while (!scan.isEmpty()) {
    const next = takeNumber(scan);
    const smaller = amountUnit(takeUnitText(scan, next), larger[1]);
    checkPart(larger, next, smaller);
    amount.parts += toSi(smaller, next.value);
    amount.inParts = true;
    larger = [next, smaller];
  }
  return amount;
}

/** The SI value of an amount, in a unit that may have been found elsewhere. */
export function amountInSi(amount, unit) {
  const first = toSi(unit, amount.number.value);
  return amount.number.negative ? first - amount.parts : first + amount.parts;
}

/** Takes what stands between a number and the next one. */
function takeUnitText(scan, after) {
  const [piece, rest] = scan.split(nextNumber(scan.rest) ?? scan.rest.length);
  scan.goTo(rest);
  let text = piece.trimmed();
  // 4'-1 1/2" and 4 ft - 1 1/2 in: a hyphen that joins, as on drawings.
  if (!scan.isEmpty() && /[ '′’]-$/u.test(text.rest)) text = text.split(text.rest.length - 1)[0].trimmed();
  if (/^[-–−]/u.test(text.rest)) {
    const range = startsNumber(firstCharacter(withoutSpaceBefore(text.rest.slice(1)))) || !scan.isEmpty();
    const hint = "write 48-1/16 in for a mixed number, 3.4 +/- 0.1 deg for what lies between limits";
    throw new ReadFailure(text.span(), "a stroke after a number is no unit", range ? hint : undefined);
  }
  if (text.isEmpty() && !scan.isEmpty()) {
    const at = [after.at[0], scan.at];
    throw new ReadFailure(at, "two numbers stand beside each other", "write 1234 mm, 12 11/16 in, 4 ft 1 in");
  }
  if (after.onlyPlain !== null && !text.isEmpty()) throw after.onlyPlain;
  return text;
}

/**
 * Where the next number starts: a digit after white space or after a mark for feet, inches or degrees (`4'1"`), with its
 * sign. Other digits belong to a unit: `mm2`, `m^-2`, `1/s`, `ohm/1000 ft`.
 */
function nextNumber(rest) {
  let before = " ";
  let sign = null;
  let at = 0;
  for (const character of rest) {
    if (startsNumber(character) && at > 0 && !isInverse(rest.slice(at))) {
      if (isSpace(before) || isPartMark(before)) return at;
      if (sign !== null) return sign;
    }
    // A sign after white space belongs to the number; right after a mark it is a joint: 4'-1".
    if ("-−+".includes(character) && isSpace(before) && at > 0) sign = at;
    else if ("-–".includes(character) && isPartMark(before)) sign = at + character.length;
    else sign = null;
    before = character;
    at += character.length;
  }
  return undefined;
}

/** Whether this is the front of a unit such as 1/s. */
function isInverse(rest) {
  if (!rest.startsWith("1/")) return false;
  const after = firstCharacter(rest.slice(2));
  return after === "(" || isLetter(after);
}

function isPartMark(character) {
  return "'\"°′″’”".includes(character);
}

/** The unit of a text; `'` and `"` after an angle are its minutes and seconds. */
function amountUnit(text, after) {
  const plain = text.rest.replace(/[′’]/gu, "'").replace(/[″”]/gu, '"');
  const afterAngle = after !== null && sameDimension(after.dimension, ANGLE_POWERS);
  const marks = afterAngle ? { "'": "arcmin", '"': "arcsec", "''": "arcsec" } : { "''": "inch" };
  try {
    return readUnit(Object.hasOwn(marks, plain) ? marks[plain] : plain);
  } catch (failure) {
    // Marks are longer than what they stand for: a place within them is not kept.
    if (!(failure instanceof ReadFailure)) throw failure;
    throw plain === text.rest ? failure.shifted(text.at) : new ReadFailure(text.span(), failure.message, failure.hint);
  }
}

/** Whether a part may follow a larger one: 1-1/2 in after 4 ft. */
function checkPart([largerNumber, largerUnit], part, unit) {
  if (unit === null) {
    const message = `the number after ${symbolOf(largerUnit)} has no unit`;
    throw new ReadFailure(part.at, message, "write 4 ft 1-1/2 in, 11° 30'");
  }
  const at = [largerNumber.at[0], part.at[1]];
  const known = SMALLER_PARTS.find(([large, small]) => isNamed(largerUnit, large) && isNamed(unit, small));
  if (known === undefined) {
    const message = `an amount in ${symbolOf(largerUnit)} cannot go on in ${unit.symbol}`;
    throw new ReadFailure(at, message, "write 4 ft 1-1/2 in, 11° 30', or one number with its unit");
  }
  if (!largerNumber.whole) {
    const message = `the number before ${largerUnit.symbol} must be whole where smaller parts follow`;
    throw new ReadFailure(largerNumber.at, message);
  }
  if (part.signed) throw new ReadFailure(part.at, "a sign stands at the very front only");
  const [, , count] = known;
  if (part.value >= count) {
    const message = `${plainDigits(part.value)} ${unit.symbol} are ${largerUnit.symbol} or more`;
    throw new ReadFailure(at, message, `below ${count} are expected here`);
  }
}

function isNamed(unit, name) {
  return unit !== null && unit === findUnit(name);
}

/**
 * `(905, 22, -70) mm`, or each with a unit of its own: `(905 mm, 22 mm, -7 cm)`.
 *
 * @param {TextScan} main
 * @returns {[object[], object | null]} the three amounts, and their unit
 * @throws {ReadFailure}
 */
export function readVector(main) {
  const close = closingBracket(main.rest);
  if (close === undefined) {
    throw new ReadFailure([main.at, main.at + 1], "this bracket is not closed", "write (905, 22, -70) mm");
  }
  const [inside, after] = main.split(close);
  after.take(1);
  inside.take(1);
  const amounts = vectorComponents(inside);
  const shared = sharedUnitText(after.trimmed());
  if (amounts.length !== 3) {
    const message = `a vector has three numbers, here are ${amounts.length}`;
    throw new ReadFailure(main.span(), message, "write (905, 22, -70) mm, and no comma within a number");
  }
  return [amounts, vectorUnit(amounts, shared, main.span())];
}

function sharedUnitText(text) {
  try {
    return readUnit(text.rest);
  } catch (failure) {
    throw failure instanceof ReadFailure ? failure.shifted(text.at) : failure;
  }
}

/** The one unit of a vector, behind it or in all three places. */
function vectorUnit(amounts, shared, at) {
  const own = amounts.filter((amount) => amount.unit !== null).length;
  if (own === 0) {
    const refused = amounts.find((amount) => amount.number.onlyPlain !== null);
    if (refused !== undefined && shared !== null) throw refused.number.onlyPlain;
    return shared;
  }
  if (own < 3 || shared !== null) {
    const message = "a vector has one unit behind its bracket, or one at each of its three numbers";
    throw new ReadFailure(at, message, "write (905, 22, -70) mm");
  }
  const [{ unit: first }] = amounts;
  const differs = ({ unit }) =>
    !sameDimension(dimensionOf(unit), dimensionOf(first)) || isPointUnit(unit) !== isPointUnit(first);
  if (amounts.some(differs)) throw new ReadFailure(at, "the three numbers of a vector measure different things");
  return first;
}

/** Where the bracket that opens the text is closed. */
function closingBracket(text) {
  let depth = 0;
  for (let at = 0; at < text.length; at += 1) {
    if (text[at] === "(") depth += 1;
    if (text[at] !== ")") continue;
    if (depth <= 1) return at;
    depth -= 1;
  }
  return undefined;
}

function vectorComponents(inside) {
  const amounts = [];
  let rest = inside;
  for (;;) {
    const end = rest.rest.search(/[,;]/u);
    const [piece, after] = rest.split(end === -1 ? rest.rest.length : end);
    amounts.push(readAmount(piece));
    if (after.take(1) === "") return amounts;
    rest = after;
  }
}
