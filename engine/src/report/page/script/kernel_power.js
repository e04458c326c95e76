/**
 * x to the power y: `libm`'s pow, which is FreeBSD msun `e_pow.c`.
 *
 * Copyright (C) 2004 by Sun Microsystems, Inc. All rights reserved. Permission to use, copy, modify, and distribute this
 * software is freely granted, provided that this notice is preserved.
 */

import { highWord, lowWord, fromWords, scaleBinary, withHighWord, withoutLowWord } from "./kernel_bits.js";

/** x to the power y; NaN of a negative x unless y is whole, and wherever one of the two is NaN. */
export function pow(x, y) {
  if (x !== x || y !== y) {
    return NaN;
  }
  const hx = highWord(x) | 0;
  const lx = lowWord(x);
  const hy = highWord(y) | 0;
  const ly = lowWord(y);
  const ix = hx & 0x7fffffff;
  const iy = hy & 0x7fffffff;
  if ((iy | ly) === 0 || (hx === 0x3ff00000 && lx === 0)) {
    return 1;
  }
  const whole = hx < 0 ? parity(iy, ly) : 0;
  if (ly === 0) {
    if (iy === 0x7ff00000) {
      if (((ix - 0x3ff00000) | lx) === 0) {
        return 1;
      }
      return ix >= 0x3ff00000 ? (hy >= 0 ? y : 0) : hy >= 0 ? 0 : -y;
    }
    if (iy === 0x3ff00000) {
      return hy >= 0 ? x : 1 / x;
    }
    if (hy === 0x40000000) {
      return x * x;
    }
    if (hy === 0x3fe00000 && hx >= 0) {
      return Math.sqrt(x);
    }
  }
  if (lx === 0 && (ix === 0x7ff00000 || ix === 0 || ix === 0x3ff00000)) {
    const z = hy < 0 ? 1 / Math.abs(x) : Math.abs(x);
    if (hx < 0) {
      if (((ix - 0x3ff00000) | whole) === 0) {
        return NaN;
      }
      return whole === 1 ? -z : z;
    }
    return z;
  }
  if (hx < 0 && whole === 0) {
    return NaN;
  }
  const sign = whole === 1 ? -1 : 1;
  if (iy > 0x41e00000) {
    if (iy > 0x43f00000) {
      return ix <= 0x3fefffff === hy < 0 ? Infinity : 0;
    }
    if (ix < 0x3fefffff) {
      return hy < 0 ? sign * Infinity : sign * 0;
    }
    if (ix > 0x3ff00000) {
      return hy > 0 ? sign * Infinity : sign * 0;
    }
    return sign * powerFromLogarithm(y, ...logarithmNearOne(Math.abs(x)));
  }
  return sign * powerFromLogarithm(y, ...logarithm(Math.abs(x), ix));
}

/** Of a number's bits: 0 where it is not whole, 1 where it is odd, 2 where it is even. */
function parity(iy, ly) {
  if (iy >= 0x43400000) {
    return 2;
  }
  if (iy < 0x3ff00000) {
    return 0;
  }
  const k = (iy >> 20) - 0x3ff;
  if (k > 20) {
    const j = ly >>> (52 - k);
    return j << (52 - k) === (ly | 0) ? 2 - (j & 1) : 0;
  }
  if (ly === 0) {
    const j = iy >> (20 - k);
    return j << (20 - k) === iy ? 2 - (j & 1) : 0;
  }
  return 0;
}

/** The binary logarithm in two parts of a number within 2^-20 of 1. */
function logarithmNearOne(ax) {
  const t = ax - 1;
  const w = t * t * (0.5 - t * (0.3333333333333333 - t * 0.25));
  const u = 1.4426950216293335 * t;
  const v = t * 1.9259629911266175e-8 - w * 1.4426950408889634;
  const high = withoutLowWord(u + v);
  return [high, v - (high - u)];
}

