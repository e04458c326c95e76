/** A check's two sides in words, as the reports have them: value, limit, by how much it is off. */

import { comparisonHolds } from "./study_verdict.js";
import { styleFor, supportOf, writeDifference, writeReading, writeStyledInterval } from "./write.js";

/** What stands before a limit. */
const LIMIT_WORDS = Object.freeze({ "<": "below", "<=": "at most", ">": "above", ">=": "at least", "==": "exactly", "!=": "other than" });

/**
 * A number of a check.
 *
 * @typedef {object} PageSide
 * @property {number} [place] where it stands on the tape
 * @property {number} [value] its value in SI, where it does not move
 * @property {object} spec how it is written
 * @property {number} [input] the reading that it is
 */

/**
 * @param {{value: PageSide, limits: PageSide[], style: object, comparison: string | null}} check `style`: the spec whose unit
 *   both sides have
 * @param {(side: PageSide) => {si: number, interval: {low: number, high: number} | null, half?: number, most?: boolean}} look
 *   value and interval of a side, and a reading's own ±
 * @returns {{value: string, limit: string, off: string}}
 */
export function checkWords(check, look) {
  const value = look(check.value);
  const limits = check.limits.map(look);
  const last = limits.at(-1);
  const style = styleFor(check.style, Math.abs(value.si) < Math.abs(last.si) ? last.si : value.si);
  const text = (side, found) => {
    if (found.half !== undefined) return writeReading(found.si, found.half > 0 ? found.half : null, side.spec, !found.most);
    return writeStyledInterval(style, found.si, found.interval, side.spec);
  };
  const [first, second] = check.limits.map((side, number) => text(side, limits[number]));
  return {
    value: text(check.value, value),
    limit: second === undefined ? `${LIMIT_WORDS[check.comparison]} ${first}` : `from ${first} to ${second}`,
    off: offWords(check, style, value, limits),
  };
}

/** `over by 218 rad/s²`; nothing where it holds. */
function offWords(check, style, value, limits) {
  const by = (words, size, others) => {
    const intervals = [value, ...others].filter(({ half, interval }, side) => interval && !(side === 0 && half !== undefined));
    const supports = intervals.map(({ interval }) => supportOf(style, value.si, interval)).filter((found) => found !== null);
    const widest = supports.length > 0 ? supports.reduce((a, b) => (a > b ? a : b)) : null;
    return `${words} ${writeDifference(style, Math.abs(size), value.si, widest)}`;
  };
  if (limits.length === 2) {
    const [low, high] = limits;
    if (value.si < low.si) return by("short by", low.si - value.si, []);
    return value.si > high.si ? by("over by", value.si - high.si, []) : "";
  }
  const [limit] = limits;
  if (comparisonHolds(check.comparison, value.si, limit.si)) return "";
  if (check.comparison === "!=") return "the same";
  const words = { "<": "over by", "<=": "over by", ">": "short by", ">=": "short by", "==": "apart by" };
  return by(words[check.comparison], limit.si - value.si, limits);
}

/** Room left and right of what a gauge shows, as a share of it. */
const GAUGE_ROOM = 0.15;

/** The places of a gauge's marks, for the style sheet; null where there is nothing to be seen. */
export function gaugeStyle(check, look) {
  const upper = ["<", "<="].includes(check.comparison);
  const lower = [">", ">="].includes(check.comparison);
  if (check.limits.length === 1 && !upper && !lower) return null;
  const { si, interval: own, half } = look(check.value);
  // A reading has its own ±, which stands in words.
  const interval = half === undefined ? own : null;
  const limits = check.limits.map((side) => look(side).si);
  const [low, high] = interval ? [interval.low, interval.high] : [si, si];
  const marks = [si, low, high, ...limits];
  const [least, most] = [Math.min(...marks), Math.max(...marks)];
  const span = most - least;
  if (!(Number.isFinite(span) && span > 0)) return null;
  const place = (at) => Math.round((100 * (at - least + GAUGE_ROOM * span)) / (span * (1 + 2 * GAUGE_ROOM)));
  const style = { "--v": place(si), "--a": place(low), "--b": place(high) };
  if (limits.length === 2) return { ...style, "--l": place(limits[0]), "--h": place(limits[1]) };
  return { ...style, [lower ? "--l" : "--h"]: place(limits[0]) };
}
