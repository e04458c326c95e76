/**
 * Evenly spread sample points, the engine's own: `engine/src/kernel/sobol.rs`. Coordinates are those of Sobol's sequence in
 * Gray code order, scrambled by a hash, in the middle of cells of 2^-32.
 */

const SOBOL_MASK = (1n << 64n) - 1n;

/** The finaliser of SplitMix64. */
function mixBits(x) {
  let z = (x + 0x9e3779b97f4a7c15n) & SOBOL_MASK;
  z = ((z ^ (z >> 30n)) * 0xbf58476d1ce4e5b9n) & SOBOL_MASK;
  z = ((z ^ (z >> 27n)) * 0x94d049bb133111ebn) & SOBOL_MASK;
  return z ^ (z >> 31n);
}

function reverseBits(x) {
  let r = ((x >>> 1) & 0x55555555) | ((x & 0x55555555) << 1);
  r = ((r >>> 2) & 0x33333333) | ((r & 0x33333333) << 2);
  r = ((r >>> 4) & 0x0f0f0f0f) | ((r & 0x0f0f0f0f) << 4);
  r = ((r >>> 8) & 0x00ff00ff) | ((r & 0x00ff00ff) << 8);
  return ((r >>> 16) | (r << 16)) >>> 0;
}

/** Owen's nested scrambling by a hash. */
function scrambleBits(bits, seed) {
  let x = (reverseBits(bits) + seed) | 0;
  for (const factor of [0x6c50b47c, 0xb82f1e52, 0xc7afe638, 0x8d22f6e6]) {
    x ^= Math.imul(x, factor);
  }
  return reverseBits(x);
}

/** The points of one seed. */
export class SobolPoints {
  /**
   * @param {number} seed
   * @param {number[][]} directions for each dimension its first direction numbers, number i without its lower 31 − i bits
   */
  constructor(seed, directions) {
    this.seed = BigInt(seed);
    this.directions = directions;
  }

  /** One coordinate of the first `count` points, above 0 and below 1. */
  coordinates(dimension, count) {
    const seed = Number(mixBits(this.seed ^ mixBits(BigInt(dimension))) >> 32n);
    const numbers = this.directions[dimension]?.map((number, i) => (number << (31 - i)) >>> 0);
    const found = new Float64Array(count);
    for (let point = 0; point < count; point++) {
      let bits = 0;
      if (numbers === undefined) {
        // Beyond the dimensions of the sequence: the first one's, its points shuffled.
        bits = reverseBits(scrambleBits(point, ~seed >>> 0));
      } else {
        for (let rest = point ^ (point >>> 1), i = 0; rest !== 0; rest >>>= 1, i++) {
          bits ^= rest & 1 ? numbers[i] : 0;
        }
      }
      found[point] = (scrambleBits(bits >>> 0, seed) + 0.5) / 4294967296;
    }
    return found;
  }
}
