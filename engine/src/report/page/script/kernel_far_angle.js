/**
 * Sine and cosine of angles beyond a million radians, whose reduction is exact for any size: FreeBSD msun `s_sin.c`,
 * `e_rem_pio2.c` and `k_rem_pio2.c`, as `libm` has them in plain Rust.
 *
 * Copyright (C) 1993 by Sun Microsystems, Inc. All rights reserved. Developed at SunSoft, a Sun Microsystems, Inc.
 * business. Permission to use, copy, modify, and distribute this software is freely granted, provided that this notice
 * is preserved.
 */

import { highWord, lowWord, fromWords, isNegative, powerOfTwo } from "./kernel_bits.js";

/** 2/π in pieces of 24 bits. */
const TWO_OVER_PI_PIECES = [
  0xa2f983, 0x6e4e44, 0x1529fc, 0x2757d1, 0xf534dd, 0xc0db62, 0x95993c, 0x439041, 0xfe5163, 0xabdebb, 0xc561b7, 0x246e3a,
  0x424dd2, 0xe00649, 0x2eea09, 0xd1921c, 0xfe1deb, 0x1cb129, 0xa73ee8, 0x8235f5, 0x2ebb44, 0x84e99c, 0x7026b4, 0x5f7e41,
  0x3991d6, 0x398353, 0x39f49c, 0x845f8b, 0xbdf928, 0x3b1ff8, 0x97ffde, 0x05980f, 0xef2f11, 0x8b5a0a, 0x6d1f6d, 0x367ecf,
  0x27cb09, 0xb74f46, 0x3f669e, 0x5fea2d, 0x7527ba, 0xc7ebe5, 0xf17b3d, 0x0739f7, 0x8a5292, 0xea6bfb, 0x5fb11f, 0x8d5d08,
  0x560330, 0x46fc7b, 0x6babf0, 0xcfbc20, 0x9af436, 0x1da9e3, 0x91615e, 0xe61b08, 0x659985, 0x5f14a0, 0x68408d, 0xffd880,
  0x4d7327, 0x310606, 0x1556ca, 0x73a8c9, 0x60e27b, 0xc08c6b,
];

/** π/2 in pieces of 24 bits. */
const HALF_PI_PIECES = [
  1.570796251296997, 7.549789415861596e-8, 5.390302529957765e-15, 3.282003415807913e-22, 1.270655753080676e-29,
  1.2293330898111133e-36, 2.7337005381646456e-44, 2.1674168387780482e-51,
];

const TWO_24 = 16777216;
const TWO_MINUS_24 = 1 / 16777216;

/** Sine of x + y for |x| up to π/4 and y far smaller. */
export function sinPolynomial(x, y) {
  const z = x * x;
  const w = z * z;
  const r =
    0.00833333333332249 + z * (-0.0001984126982985795 + z * 2.7557313707070068e-6) + z * w * (-2.5050760253406863e-8 + z * 1.58969099521155e-10);
  const v = z * x;
  return x - (z * (0.5 * y - v * r) - y - v * -0.16666666666666632);
}

/** Cosine of x + y for |x| up to π/4 and y far smaller. */
export function cosPolynomial(x, y) {
  const z = x * x;
  const w = z * z;
  const r =
    z * (0.0416666666666666 + z * (-0.001388888888887411 + z * 2.480158728947673e-5)) +
    w * w * (-2.7557314351390663e-7 + z * (2.087572321298175e-9 + z * -1.1359647557788195e-11));
  const half = 0.5 * z;
  const oneLess = 1 - half;
  return oneLess + (1 - oneLess - half + (z * r - x * y));
}

/** Sine of an angle beyond a million radians; NaN of what is no finite number. */
export function sinFar(x) {
  if (x - x !== 0) {
    return NaN;
  }
  const [quarter, high, low] = reduceFar(x);
  switch (quarter & 3) {
    case 0:
      return sinPolynomial(high, low);
    case 1:
      return cosPolynomial(high, low);
    case 2:
      return -sinPolynomial(high, low);
    default:
      return -cosPolynomial(high, low);
  }
}

/** Cosine of an angle beyond a million radians; NaN of what is no finite number. */
export function cosFar(x) {
  if (x - x !== 0) {
    return NaN;
  }
  const [quarter, high, low] = reduceFar(x);
  switch (quarter & 3) {
    case 0:
      return cosPolynomial(high, low);
    case 1:
      return -sinPolynomial(high, low);
    case 2:
      return -cosPolynomial(high, low);
    default:
      return sinPolynomial(high, low);
  }
}

/** Quarter turns taken away, and what is left in two parts. */
function reduceFar(x) {
  const exponent = (highWord(x) >>> 20) & 0x7ff;
  if ((highWord(x) & 0x7fffffff) < 0x413921fb) {
    return reduceMedium(x, exponent);
  }
  // |x| in three pieces of 24 bits, the first below 2^24.
  let z = fromWords((highWord(x) & 0xfffff) | ((0x3ff + 23) << 20), lowWord(x));
  const pieces = [0, 0, 0];
  for (let i = 0; i < 2; i++) {
    pieces[i] = Math.trunc(z);
    z = (z - pieces[i]) * TWO_24;
  }
  pieces[2] = z;
  let count = 3;
  while (count > 1 && pieces[count - 1] === 0) {
    count--;
  }
  const [n, high, low] = reducePieces(pieces.slice(0, count), exponent - (0x3ff + 23));
  return isNegative(x) ? [-n, -high, -low] : [n, high, low];
}