/** The binary logarithm of a positive number in two parts. */
function logarithm(size, upper) {
  let ax = size;
  let ix = upper;
  let n = 0;
  if (ix < 0x00100000) {
    ax *= 9007199254740992;
    n -= 53;
    ix = highWord(ax);
  }
  n += (ix >> 20) - 0x3ff;
  const j = ix & 0x000fffff;
  ix = j | 0x3ff00000;
  let k = 0;
  if (j > 0x3988e) {
    if (j < 0xbb67a) {
      k = 1;
    } else {
      n += 1;
      ix -= 0x00100000;
    }
  }
  ax = withHighWord(ax, ix);
  const bp = k === 0 ? 1 : 1.5;
  const dpHigh = k === 0 ? 0 : 0.5849624872207642;
  const dpLow = k === 0 ? 0 : 1.350039202129749e-8;
  const u = ax - bp;
  const v = 1 / (ax + bp);
  const ss = u * v;
  const sHigh = withoutLowWord(ss);
  const tHigh = fromWords(((ix >> 1) | 0x20000000) + 0x00080000 + (k << 18), 0);
  const tLow = ax - (tHigh - bp);
  const sLow = v * (u - sHigh * tHigh - sHigh * tLow);
  const square = ss * ss;
  let r =
    square *
    square *
    (0.5999999999999946 +
      square *
        (0.4285714285785502 +
          square *
            (0.33333332981837743 + square * (0.272728123808534 + square * (0.23066074577556175 + square * 0.20697501780033842)))));
  r += sLow * (sHigh + ss);
  const highSquare = sHigh * sHigh;
  const t = withoutLowWord(3 + highSquare + r);
  const tRest = r - (t - 3 - highSquare);
  const first = sHigh * t;
  const second = sLow * t + tRest * ss;
  const pHigh = withoutLowWord(first + second);
  const pLow = second - (pHigh - first);
  const zHigh = 0.9617967009544373 * pHigh;
  const zLow = -7.028461650952758e-9 * pHigh + pLow * 0.9617966939259756 + dpLow;
  const high = withoutLowWord(zHigh + zLow + dpHigh + n);
  return [high, zLow - (high - n - dpHigh - zHigh)];
}

/** 2 to the power y times a number in two parts. */
function powerFromLogarithm(y, t1, t2) {
  const y1 = withoutLowWord(y);
  const pLow = (y - y1) * t1 + y * t2;
  let pHigh = y1 * t1;
  let z = pLow + pHigh;
  const j = highWord(z) | 0;
  const low = lowWord(z) | 0;
  if (j >= 0x40900000) {
    if (((j - 0x40900000) | low) !== 0 || pLow + 8.008566259537294e-17 > z - pHigh) {
      return Infinity;
    }
  } else if ((j & 0x7fffffff) >= 0x4090cc00) {
    if (((j - 0xc090cc00) | low) !== 0 || pLow <= z - pHigh) {
      return 0;
    }
  }
  const i = j & 0x7fffffff;
  let k = (i >> 20) - 0x3ff;
  let n = 0;
  if (i > 0x3fe00000) {
    n = (j + (0x00100000 >> (k + 1))) | 0;
    k = ((n & 0x7fffffff) >> 20) - 0x3ff;
    const t = fromWords(n & ~(0x000fffff >> k), 0);
    n = ((n & 0x000fffff) | 0x00100000) >> (20 - k);
    if (j < 0) {
      n = -n;
    }
    pHigh -= t;
  }
  const t = withoutLowWord(pLow + pHigh);
  const u = t * 0.6931471824645996;
  const v = (pLow - (t - pHigh)) * 0.6931471805599453 + t * -1.904654299957768e-9;
  z = u + v;
  const w = v - (z - u);
  const square = z * z;
  const c =
    z -
    square *
      (0.16666666666666602 +
        square * (-0.0027777777777015593 + square * (6.613756321437934e-5 + square * (-1.6533902205465252e-6 + square * 4.1381367970572385e-8))));
  const r = (z * c) / (c - 2) - (w + z * w);
  z = 1 - (r - z);
  const upper = ((highWord(z) | 0) + (n << 20)) | 0;
  return upper >> 20 <= 0 ? scaleBinary(z, n) : withHighWord(z, upper);
}
