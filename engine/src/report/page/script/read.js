/**
 * Quantities as a person writes them: `3.5 in`, `48-1/16 in`, `4 ft 1-1/2 in`, `11° 30'`, `(905, 22, -70) +/- 1 mm`,
 * `3.4 deg std_dev 0.05 deg`, `3.2 deg tail up`. What could mean two things is refused, in the engine's words.
 *
 *     useUnits(table);                                   // units.js, once
 *     readQuantity("3.4 +/- 0.1 deg", { dimension: [0, 0, 0, 0, 0, 12] })
 *     // { si: 0.059…, plusMinus: 0.0017…, unit: {…} }
 *     readQuantity("3.4 mm", { dimension: [0, 0, 0, 0, 0, 12], name: "fall" })
 *     // { error: "`fall` must be an angle, this is a length (`3.4 mm`)", hint: undefined, at: [0, 6] }
 *
 * What is wanted may be the `spec` that `write.js` takes, with a name and a range added.
 */

import { amountInSi, readAmount, readVector } from "./amount_text.js";
import { firstCharacter, isLetter, isSpace, quotedText, withoutSpaceAfter, withoutSpaceAround, wordsOf } from "./characters.js";
import { plainDigits } from "./decimal.js";
import { nameOfDimension, withArticle } from "./dimension_words.js";
import { ReadFailure, TextScan } from "./scan.js";
import { refuseLongText } from "./unit_text.js";
import { NO_DIMENSION, dimensionOf, fromSi, isPointUnit, sameDimension, widthToSi } from "./units.js";
import { writeAmount, writeInUnit } from "./write.js";

/**
 * @typedef {object} Wanted what a text has to state
 * @property {number[]} dimension six powers in twelfths
 * @property {"point" | "difference"} [scale] whether a temperature is a point on its scale; a difference if left out
 * @property {[string, string] | null} [signs] the words for a positive and a negative value
 * @property {string} [vector] where three numbers are wanted, what they are: "a point", "a vector (force)"
 * @property {string} [name] what messages call it
 * @property {{low: number, high: number, words: string}} [range] what may be entered, in SI, and in words: "1 mm to 3 mm"
 */

/**
 * @typedef {object} ReadQuantity what a text states
 * @property {number | number[]} si in SI units; three of a vector
 * @property {number} [plusMinus] its ±, in SI: any value between is as likely
 * @property {number} [stdDev] its standard uncertainty, in SI
 * @property {object | null} unit the unit as written, the first of several
 * @property {string} [signWord] the word for its sign, where one was written
 */

/** What ends a line, somewhere, or moves what follows it to another column. */
const LINE_ENDS = /[\t\n\v\f\r\u0085\u2028\u2029]/;

/**
 * Reads what somebody wrote for a quantity.
 *
 * @param {string} text
 * @param {Wanted} wanted
 * @returns {ReadQuantity | {error: string, hint: string | undefined, at: [number, number]}}
 *   `at`: the places of the text that are meant
 */
export function readQuantity(text, wanted) {
  if (LINE_ENDS.test(text)) {
    const error = "a reading stands on one line, and this holds an end of a line or a tab";
    return { error, hint: undefined, at: [0, text.length] };
  }
  let reading;
  try {
    reading = readText(text, wanted.signs ?? null);
  } catch (failure) {
    if (!(failure instanceof ReadFailure)) throw failure;
    return { error: withPlace(failure, text), hint: failure.hint, at: failure.at };
  }
  const refused = misfit(reading, text, wanted);
  if (refused !== null) return { error: refused[0], hint: refused[1], at: [0, text.length] };
  const { values, spread, unit, signWord } = reading;
  const found = { si: wanted.vector ? values : values[0], unit };
  if (spread !== null) found[spread.kind] = spread.width;
  if (signWord !== null) found.signWord = signWord;
  return found;
}

/** A message with the part of the text that it means. */
function withPlace(failure, text) {
  const whole = withoutSpaceAround(text);
  const part = withoutSpaceAround(text.slice(...failure.at));
  const place = part === "" || part === whole ? "" : ` at \`${part}\``;
  // The message often holds the text itself.
  if (place === "" && failure.message.includes(whole)) return failure.message;
  return `\`${text}\`${place}: ${failure.message}`;
}

/** Why a reading is not what is wanted, and what to write; null where it is. */
function misfit(reading, text, wanted) {
  const name = wanted.name === undefined ? "this" : `\`${wanted.name}\``;
  const { values, dimension, point } = reading;
  if (wanted.vector && values.length !== 3) {
    return [`${name} is three numbers, \`${text}\` is one`, "write it so: (905, 22, -70) mm"];
  }
  if (!wanted.vector && values.length !== 1) return [`${name} is one quantity, \`${text}\` is a point`, undefined];
  if (!isLikeDimension(dimension, wanted.dimension)) return otherKind(name, reading, text, wanted);
  const wantsPoint = wanted.scale === "point";
  if (!wanted.vector && point !== wantsPoint) return otherScale(name, text, wantsPoint);
  return outOfRange(reading, wanted, name);
}

