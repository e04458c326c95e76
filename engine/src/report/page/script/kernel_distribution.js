/**
 * Quantiles of the normal and of Student's t distribution: `engine/src/kernel/distribution`, the same operations in the same
 * order.
 */

import { copySign, fromWords, highWord, lowWord } from "./kernel_bits.js";
import { cos, exp, ln, sin } from "./kernel_elementary.js";
import { rootOf } from "./kernel_search.js";

const NORMAL_A = [
  3.3871328727963665, 133.14166789178438, 1971.5909503065513, 13731.69376550946, 45921.95393154987, 67265.7709270087,
  33430.57558358813, 2509.0809287301227,
];
const NORMAL_B = [
  1, 42.31333070160091, 687.1870074920579, 5394.196021424751, 21213.794301586597, 39307.89580009271, 28729.085735721943,
  5226.495278852854,
];
const NORMAL_C = [
  1.4234371107496835, 4.630337846156546, 5.769497221460691, 3.6478483247632045, 1.2704582524523684, 0.2417807251774506,
  0.022723844989269184, 0.0007745450142783414,
];
const NORMAL_D = [
  1, 2.053191626637759, 1.6763848301838038, 0.6897673349851, 0.14810397642748008, 0.015198666563616457, 0.0005475938084995345,
  1.0507500716444169e-9,
];
const NORMAL_E = [
  6.657904643501103, 5.463784911164114, 1.7848265399172913, 0.29656057182850487, 0.026532189526576124, 0.0012426609473880784,
  2.7115555687434876e-5, 2.0103343992922881e-7,
];
const NORMAL_F = [
  1, 0.599832206555888, 0.1369298809227358, 0.014875361290850615, 0.0007868691311456133, 1.8463183175100548e-5,
  1.421511758316446e-7, 2.0442631033899397e-15,
];

function polynomialAt(coefficients, x) {
  let sum = 0;
  for (let i = coefficients.length - 1; i >= 0; i--) {
    sum = sum * x + coefficients[i];
  }
  return sum;
}

/** The number that a standard normal variable is below with probability p (Wichura, AS 241). */
export function normalQuantile(p) {
  const fromMiddle = p - 0.5;
  if (Math.abs(fromMiddle) <= 0.425) {
    const r = 0.180625 - fromMiddle * fromMiddle;
    return (fromMiddle * polynomialAt(NORMAL_A, r)) / polynomialAt(NORMAL_B, r);
  }
  const tail = fromMiddle < 0 ? p : 1 - p;
  if (tail > 0) {
    const r = Math.sqrt(-ln(tail));
    const size =
      r <= 5
        ? polynomialAt(NORMAL_C, r - 1.6) / polynomialAt(NORMAL_D, r - 1.6)
        : polynomialAt(NORMAL_E, r - 5) / polynomialAt(NORMAL_F, r - 5);
    return copySign(size, fromMiddle);
  }
  return tail === 0 ? copySign(Infinity, fromMiddle) : NaN;
}

/** The number that a variable of Student's t distribution is below with probability p. */
export function studentQuantile(p, freedoms) {
  const tail = p < 0.5 ? p : 1 - p;
  if (freedoms === 0 || tail !== tail || tail < 0) {
    return NaN;
  }
  const sign = p < 0.5 ? -1 : 1;
  if (tail === 0) {
    return sign * Infinity;
  }
  if (tail === 0.5) {
    return sign * 0;
  }
  if (freedoms === 1) {
    return sign * cauchyQuantile(tail);
  }
  if (freedoms === 2) {
    return sign * ((1 - 2 * tail) * Math.sqrt(0.5 / (tail * (1 - tail))));
  }
  return sign * (freedoms >= 10000 ? studentSeries(tail, freedoms) : studentInverse(tail, freedoms));
}

function cauchyQuantile(tail) {
  const pi = 3.141592653589793;
  return tail < 0.25 ? cos(pi * tail) / sin(pi * tail) : sin(pi * (0.5 - tail)) / cos(pi * (0.5 - tail));
}

function studentSeries(tail, n) {
  const x = -normalQuantile(tail);
  const z = x * x;
  const terms = [
    (z + 1) / 4,
    ((5 * z + 16) * z + 3) / 96,
    (((3 * z + 19) * z + 17) * z - 15) / 384,
    ((((79 * z + 776) * z + 1482) * z - 1920) * z - 945) / 92160,
  ];
  let sum = 0;
  for (let i = 3; i >= 0; i--) {
    sum = (sum + terms[i]) / n;
  }
  return x + x * sum;
}

