/** Operations that take any number of arguments, done for one sample: numbers in, numbers out. */

import { gapOf } from "./kernel_gap.js";
import { maxOf, minOf } from "./kernel_elementary.js";
import { integralOf, maximumOf, rootOf } from "./kernel_search.js";

/**
 * Does the operation at a place of the code on these arguments, all finite.
 *
 * @param {Program} program
 * @param {Float64Array} given
 * @param {Float64Array} out
 * @param {function} perform runs a program: see `tape.js`
 * @returns {boolean} false where it has no value
 */
export function doSingle(program, at, given, out, perform) {
  const { code, parts } = program;
  switch (code[at]) {
    case 21:
      out.set(given);
      sortNumbers(out);
      return true;
    case 22:
      out[0] = interpolateIn(given);
      return true;
    case 26:
      return parts.systems[code[at + 1]].solve(given, out);
    case 27:
      return parts.eigenproblems[code[at + 1]].solve(given, out);
    case 28:
      out[0] = gapOfNumbers(code[at + 1], given);
      return true;
    default:
      out[0] = searched(code[at], parts.closures[code[at + 1]], given, perform);
      return out[0] === out[0];
  }
}

/** Rising order, -0 before 0. */
function sortNumbers(numbers) {
  // A typed array's own order: by size, -0 before 0, NaN last.
  numbers.sort();
}

/** Linear interpolation: x, then the rising xs, then the ys. */
function interpolateIn(a) {
  const count = (a.length - 1) >> 1;
  if (count < 2) {
    return count < 1 ? NaN : a[1 + count];
  }
  const x = a[0];
  let at = 0;
  while (at < count - 2 && a[2 + at] <= x) {
    at++;
  }
  const width = a[2 + at] - a[1 + at];
  const share = maxOf(0, minOf(1, (x - a[1 + at]) / width));
  return a[1 + count + at] * (1 - share) + a[2 + count + at] * share;
}

function gapOfNumbers(corners, a) {
  const points = [];
  for (let at = 2; at + 2 < a.length; at += 3) {
    points.push([a[at], a[at + 1], a[at + 2]]);
  }
  return gapOf(points.slice(0, corners), a[0], points.slice(corners), a[1]);
}

/** A closure's root, maximum or integral between the first two arguments; the rest is what it captured. */
function searched(operation, closure, given, perform) {
  const { program, values, result, terms } = closure;
  for (let i = 2; i < given.length; i++) {
    values[i - 1] = given[i];
  }
  const low = given[0];
  const high = given[1];
  const f = (x) => {
    values[0] = x;
    return perform(program, values, null) ? values[result] : NaN;
  };
  if (operation === 23) {
    return rootOf(f, low, high);
  }
  if (operation === 24) {
    return maximumOf(f, low, high);
  }
  const size = () => {
    let most = 0;
    for (const place of terms) {
      most = maxOf(most, Math.abs(values[place]));
    }
    return most;
  };
  return integralOf(f, size, low, high);
}