function otherKind(name, { values, dimension, unit, spread }, text, wanted) {
  const found = withArticle(nameOfDimension(dimension));
  if (wanted.vector) return [`${name} must be ${wanted.vector}, the numbers of \`${text}\` are each ${found}`, undefined];
  const kind = withArticle(wanted.scale === "point" ? "temperature" : nameOfDimension(wanted.dimension));
  if (unit !== null || spread !== null) return [`${name} must be ${kind}, this is ${found} (\`${text}\`)`, undefined];
  const number = plainDigits(values[0]);
  return [`${name} must be ${kind}, this is a number without a unit (${number})`, hintOfUnit(number, wanted)];
}

function outOfRange({ values, unit }, { range, name, usual }, subject) {
  if (!range) return null;
  const out = values.findIndex((value) => !(range.low <= value && value <= range.high));
  if (out === -1) return null;
  const which = name !== undefined && values.length > 1 ? `\`${name}.${"xyz"[out]}\`` : subject;
  const shown = unit?.name === undefined && usual !== undefined ? writeAmount(values[out], { usual }) : writeInUnit(unit, values[out]);
  return [`${which} is ${shown}, outside what may be entered (${range.words})`, undefined];
}

function hintOfUnit(number, wanted) {
  if (sameDimension(wanted.dimension, [12, 0, 0, 0, 0, 0])) {
    return `write its unit: "${number} mm", "${number} in" or what it was measured in`;
  }
  if (sameDimension(wanted.dimension, [0, 0, 0, 0, 0, 12])) return "write its unit: 3.4 deg";
  return "write its unit";
}

/** A point on the temperature scale and a difference of two are mixed up: 80 K is no 80 °C. */
function otherScale(name, text, wantsPoint) {
  return wantsPoint
    ? [
        `${name} must be a temperature, a point on the scale; \`${text}\` is a difference of temperatures`,
        "a point on the scale is written in degC or degF: 80 degC",
      ]
    : [
        `${name} must be a difference of temperatures; \`${text}\` is a point on the scale`,
        "a difference is written in K, delta_degC or delta_degF: 15 K",
      ];
}

/** Whether two dimensions may be added: without length and mass any power of an angle counts as an angle. */
function isLikeDimension(mine, theirs) {
  const loose = (dimension) => {
    const free = dimension[0] === 0 && dimension[1] === 0 && dimension[5] !== 0;
    return free ? [...dimension.slice(0, 5), 12] : dimension;
  };
  return sameDimension(loose(mine), loose(theirs));
}

/**
 * Reads a quantity of any kind, whose sign may be a word.
 *
 * @param {string} text
 * @param {[string, string] | null} signs
 * @returns {{values: number[], dimension: number[], point: boolean, unit: object | null, signWord: string | null,
 *   spread: {kind: "plusMinus" | "stdDev", width: number} | null}}
 * @throws {ReadFailure}
 */
export function readText(text, signs) {
  refuseLongText(text);
  if (withoutSpaceAround(text) === "") {
    throw new ReadFailure([0, text.length], "nothing is written here", "write a number and its unit: 3.5 in");
  }
  try {
    return readParts(text, signs);
  } catch (failure) {
    if (!(failure instanceof ReadFailure)) throw failure;
    // A word that is no unit may be meant for one of the signs.
    const isWord = isLetter(firstCharacter(text.slice(...failure.at)));
    if (signs === null || !isWord || failure.hint !== undefined) throw failure;
    const [positive, negative] = signs.map(quotedText);
    throw new ReadFailure(failure.at, failure.message, `the words for its sign are ${positive} and ${negative}`);
  }
}

function readParts(text, signs) {
  const [front, mark] = splitSpread(text);
  const [piece, early] = splitSign(front, signs);
  let spread = null;
  let late = null;
  if (mark !== null) {
    const [spreadPiece, word] = splitSign(mark.piece, signs);
    spread = { kind: mark.kind, amount: readAmount(spreadPiece) };
    late = word;
  }
  if (early !== null && late !== null) {
    throw new ReadFailure(late.at, "the word for the sign stands here twice", "write it once");
  }
  const main = piece.trimmed();
  const [amounts, own] = main.peek() === "(" ? readVector(main) : singleAmount(main);
  const unit = spread === null ? own : sharedUnit(amounts, own, spread.amount);
  const values = amounts.map((amount) => amountInSi(amount, amount.unit ?? unit));
  const reading = { values, dimension: dimensionOf(unit), point: isPointUnit(unit), unit, signWord: null, spread: null };
  const word = early ?? late;
  if (word !== null) applySignWord(reading, word, main);
  if (spread !== null) reading.spread = { kind: spread.kind, width: spreadInSi(reading, spread.amount) };
  if (![...reading.values, reading.spread?.width ?? 0].every(Number.isFinite)) {
    throw new ReadFailure([0, text.length], "this quantity is too large");
  }
  return reading;
}

function singleAmount(main) {
  const amount = readAmount(main);
  return [[amount], amount.unit];
}