/** Up to 2^20 quarter turns. */
function reduceMedium(x, exponent) {
  const turns = x * 0.6366197723675814 + 6755399441055744 - 6755399441055744;
  let r = x - turns * 1.5707963267341256;
  let w = turns * 6.077100506506192e-11;
  let high = r - w;
  const fallen = () => exponent - ((highWord(high) >>> 20) & 0x7ff);
  if (fallen() > 16) {
    let t = r;
    w = turns * 6.077100506303966e-11;
    r = t - w;
    w = turns * 2.0222662487959506e-21 - (t - r - w);
    high = r - w;
    if (fallen() > 49) {
      t = r;
      w = turns * 2.0222662487111665e-21;
      r = t - w;
      w = turns * 8.4784276603689e-32 - (t - r - w);
      high = r - w;
    }
  }
  return [turns, high, r - high - w];
}

/** Payne and Hanek's reduction of a number in pieces of 24 bits, the first times 2^e0. */
function reducePieces(x, e0) {
  const jk = 4;
  const jx = x.length - 1;
  const jv = Math.max(0, Math.trunc((e0 - 3) / 24));
  let q0 = e0 - 24 * (jv + 1);
  const f = new Array(20).fill(0);
  const q = new Array(20).fill(0);
  const iq = new Array(20).fill(0);
  for (let i = 0; i <= jx + jk; i++) {
    const j = jv - jx + i;
    f[i] = j < 0 ? 0 : TWO_OVER_PI_PIECES[j];
  }
  const product = (i) => {
    let sum = 0;
    for (let j = 0; j <= jx; j++) {
      sum += x[j] * f[jx + i - j];
    }
    return sum;
  };
  for (let i = 0; i <= jk; i++) {
    q[i] = product(i);
  }
  let jz = jk;
  let z;
  let n;
  let ih;
  for (;;) {
    z = q[jz];
    for (let j = jz, i = 0; j > 0; j--, i++) {
      const high = Math.trunc(TWO_MINUS_24 * z);
      iq[i] = Math.trunc(z - TWO_24 * high);
      z = q[j - 1] + high;
    }
    z *= powerOfTwo(q0);
    z -= 8 * Math.floor(z * 0.125);
    n = Math.trunc(z);
    z -= n;
    ih = 0;
    if (q0 > 0) {
      const i = iq[jz - 1] >> (24 - q0);
      n += i;
      iq[jz - 1] -= i << (24 - q0);
      ih = iq[jz - 1] >> (23 - q0);
    } else if (q0 === 0) {
      ih = iq[jz - 1] >> 23;
    } else if (z >= 0.5) {
      ih = 2;
    }
    if (ih > 0) {
      n += 1;
      let carry = 0;
      for (let i = 0; i < jz; i++) {
        const j = iq[i];
        if (carry !== 0) {
          iq[i] = 0xffffff - j;
        } else if (j !== 0) {
          carry = 1;
          iq[i] = 0x1000000 - j;
        }
      }
      if (q0 === 1) {
        iq[jz - 1] &= 0x7fffff;
      } else if (q0 === 2) {
        iq[jz - 1] &= 0x3fffff;
      }
      if (ih === 2) {
        z = 1 - z;
        if (carry !== 0) {
          z -= powerOfTwo(q0);
        }
      }
    }
    if (z !== 0) {
      break;
    }
    let left = 0;
    for (let i = jk; i < jz; i++) {
      left |= iq[i];
    }
    if (left !== 0) {
      break;
    }
    let k = 1;
    while (iq[jk - k] === 0) {
      k++;
    }
    for (let i = jz + 1; i <= jz + k; i++) {
      f[jx + i] = TWO_OVER_PI_PIECES[jv + i];
      q[i] = product(i);
    }
    jz += k;
  }
  if (z === 0) {
    do {
      jz -= 1;
      q0 -= 24;
    } while (iq[jz] === 0);
  } else {
    z *= powerOfTwo(-q0);
    if (z >= TWO_24) {
      const high = Math.trunc(TWO_MINUS_24 * z);
      iq[jz] = Math.trunc(z - TWO_24 * high);
      jz += 1;
      q0 += 24;
      iq[jz] = high;
    } else {
      iq[jz] = Math.trunc(z);
    }
  }
  let factor = powerOfTwo(q0);
  for (let i = jz; i >= 0; i--) {
    q[i] = factor * iq[i];
    factor *= TWO_MINUS_24;
  }
  const terms = new Array(jz + 1).fill(0);
  for (let i = jz; i >= 0; i--) {
    let sum = 0;
    for (let k = 0; k <= jk && k <= jz - i; k++) {
      sum += HALF_PI_PIECES[k] * q[i + k];
    }
    terms[jz - i] = sum;
  }
  let high = 0;
  for (let i = jz; i >= 0; i--) {
    high += terms[i];
  }
  let low = terms[0] - high;
  for (let i = 1; i <= jz; i++) {
    low += terms[i];
  }
  return ih === 0 ? [n & 7, high, low] : [n & 7, -high, -low];
}