function studentInverse(tail, freedoms) {
  const t = new Student(freedoms);
  if (tail < 0.25) {
    let high = 2;
    while (t.tail(high) > tail) {
      high *= 2;
    }
    return rootOf((x) => t.tail(x) - tail, 0, high);
  }
  return rootOf((x) => t.centre(x) - (0.5 - tail), 0, 1);
}

/** The distribution with n degrees of freedom. */
class Student {
  constructor(n) {
    const odd = n % 2 === 1;
    let a = odd ? 0.5 : 1;
    let ratio = odd ? 0.3183098861837907 : 0.5;
    while (a < 0.5 * n - 0.25) {
      ratio *= (a + 0.5) / a;
      a += 1;
    }
    this.n = n;
    this.gammaRatio = ratio;
  }

  /** The probability above t, which is not negative. */
  tail(t) {
    if (t * t > 3) {
      const a = 0.5 * this.n;
      return ((0.5 * this.front(t)) / a) * betaFraction(a, 0.5, this.n / (this.n + t * t));
    }
    return 0.5 - this.centre(t);
  }

  /** The probability between 0 and t, which is not negative. */
  centre(t) {
    if (t * t > 3) {
      return 0.5 - this.tail(t);
    }
    return ((0.5 * this.front(t)) / 0.5) * betaFraction(0.5, 0.5 * this.n, (t * t) / (this.n + t * t));
  }

  front(t) {
    const power = exp(-0.5 * this.n * logarithmOfOnePlus((t * t) / this.n));
    return power * Math.sqrt((t * t) / (this.n + t * t)) * this.gammaRatio;
  }
}

/** The continued fraction of the incomplete beta function. */
function betaFraction(a, b, x) {
  const keepOffZero = (value) => (Math.abs(value) < 1e-300 ? 1e-300 : value);
  let c = 1;
  let d = 1 / keepOffZero(1 - ((a + b) * x) / (a + 1));
  let result = d;
  for (let m = 1; m <= 10000; m++) {
    const even = (m * (b - m) * x) / ((a + 2 * m - 1) * (a + 2 * m));
    const odd = (-(a + m) * (a + b + m) * x) / ((a + 2 * m) * (a + 2 * m + 1));
    let change = 1;
    for (const coefficient of [even, odd]) {
      d = 1 / keepOffZero(1 + coefficient * d);
      c = keepOffZero(1 + coefficient / c);
      change = c * d;
      result *= change;
    }
    if (Math.abs(change - 1) <= 2.220446049250313e-16) {
      break;
    }
  }
  return result;
}

/**
 * The natural logarithm of 1 + x for x not negative: `libm`'s log1p, FreeBSD msun `s_log1p.c`.
 *
 * Copyright (C) 1993 by Sun Microsystems, Inc. All rights reserved. Developed at SunPro, a Sun Microsystems, Inc. business.
 * Permission to use, copy, modify, and distribute this software is freely granted, provided that this notice is preserved.
 */
export function logarithmOfOnePlus(x) {
  const hx = highWord(x);
  let k = 1;
  let c = 0;
  let f = 0;
  if (hx < 0x3fda827a) {
    if (hx < 0x3ca00000) {
      return x;
    }
    k = 0;
    f = x;
  } else if (hx >= 0x7ff00000) {
    return x;
  }
  if (k > 0) {
    const u = 1 + x;
    let hu = highWord(u) + 0x3ff00000 - 0x3fe6a09e;
    k = (hu >>> 20) - 0x3ff;
    c = k < 54 ? (k >= 2 ? 1 - (u - x) : x - (u - 1)) / u : 0;
    hu = (hu & 0x000fffff) + 0x3fe6a09e;
    f = fromWords(hu, lowWord(u)) - 1;
  }
  const halfSquare = 0.5 * f * f;
  const s = f / (2 + f);
  const z = s * s;
  const w = z * z;
  const even = w * (0.3999999999940942 + w * (0.22222198432149784 + w * 0.15313837699209373));
  const odd = z * (0.6666666666666735 + w * (0.2857142874366239 + w * (0.1818357216161805 + w * 0.14798198605116586)));
  const r = odd + even;
  return s * (halfSquare + r) + (k * LN2_LOWER + c) - halfSquare + f + k * LN2_UPPER;
}

const LN2_UPPER = 0.6931471803691238;
const LN2_LOWER = 1.9082149292705877e-10;
