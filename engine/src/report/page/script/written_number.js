/** Numbers as people write them: decimals, fractions, mixed fractions. */

import { isDigit, isSpace, quotedCharacter } from "./characters.js";
import { fixedDigits, plainDigits } from "./decimal.js";
import { ReadFailure } from "./scan.js";

/** Fractions that are one character. */
const VULGAR_FRACTIONS = Object.freeze({
  "½": [1, 2],
  "¼": [1, 4],
  "¾": [3, 4],
  "⅛": [1, 8],
  "⅜": [3, 8],
  "⅝": [5, 8],
  "⅞": [7, 8],
  "⅓": [1, 3],
  "⅔": [2, 3],
});

/** What a rule is divided in. */
const RULE_PARTS = Object.freeze([2, 4, 8, 16, 32, 64, 128, 256]);

/** Whether a number may start with this character (after its sign). */
export function startsNumber(character) {
  return isDigit(character) || Object.hasOwn(VULGAR_FRACTIONS, character);
}

/**
 * Takes a number.
 *
 * @param {TextScan} scan
 * @returns {{value: number, at: [number, number], negative: boolean, signed: boolean, whole: boolean, onlyPlain: ReadFailure | null}}
 *   `whole`: without a point or a fraction; `onlyPlain`: what is wrong with it before a unit (41/11 is a ratio, and none
 *   of an inch)
 * @throws {ReadFailure}
 */
export function takeNumber(scan) {
  const start = scan.at;
  const sign = scan.takeIf((character) => "-−+".includes(character));
  const negative = sign === "-" || sign === "−";
  const number = unsignedNumber(scan);
  if (/^,[0-9]/u.test(scan.rest)) {
    const hint = "write a point for decimals, 3.5, and nothing between thousands, 1234";
    throw new ReadFailure([scan.at, scan.at + 1], "a comma has no place in a number", hint);
  }
  if (!Number.isFinite(number.value)) throw new ReadFailure([start, scan.at], "this number is too large");
  const value = negative ? -number.value : number.value;
  return { ...number, value, at: [start, number.at[1]], negative, signed: sign !== "" };
}

function unsignedNumber(scan) {
  const start = scan.at;
  const number = (value, whole, onlyPlain = null) => ({ value, at: [start, scan.at], whole, onlyPlain });
  const alone = takeVulgar(scan);
  if (alone !== null) return number(alone, false);
  const text = takeDecimal(scan);
  const value = Number(text);
  if (!/^[0-9]*$/u.test(text)) {
    if (/^\/[0-9]/u.test(scan.rest)) throw brokenFraction([start, scan.at]);
    return number(value, false);
  }
  const joined = takeVulgar(scan);
  if (joined !== null) return number(value + joined, false);
  if (scan.peek() === "/") {
    const [ratio, onlyPlain] = takeRatio(scan, text, start);
    return number(ratio, false, onlyPlain);
  }
  const fraction = takeMixed(scan, start);
  return fraction === null ? number(value, true) : number(value + fraction, false);
}

/** `12`, `12.5`, `.5`, `12e-3`: as text. */
function takeDecimal(scan) {
  const found = /^(?:[0-9]+\.?[0-9]*|\.[0-9]+)(?:[eE][+-]?[0-9]+)?/u.exec(scan.rest);
  if (found !== null) return scan.take(found[0].length);
  const next = scan.peek();
  const what = next === "" ? "the end" : quotedCharacter(next);
  const at = [scan.at, scan.at + next.length];
  throw new ReadFailure(at, `a number was expected, not ${what}`, "write 3.5 in or 12 11/16 in");
}

function takeVulgar(scan) {
  const next = scan.peek();
  if (!Object.hasOwn(VULGAR_FRACTIONS, next)) return null;
  scan.take(next.length);
  const [above, below] = VULGAR_FRACTIONS[next];
  return above / below;
}

/** `11/16`, standing at the slash. */
function takeRatio(scan, above, start) {
  const ahead = scan.copy();
  ahead.take(1);
  const below = ahead.takeWhile(isDigit);
  if (below === "" || ahead.peek() === ".") throw brokenFraction([start, ahead.at]);
  scan.goTo(ahead);
  const at = [start, scan.at];
  const [over, under] = fractionParts(above, below, at);
  return [over / under, offRule(over, under, at)];
}

function brokenFraction(at) {
  const message = "a fraction has whole numbers above and below the stroke";
  return new ReadFailure(at, message, "write 11/16 in, or decimals");
}

/** The fraction of a mixed number, after its whole part: ` 11/16`, `-11/16`. Anything else is left alone. */
function takeMixed(scan, start) {
  const ahead = scan.copy();
  if (ahead.takeIf((character) => "-‐‑–".includes(character)) === "" && ahead.takeWhile(isSpace) === "") return null;
  const vulgar = takeVulgar(ahead);
  if (vulgar !== null) {
    scan.goTo(ahead);
    return vulgar;
  }
  const above = ahead.takeWhile(isDigit);
  const stroke = ahead.takeIf((character) => character === "/");
  const below = ahead.takeWhile(isDigit);
  if (above === "" || stroke === "" || below === "" || ahead.peek() === ".") return null;
  scan.goTo(ahead);
  const at = [start, scan.at];
  const [over, under] = fractionParts(above, below, at);
  const failure = offRule(over, under, at);
  if (failure !== null) throw failure;
  return over / under;
}

function fractionParts(above, below, at) {
  const under = Number(below);
  if (under === 0) throw new ReadFailure(at, "the denominator is zero");
  return [Number(above), under];
}

/** What keeps a fraction from being one on a rule: below one, in halves, quarters, eighths …; null where nothing does. */
function offRule(over, under, at) {
  const fraction = `${plainDigits(over)}/${plainDigits(under)}`;
  if (over >= under) {
    const message = `the fraction ${fraction} is not below one: is the whole number right?`;
    return new ReadFailure(at, message, "write 1 1/4 in for one and a quarter");
  }
  if (RULE_PARTS.includes(under)) return null;
  const hint = `write decimals, ${fixedDigits(over / under, 4)}, if it is meant`;
  return new ReadFailure(at, `no rule is divided into parts of 1/${plainDigits(under)}`, hint);
}
