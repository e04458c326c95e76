/**
 * A number's bits, and what the kernels do with them: the same bits as the engine's.
 *
 * JavaScript's numbers are IEEE 754 doubles, and `+ - * /`, `Math.sqrt`, `Math.abs` and `Math.floor` are exact or rounded
 * once. Nothing else of `Math` is used here: its sine may be another on every machine.
 */

const BITS_FLOAT = new Float64Array(1);
const BITS_WORDS = new Uint32Array(BITS_FLOAT.buffer);
const BITS_HIGH = new Uint32Array(new Float64Array([1]).buffer)[1] === 0x3ff00000 ? 1 : 0;
const BITS_LOW = 1 - BITS_HIGH;

/** The upper 32 bits of a number, unsigned. */
export function highWord(x) {
  BITS_FLOAT[0] = x;
  return BITS_WORDS[BITS_HIGH];
}

/** The lower 32 bits of a number, unsigned. */
export function lowWord(x) {
  BITS_FLOAT[0] = x;
  return BITS_WORDS[BITS_LOW];
}

/** The number with these bits. */
export function fromWords(high, low) {
  BITS_WORDS[BITS_HIGH] = high;
  BITS_WORDS[BITS_LOW] = low;
  return BITS_FLOAT[0];
}

/** The number without its lower 32 bits. */
export function withoutLowWord(x) {
  BITS_FLOAT[0] = x;
  BITS_WORDS[BITS_LOW] = 0;
  return BITS_FLOAT[0];
}

/** The number with other upper 32 bits. */
export function withHighWord(x, high) {
  BITS_FLOAT[0] = x;
  BITS_WORDS[BITS_HIGH] = high;
  return BITS_FLOAT[0];
}

/** Whether the sign is minus, that of a zero too. */
export function isNegative(x) {
  return x < 0 || (x === 0 && 1 / x < 0);
}

/** The size of one number with the sign of the other. */
export function copySign(size, sign) {
  const magnitude = Math.abs(size);
  return isNegative(sign) ? -magnitude : magnitude;
}

/** 2 to the power n, where that is a normal number. */
export function powerOfTwo(n) {
  return fromWords((n + 1023) << 20, 0);
}

/** x times 2 to the power n, rounded once; n from -2000 to 1023, x near 1 where the result is very small. */
export function scaleBinary(x, n) {
  if (n >= -1022) {
    return x * powerOfTwo(n);
  }
  const first = x * powerOfTwo(-969);
  return n + 969 >= -1022 ? first * powerOfTwo(n + 969) : first * powerOfTwo(-969) * powerOfTwo(Math.max(n + 1938, -1022));
}

/** The next number above. */
export function nextUp(x) {
  if (x !== x || x === Infinity) {
    return x;
  }
  if (x === 0) {
    return 5e-324;
  }
  const high = highWord(x);
  const low = lowWord(x);
  if (x > 0) {
    return low === 0xffffffff ? fromWords(high + 1, 0) : fromWords(high, low + 1);
  }
  return low === 0 ? fromWords(high - 1, 0xffffffff) : fromWords(high, low - 1);
}

/** The next number below. */
export function nextDown(x) {
  return -nextUp(-x);
}

/** `a + b` and its rounding error, into `out` (Knuth, The Art of Computer Programming 2, 4.2.2). */
export function twoSum(a, b, out) {
  const sum = a + b;
  const bPart = sum - a;
  const aPart = sum - bPart;
  out[0] = sum;
  out[1] = a - aPart + (b - bPart);
}

/** `a · b` and its rounding error, into `out` (Dekker, Numerische Mathematik 18, 1971). */
export function twoProduct(a, b, out) {
  const product = a * b;
  const aScaled = 134217729 * a;
  const aHigh = aScaled - (aScaled - a);
  const aLow = a - aHigh;
  const bScaled = 134217729 * b;
  const bHigh = bScaled - (bScaled - b);
  const bLow = b - bHigh;
  out[0] = product;
  out[1] = aHigh * bHigh - product + aHigh * bLow + aLow * bHigh + aLow * bLow;
}
