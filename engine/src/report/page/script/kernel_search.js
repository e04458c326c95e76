/**
 * Root, largest value and integral of a function of one number: `engine/src/kernel/{root,maximum,quadrature}.rs`, the same
 * points in the same order. A function that gives NaN has no value there, and neither has the whole.
 */

import { maxOf } from "./kernel_elementary.js";
import { copySign, nextDown, nextUp, powerOfTwo } from "./kernel_bits.js";

/** Where f changes sign between two points, to the last bit; NaN where it does not, or is not finite. */
export function rootOf(f, lo, hi) {
  const at = (x) => (x - x === 0 ? f(x) : NaN);
  const low = at(lo);
  const high = low - low === 0 ? at(hi) : NaN;
  if (high - high !== 0 || (low > 0 && high > 0) || (low < 0 && high < 0)) {
    return NaN;
  }
  const bracket = new Bracket(lo, low, hi, high);
  const smallest = Math.abs(hi - lo) * powerOfTwo(-120);
  let goal = 0.5 * bracket.width();
  let steps = 0;
  for (;;) {
    const x = bracket.next(steps >= 3);
    if (x === null || bracket.width() <= smallest) {
      return bracket.best();
    }
    const value = at(x);
    if (value - value !== 0) {
      return NaN;
    }
    bracket.take(x, value);
    const halved = bracket.width() <= goal;
    steps = halved ? 0 : steps + 1;
    goal = halved ? 0.5 * bracket.width() : goal;
  }
}

/** Two points with opposite signs of the function: the newest a, the other b; and the one before them, c. */
class Bracket {
  constructor(lo, low, hi, high) {
    this.a = hi;
    this.fa = high;
    this.b = lo;
    this.fb = low;
    this.c = lo;
    this.fc = low;
  }

  width() {
    return Math.abs(this.a - this.b);
  }

  best() {
    return Math.abs(this.fb) < Math.abs(this.fa) ? this.b : this.a;
  }

  /** A point strictly between the ends, or null. */
  next(halve) {
    const { a, b, fa, fb } = this;
    if (fa === 0 || fb === 0) {
      return null;
    }
    const inside = (x) => (x > a && x < b) || (x > b && x < a);
    const middle = 0.5 * a + 0.5 * b;
    let guess = halve ? middle : a + this.fraction() * (b - a);
    const besideA = b > a ? nextUp(a) : nextDown(a);
    const besideB = b > a ? nextDown(b) : nextUp(b);
    guess = guess === a ? besideA : guess;
    guess = guess === b ? besideB : guess;
    if (inside(guess)) {
      return guess;
    }
    return inside(middle) ? middle : inside(besideA) ? besideA : null;
  }

  fraction() {
    const { a, b, c, fa, fb, fc } = this;
    const xi = (a - b) / (c - b);
    const phi = (fa - fb) / (fc - fb);
    const safe = phi * phi < xi && (1 - phi) * (1 - phi) < 1 - xi;
    const fraction = (fa / (fb - fa)) * (fc / (fb - fc)) + ((c - a) / (b - a)) * (fa / (fc - fa)) * (fb / (fc - fb));
    return safe && fraction > 0 && fraction < 1 ? fraction : 0.5;
  }

  take(x, fx) {
    if (fx > 0 === this.fa > 0 && fx !== 0) {
      this.c = this.a;
      this.fc = this.fa;
    } else {
      this.c = this.b;
      this.fc = this.fb;
      this.b = this.a;
      this.fb = this.fa;
    }
    this.a = x;
    this.fa = fx;
  }
}

const SCAN_LAST = 64;
const GOLDEN = 0.3819660112501051;

/** The largest value of f between two points, both included; NaN where f is not finite somewhere on the way. */
export function maximumOf(f, lo, hi) {
  const at = (x) => (x - x === 0 ? f(x) : NaN);
  const point = (i) => (i === SCAN_LAST ? hi : lo * (1 - i / SCAN_LAST) + hi * (i / SCAN_LAST));
  let best = 0;
  let most = at(lo);
  if (most - most !== 0) {
    return NaN;
  }
  for (let i = 1; i <= SCAN_LAST; i++) {
    const value = at(point(i));
    if (value - value !== 0) {
      return NaN;
    }
    if (value > most) {
      best = i;
      most = value;
    }
  }
  const start = best === 0 ? lo : point(best);
  return refinedMaximum(at, point(Math.max(best - 1, 0)), point(Math.min(best + 1, SCAN_LAST)), [start, most]);
}

