/** The words of a product of units: names, powers, slashes, brackets. */

import { firstCharacter, isDigit, isLetter, isSpace, quotedCharacter, quotedText } from "./characters.js";
import { ReadFailure } from "./scan.js";

/** Raised digits, from 0. */
export const RAISED_DIGITS = Object.freeze(Array.from("⁰¹²³⁴⁵⁶⁷⁸⁹"));

/** The largest whole number that the engine reads in a unit. */
const LARGEST_WHOLE = 2147483647;

/**
 * Splits a text into words with their places. A word is `{kind, value?, at}`, its kind one of `"name"`, `"number"` (no
 * power; only 1 has a use), `"power"`, `"slash"`, `"times"`, `"open"`, `"close"`.
 *
 * @param {string} text
 * @returns {{kind: string, value?: string | number, at: [number, number]}[]}
 */
export function unitWords(text) {
  const found = [];
  let at = 0;
  while (at < text.length) {
    const rest = text.slice(at);
    const first = firstCharacter(rest);
    if (isSpace(first)) {
      at += first.length;
      continue;
    }
    const last = found.at(-1)?.kind;
    const word = firstUnitWord(rest, first, last === "name" || last === "close");
    if (word === null) {
      throw new ReadFailure([at, at + first.length], `${quotedCharacter(first)} has no place in a unit`);
    }
    const [kind, value, length] = word;
    found.push({ kind, value, at: [at, at + length] });
    at += length;
  }
  return found;
}

/** A word as messages call it. */
export function describedWord({ kind, value }) {
  switch (kind) {
    case "name":
      return quotedText(value);
    case "number":
      return String(value);
    case "power":
      return `the power ${value}`;
    case "slash":
      return "a slash";
    case "times":
      return "a sign for times";
    default:
      return "a bracket";
  }
}

/** The first word as `[kind, value, length]`, or null. `afterFactor`: whether a power may stand here. */
function firstUnitWord(rest, first, afterFactor) {
  const single = (kind) => [kind, undefined, first.length];
  if (first === "/") return single("slash");
  if (first === "(") return single("open");
  if (first === ")") return single("close");
  if ("·⋅×.".includes(first)) return single("times");
  if (first === "^" && afterFactor) return plainPower(rest, 1);
  if (rest.startsWith("**") && afterFactor) return plainPower(rest, 2);
  if (first === "*") return single("times");
  if ((first === "⁻" || RAISED_DIGITS.includes(first)) && afterFactor) return raisedPower(rest);
  if ((first === "-" || first === "−") && afterFactor) return plainPower(rest, 0) ?? single("times");
  if (isDigit(first)) {
    const length = leadingDigits(rest);
    const number = wholeNumber(rest.slice(0, length));
    return number === null ? null : ["number", number, length];
  }
  if (!isUnitLetter(first)) return null;
  const length = lengthWhile(rest, (character) => isUnitLetter(character) || isDigit(character));
  return ["name", rest.slice(0, length), length];
}

function isUnitLetter(character) {
  return (isLetter(character) && !RAISED_DIGITS.includes(character)) || "_°º%℃℉∆µΩ".includes(character);
}

function lengthWhile(text, wanted) {
  let end = 0;
  while (end < text.length) {
    const next = firstCharacter(text.slice(end));
    if (!wanted(next)) break;
    end += next.length;
  }
  return end;
}

function leadingDigits(text) {
  return lengthWhile(text, isDigit);
}

/** A whole number of the size that the engine reads; null of none or a larger one. */
export function wholeNumber(digits) {
  const number = Number(digits);
  return digits !== "" && number <= LARGEST_WHOLE ? number : null;
}

/** A power in plain digits after `marks` places of mark: `^-2`, `**2`, `-2`. */
function plainPower(rest, marks) {
  const sign = /^[-−]/u.test(rest.slice(marks)) ? 1 : 0;
  const start = marks + sign;
  const length = leadingDigits(rest.slice(start));
  const size = wholeNumber(rest.slice(start, start + length));
  return size === null ? null : ["power", sign ? -size : size, start + length];
}

/** A power in raised digits: `⁻²`. */
function raisedPower(rest) {
  const start = rest.startsWith("⁻") ? 1 : 0;
  const length = lengthWhile(rest.slice(start), (character) => RAISED_DIGITS.includes(character));
  const digits = Array.from(rest.slice(start, start + length), (digit) => RAISED_DIGITS.indexOf(digit)).join("");
  const size = wholeNumber(digits);
  return size === null ? null : ["power", start ? -size : size, start + length];
}
