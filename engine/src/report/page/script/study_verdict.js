/** What becomes of a check: `engine/src/study/verdict.rs`, `judge.rs` and `lanes.rs`. */

import { minOf } from "./kernel_elementary.js";

const SURE = 0.975;
/** Worst first. */
const VERDICTS = ["fails", "unsure", "untrusted", "unmeasured", "holds"];

/** A verdict from the chance that a check holds. */
export function verdictOfChance(chance) {
  return chance >= SURE ? "holds" : chance <= 1 - SURE ? "fails" : "unsure";
}

/** An example that nobody measured makes a verdict unmeasured, unless it is worse already. */
export function onExample(verdict) {
  return VERDICTS.indexOf(verdict) < VERDICTS.indexOf("unmeasured") ? verdict : "unmeasured";
}

/** Whether two numbers compare as a sign says. */
export function comparisonHolds(comparison, left, right) {
  switch (comparison) {
    case "<":
      return left < right;
    case "<=":
      return left <= right;
    case ">":
      return left > right;
    case ">=":
      return left >= right;
    case "==":
      return left === right;
    default:
      return left !== right;
  }
}

/**
 * Whether a check holds.
 *
 * @param {object} test `{comparison, sides}` with two sides, `{between}` with value and limits, `{settled}`
 * @param {function(number): number} side the number that stands on a side
 */
export function testHolds(test, side) {
  if (test.settled !== undefined) {
    return test.settled;
  }
  if (test.comparison === undefined) {
    return side(1) <= side(0) && side(0) <= side(2);
  }
  return comparisonHolds(test.comparison, side(0), side(1));
}

/** How far a check is from turning, positive where it holds; null for one of yes or no. */
export function testMargin(test, side) {
  if (test.settled !== undefined) {
    return null;
  }
  if (test.comparison === undefined) {
    return minOf(side(0) - side(1), side(2) - side(0));
  }
  switch (test.comparison) {
    case "<":
    case "<=":
      return side(1) - side(0);
    case ">":
    case ">=":
      return side(0) - side(1);
    case "==":
      return -Math.abs(side(0) - side(1));
    default:
      return Math.abs(side(0) - side(1));
  }
}
