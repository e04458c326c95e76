/** How a number moves: `engine/src/study/interval.rs`. */

const HALF_TURN = 3.141592653589793;
const WHOLE_TURN = 6.283185307179586;

/** An angle counted round another: 179° and -179° are neighbours. */
export function floorTurns(value, centre) {
  return value - Math.floor((value - centre + HALF_TURN) / WHOLE_TURN) * WHOLE_TURN;
}

/**
 * The central 95 % of samples and the middle one; null for a number that does not move.
 *
 * @param {number[]} samples
 * @returns {{low: number, median: number, high: number}|null}
 */
export function intervalOf(samples) {
  if (samples.length === 0) {
    return null;
  }
  const sorted = Float64Array.from(samples).sort();
  const last = sorted.length - 1;
  if (sorted[0] === sorted[last]) {
    return null;
  }
  const outside = Math.floor(sorted.length / 40);
  return { low: sorted[outside], median: sorted[last >> 1], high: sorted[last - outside] };
}
