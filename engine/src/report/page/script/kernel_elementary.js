/**
 * Elementary functions with the engine's own bits, from `engine/src/kernel/elementary`, whose words on accuracy and sources
 * hold here too. Polynomials follow FDLIBM 5.3:
 *
 * Copyright (C) 1993 by Sun Microsystems, Inc. All rights reserved. Developed at SunSoft, a Sun Microsystems, Inc.
 * business. Permission to use, copy, modify, and distribute this software is freely granted, provided that this notice
 * is preserved.
 */

import { copySign, fromWords, highWord, isNegative, lowWord, powerOfTwo, twoProduct, twoSum, withoutLowWord } from "./kernel_bits.js";
import { cosFar, cosPolynomial, sinFar, sinPolynomial } from "./kernel_far_angle.js";

const TO_WHOLE = 6755399441055744; // 1.5 · 2^52
const LN2_HIGH = 0.6931471803691238;
const LN2_LOW = 1.9082149292705877e-10;
const HALF_PI_HIGH = 1.5707963267948966;
const HALF_PI_LOW = 6.123233995736766e-17;
const TWO_600 = powerOfTwo(600);
const TWO_MINUS_600 = powerOfTwo(-600);
const TWO_400 = powerOfTwo(400);
const TWO_MINUS_400 = powerOfTwo(-400);
const TWO_MINUS_60 = powerOfTwo(-60);
const PAIR_A = new Float64Array(2);

/** The smaller of two numbers; NaN if either is; of two equal ones the second. */
export function minOf(a, b) {
  return a < b || a !== a ? a : b;
}

/** The larger of two numbers; NaN if either is; of two equal ones the second. */
export function maxOf(a, b) {
  return a > b || a !== a ? a : b;
}

/** e to the x. */
export function exp(x) {
  if (x !== x) {
    return NaN;
  }
  const t = x > 710 ? 710 : x < -746 ? -746 : x;
  const k = t * 1.4426950408889634 + TO_WHOLE - TO_WHOLE;
  const high = t - k * LN2_HIGH;
  const low = k * LN2_LOW;
  const r = high - low;
  const z = r * r;
  const c =
    r -
    z *
      (0.16666666666666602 +
        z * (-0.0027777777777015593 + z * (6.613756321437934e-5 + z * (-1.6533902205465252e-6 + z * 4.1381367970572385e-8))));
  const y = 1 + ((r * c) / (2 - c) - low + high);
  const biased = k + 2048;
  const half = biased >> 1;
  return y * powerOfTwo(half - 1024) * powerOfTwo(biased - half - 1024);
}

/** Natural logarithm. */
export function ln(x) {
  if (x !== x || x === Infinity) {
    return x;
  }
  if (x <= 0) {
    return x === 0 ? -Infinity : NaN;
  }
  const subnormal = x < 2.2250738585072014e-308;
  const scaled = subnormal ? x * 18014398509481984 : x;
  const high = highWord(scaled) + (0x3ff00000 - 0x3fe6a09e);
  const low = lowWord(scaled);
  const k = (high >>> 20) - (subnormal ? 1077 : 1023);
  const f = fromWords((high & 0xfffff) + 0x3fe6a09e, low) - 1;
  const halfSquare = 0.5 * f * f;
  const s = f / (2 + f);
  const z = s * s;
  const w = z * z;
  const even = w * (0.3999999999940942 + w * (0.22222198432149784 + w * 0.15313837699209373));
  const odd = z * (0.6666666666666735 + w * (0.2857142874366239 + w * (0.1818357216161805 + w * 0.14798198605116586)));
  const r = odd + even;
  return k * LN2_HIGH - (halfSquare - (s * (halfSquare + r) + k * LN2_LOW) - f);
}

/** Sine of radians. */
export function sin(x) {
  if (!(Math.abs(x) <= 1e6)) {
    return sinFar(x);
  }
  return x === 0 ? x : inQuadrant(x, 0);
}

/** Cosine of radians. */
export function cos(x) {
  return Math.abs(x) <= 1e6 ? inQuadrant(x, 1) : cosFar(x);
}