/** Brent's search between two points, never giving less than the point it starts from. */
function refinedMaximum(at, left, right, start) {
  let a = left < right ? left : right;
  let b = left < right ? right : left;
  const tolerance = 1e-12 * (b - a) + 2 * 2.220446049250313e-16 * Math.abs(start[0]);
  let x = start;
  let second = start;
  let third = start;
  let step = 0;
  let stepBefore = 0;
  for (let i = 0; i < 100; i++) {
    const middle = 0.5 * (a + b);
    if (Math.abs(x[0] - middle) <= 2 * tolerance - 0.5 * (b - a)) {
      break;
    }
    const found = parabolicStep(x, second, third);
    const taken =
      found !== null && Math.abs(found) < Math.abs(0.5 * stepBefore) && x[0] + found > a + tolerance && x[0] + found < b - tolerance;
    const rest = x[0] < middle ? b - x[0] : a - x[0];
    stepBefore = taken ? step : rest;
    step = taken ? found : GOLDEN * rest;
    const next = x[0] + (Math.abs(step) >= tolerance ? step : copySign(tolerance, step));
    const value = at(next);
    if (value - value !== 0) {
      return NaN;
    }
    const point = [next, value];
    if (value >= x[1]) {
      if (next >= x[0]) {
        a = x[0];
      } else {
        b = x[0];
      }
      third = second;
      second = x;
      x = point;
    } else {
      if (next < x[0]) {
        a = next;
      } else {
        b = next;
      }
      if (value >= second[1] || second[0] === x[0]) {
        third = second;
        second = point;
      } else if (value >= third[1] || third[0] === x[0] || third[0] === second[0]) {
        third = point;
      }
    }
  }
  return x[1] > start[1] ? x[1] : start[1];
}

function parabolicStep(x, second, third) {
  const r = (x[0] - second[0]) * (x[1] - third[1]);
  const q = (x[0] - third[0]) * (x[1] - second[1]);
  const numerator = (x[0] - third[0]) * q - (x[0] - second[0]) * r;
  const step = -numerator / (2 * (q - r));
  return step - step === 0 && step !== 0 ? step : null;
}

const PANELS = 16;
/** Points of the rule on [-1, 1] in rising order, and their weights. */
const RULE = [
  [-0.9602898564975363, 0.10122853629037626],
  [-0.7966664774136267, 0.22238103445337448],
  [-0.525532409916329, 0.31370664587788727],
  [-0.1834346424956498, 0.362683783378362],
  [0.1834346424956498, 0.362683783378362],
  [0.525532409916329, 0.31370664587788727],
  [0.7966664774136267, 0.22238103445337448],
  [0.9602898564975363, 0.10122853629037626],
];

/** The Legendre polynomials of degree 4 to 7. */
function legendre(x) {
  const all = [1, x];
  for (let degree = 2, n = 1; degree < 8; degree++, n++) {
    all.push(((2 * n + 1) * x * all[degree - 1] - n * all[degree - 2]) / (n + 1));
  }
  return all.slice(4);
}

const LEGENDRE_PARTS = RULE.map(([x]) => legendre(x));

/**
 * The integral of f from a to b; `terms()` is the size of what the last value was the sum of. NaN where f has no value or
 * the integral does not settle.
 */
export function integralOf(f, terms, a, b) {
  const halfWidth = (b - a) / 32;
  let sum = 0;
  let lower = 0;
  let highest = 0;
  let size = 0;
  for (let panel = 0; panel < PANELS; panel++) {
    const share = (2 * panel + 1) / 32;
    const middle = a * (1 - share) + b * share;
    const parts = [0, 0, 0, 0];
    for (let point = 0; point < RULE.length; point++) {
      const [x, ofRule] = RULE[point];
      const weight = halfWidth * ofRule;
      const value = f(middle + halfWidth * x);
      if (value !== value) {
        return NaN;
      }
      const product = weight * value;
      sum += product;
      for (let i = 0; i < 4; i++) {
        parts[i] += LEGENDRE_PARTS[point][i] * product;
      }
      size += Math.abs(weight) * maxOf(Math.abs(value), terms());
    }
    lower += maxOf(Math.abs(parts[0]), Math.abs(parts[1]));
    highest += maxOf(Math.abs(parts[2]), Math.abs(parts[3]));
  }
  const fallsOff = highest <= 0.1 * lower;
  return highest <= 1e-3 * size || (fallsOff && highest <= 1e-2 * size) ? sum : NaN;
}