/** The ways to say how far off a value may be. */
const SPREAD_MARKS = Object.freeze([
  ["±", "plusMinus"],
  ["+/-", "plusMinus"],
  ["+-", "plusMinus"],
  ["plus_minus", "plusMinus"],
  ["plus minus", "plusMinus"],
  ["std_dev", "stdDev"],
  ["std dev", "stdDev"],
]);

/** The text before the mark of a ±, and after it. */
function splitSpread(text) {
  const whole = new TextScan(text, 0);
  const found = firstSpreadMark(text);
  if (found === undefined) return [whole, null];
  const [main, rest] = whole.split(found.at);
  rest.take(found.mark.length);
  const second = firstSpreadMark(rest.rest);
  if (second !== undefined) {
    const at = rest.at + second.at;
    throw new ReadFailure([at, at + second.mark.length], "a second ± stands here");
  }
  return [main, { kind: found.kind, piece: rest }];
}

function firstSpreadMark(text) {
  let first;
  for (const [mark, kind] of SPREAD_MARKS) {
    const at = text.indexOf(mark);
    if (at !== -1 && (first === undefined || at < first.at)) first = { at, mark, kind };
  }
  return first;
}

/** The piece without the word for a sign that may stand at its end, and the word. */
function splitSign(piece, signs) {
  if (signs === null) return [piece, null];
  // The longer first, where one ends in the other.
  const candidates = signs.map((word, place) => ({ word, negative: place === 1, words: wordsOf(word) }));
  candidates.sort((a, b) => b.words.length - a.words.length);
  for (const { word, negative, words } of candidates) {
    const start = endsInWords(piece.rest, words);
    if (start === undefined) continue;
    const [before, tail] = piece.split(start);
    return [before, { word, negative, at: tail.trimmed().span() }];
  }
  return [piece, null];
}

/** Where the words stand at the end of a text. */
function endsInWords(text, words) {
  if (words.length === 0) return undefined;
  let rest = text;
  for (const word of words.slice().reverse()) {
    rest = withoutSpaceAfter(rest);
    let start = rest.length;
    while (start > 0 && !isSpace(rest[start - 1])) start -= 1;
    if (rest === "" || rest.slice(start).toLowerCase() !== word.toLowerCase()) return undefined;
    rest = rest.slice(0, start);
  }
  return rest.length;
}

function applySignWord(reading, word, main) {
  if (reading.values.length !== 1) {
    const message = `a vector has no sign that ${quotedText(word.word)} could name`;
    throw new ReadFailure(word.at, message, "give each number its sign");
  }
  if (/^[-−+]/u.test(main.rest)) {
    const message = `a sign and the word ${quotedText(word.word)} stand together`;
    throw new ReadFailure(word.at, message, "write one of the two");
  }
  if (word.negative) reading.values = [-reading.values[0]];
  reading.signWord = word.word;
}

/** The unit of a reading beside its ±: a number without one takes that of the ±, and the other way round. */
function sharedUnit(amounts, unit, spread) {
  const { at } = spread.number;
  if (spread.unit === null) {
    if (amounts.some((amount) => amount.inParts || !isSameUnit(amount.unit ?? unit, unit))) {
      throw new ReadFailure(at, "the ± has no unit, and the value has several", "write the ± with its unit");
    }
    refusePlainOnly([spread], unit);
    return unit;
  }
  if (unit !== null) return unit;
  if (spread.unit.name === "percent") {
    const message = "it is not clear whether the value is in percent or the ± a share of it";
    throw new ReadFailure(at, message, "write 75 % +/- 5 %, or the ± as a plain number");
  }
  refusePlainOnly(amounts, spread.unit);
  return spread.unit;
}

function isSameUnit(a, b) {
  if (a === b) return true;
  if (a === null || b === null || a.name !== undefined || b.name !== undefined) return false;
  return a.symbol === b.symbol && a.numerator === b.numerator && a.divisor === b.divisor;
}

function refusePlainOnly(amounts, unit) {
  const refused = amounts.find((amount) => amount.number.onlyPlain !== null);
  if (refused !== undefined && unit !== null) throw refused.number.onlyPlain;
}

/** What a ± comes to in SI: in its own unit, in the value's, or in percent of the value. */
function spreadInSi({ values, dimension, point, unit }, amount) {
  const { at, value, negative } = amount.number;
  if (value < 0 || negative) throw new ReadFailure(at, "a ± cannot be negative", "write 3.4 +/- 0.1 deg");
  if (amount.unit?.name === "percent" && !sameDimension(dimension, NO_DIMENSION)) {
    if (values.length === 1 && !point) return Math.abs(values[0]) * amountInSi(amount, amount.unit);
    const message = "a ± in percent needs a single value that is no point on a scale";
    throw new ReadFailure(at, message, "write the ± with its unit");
  }
  const own = amount.unit ?? unit;
  if (!sameDimension(dimensionOf(own), dimension)) {
    const [its, theirs] = [dimensionOf(own), dimension].map(nameOfDimension);
    throw new ReadFailure(at, `the ± is in ${its}, the value in ${theirs}`, "give both the same kind of unit");
  }
  const about = values.length === 1 ? fromSi(own, values[0]) : 0;
  return widthToSi(own, value, about) + amount.parts;
}