/** Sine of an angle up to a million radians plus some quarter turns. */
function inQuadrant(x, quarterTurns) {
  const turns = x * 0.6366197723675814 + TO_WHOLE - TO_WHOLE;
  const first = x - turns * 1.5707963267341256;
  // Differences with their rounding error.
  let b = -(turns * 6.077100506303966e-11);
  const second = first + b;
  let bPart = second - first;
  const secondError = first - (second - bPart) + (b - bPart);
  b = -(turns * 2.0222662487111665e-21);
  const third = second + b;
  bPart = third - second;
  const thirdError = second - (third - bPart) + (b - bPart);
  const rest = secondError + thirdError - turns * 8.4784276603689e-32;
  const high = third + rest;
  const low = third - high + rest;
  const quarter = (turns | 0) + quarterTurns;
  const size = (quarter & 1) === 0 ? sinPolynomial(high, low) : cosPolynomial(high, low);
  return (quarter & 2) === 0 ? size : -size;
}

/** Inverse sine, radians. */
export function asin(x) {
  const size = Math.abs(x);
  if (size < 0.5) {
    return copySign(size + size * arcPolynomial(size * size), x);
  }
  const z = (1 - size) * 0.5;
  const r = arcPolynomial(z);
  const root = Math.sqrt(z);
  if (size > 0.975) {
    return copySign(HALF_PI_HIGH - (2 * (root + root * r) - HALF_PI_LOW), x);
  }
  const head = withoutLowWord(root);
  const tail = rootTail(z, root, head);
  const angle = 0.5 * HALF_PI_HIGH - (2 * root * r - (HALF_PI_LOW - 2 * tail) - (0.5 * HALF_PI_HIGH - 2 * head));
  return copySign(angle, x);
}

/** Inverse cosine, radians. */
export function acos(x) {
  const size = Math.abs(x);
  const small = size < 0.5;
  const z = small ? size * size : (1 - size) * 0.5;
  const r = arcPolynomial(z);
  if (small) {
    return HALF_PI_HIGH - (x - (HALF_PI_LOW - x * r));
  }
  const root = Math.sqrt(z);
  if (x < 0) {
    return 2 * (HALF_PI_HIGH - (root + (r * root - HALF_PI_LOW)));
  }
  const head = withoutLowWord(root);
  return 2 * (head + (r * root + rootTail(z, root, head)));
}

/** What a root's upper half lacks. */
function rootTail(z, root, head) {
  const divisor = root + head;
  return (z - head * head) / (divisor === 0 ? 1 : divisor);
}

function arcPolynomial(z) {
  const p =
    z *
    (0.16666666666666666 +
      z *
        (-0.3255658186224009 +
          z * (0.20121253213486293 + z * (-0.04005553450067941 + z * (0.0007915349942898145 + z * 3.479331075960212e-5)))));
  const q = 1 + z * (-2.403394911734414 + z * (2.0209457602335057 + z * (-0.6882839716054533 + z * 0.07703815055590194)));
  return p / q;
}

function arctangentPolynomial(t) {
  const z = t * t;
  const w = z * z;
  const even =
    z *
    (0.3333333333333293 +
      w *
        (0.14285714272503466 +
          w * (0.09090887133436507 + w * (0.06661073137387531 + w * (0.049768779946159324 + w * 0.016285820115365782)))));
  const odd =
    w *
    (-0.19999999999876483 +
      w * (-0.11111110405462356 + w * (-0.0769187620504483 + w * (-0.058335701337905735 + w * -0.036531572744216916))));
  return even + odd;
}

/** The angle of the point (x, y), radians; 0 at the origin. */
export function atan2(y, x) {
  if (y !== y || x !== x) {
    return NaN;
  }
  const sizeY = Math.abs(y);
  const sizeX = Math.abs(x);
  const steep = sizeY > sizeX;
  const leftward = isNegative(x);
  // The angle between 0 and π/4 whose tangent is the smaller over the larger: anchor + fromAnchor + correction.
  const bothInfinite = sizeY === Infinity && sizeX === Infinity;
  const larger = steep ? sizeY : sizeX;
  const shorter = bothInfinite ? 1 : steep ? sizeX : sizeY;
  const longer = bothInfinite || larger === 0 ? 1 : larger;
  const quotient = shorter / longer;
  let anchorHigh = 0;
  let anchorLow = 0;
  let fromAnchor = quotient;
  let correction = 0;
  const small = quotient < 0.4375;
  const medium = quotient < 0.6875;
  if (!small) {
    anchorHigh = medium ? 0.4636476090008061 : 0.7853981633974483;
    anchorLow = medium ? 2.2698777452961687e-17 : 3.061616997868383e-17;
  }
  if (!(quotient < TWO_MINUS_60)) {
    const scale = scaleDown(longer);
    const n = shorter * scale;
    const d = longer * scale;
    let numerator = n;
    let denominator = d;
    let denominatorError = 0;
    if (!small) {
      numerator = medium ? n + n - d : n - d;
      twoSum(medium ? d + d : d, n, PAIR_A);
      denominator = PAIR_A[0];
      denominatorError = PAIR_A[1];
    }
    const t = numerator / denominator;
    twoProduct(t, denominator, PAIR_A);
    const tError = (numerator - PAIR_A[0] - PAIR_A[1] - t * denominatorError) / denominator;
    fromAnchor = t;
    correction = tError * (1 - t * t) - t * arctangentPolynomial(t);
  }
  const baseHigh = steep ? HALF_PI_HIGH : leftward ? 3.141592653589793 : 0;
  const baseLow = steep ? HALF_PI_LOW : leftward ? 1.2246467991473532e-16 : 0;
  const sign = steep !== leftward ? -1 : 1;
  twoSum(baseHigh, sign * anchorHigh, PAIR_A);
  const anchor = PAIR_A[0];
  const anchorError = PAIR_A[1];
  twoSum(anchor, sign * fromAnchor, PAIR_A);
  const rest = baseLow + sign * anchorLow + sign * correction;
  return copySign(PAIR_A[0] + (PAIR_A[1] + (anchorError + rest)), y);
}

/** Cube root, of negative numbers too. */
export function cbrt(x) {
  const size = Math.abs(x);
  if (!(size > 0 && size < Infinity)) {
    return x;
  }
  const subnormal = size < 2.2250738585072014e-308;
  const scaled = subnormal ? size * 18014398509481984 : size;
  const third = Math.floor(highWord(scaled) / 3);
  const guess = fromWords(third + (subnormal ? 696219795 : 715094163), 0);
  const r = guess * guess * (guess / size);
  const refined =
    guess *
    (1.87595182427177 +
      r * (-1.8849797954337717 + r * 1.6214297201053545) +
      r * r * r * (-0.758397934778766 + r * 0.14599619288661245));
  // 23 bits, rounded away from zero.
  const low = lowWord(refined) + 0x80000000;
  const t = fromWords(highWord(refined) + (low > 0xffffffff ? 1 : 0), (low & 0xc0000000) >>> 0);
  const quotient = size / (t * t);
  return copySign(t + t * ((quotient - t) / (t + t + quotient)), x);
}

/** A power of two that brings a length to where its square keeps all its bits. */
function scaleDown(length) {
  return length < TWO_MINUS_400 ? TWO_600 : length > TWO_400 ? TWO_MINUS_600 : 1;
}

/** The square root of the sum of squares of `count` numbers that stand at these places, each so many places on. */
export function normAt(values, places, first, count, on) {
  let largest = 0;
  for (let i = first; i < first + count; i++) {
    largest = maxOf(largest, Math.abs(values[places[i] + on]));
  }
  const scale = scaleDown(largest);
  let sum = 0;
  for (let i = first; i < first + count; i++) {
    const scaled = values[places[i] + on] * scale;
    sum += scaled * scaled;
  }
  return Math.sqrt(sum) * (scale === 1 ? 1 : scale === TWO_600 ? TWO_MINUS_600 : TWO_600);
}
