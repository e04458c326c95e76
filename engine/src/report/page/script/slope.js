/** Between a slope, as a machine level reads it, and its angle: the tangent and its inverse, to the bit of the engine. */

import { cos, sin } from "./kernel_elementary.js";

const QUARTER_TURN = 1.5707963267948966;
const QUARTER_TURN_LOW = 6.123233995736766e-17;

/** The tangent of an angle in radians. */
export function slopeOfAngle(angle) {
  return sin(angle) / cos(angle);
}

/** The angle in radians that has this tangent: FDLIBM `s_atan.c`. */
export function angleOfSlope(slope) {
  const size = Math.abs(slope);
  const [numerator, denominator, high, low] = nearestAnchor(size);
  const t = numerator / denominator;
  const angle = high - (t * seriesOfArctangent(t) - low - t);
  return slope < 0 || Object.is(slope, -0) ? -Math.abs(angle) : Math.abs(angle);
}

/** The slope beside the nearest angle that is known, as a fraction, and that angle in two parts. */
function nearestAnchor(size) {
  if (size < 0.4375) return [size, 1, 0, 0];
  if (size < 0.6875) return [2 * size - 1, 2 + size, 0.4636476090008061, 2.2698777452961687e-17];
  if (size < 1.1875) return [size - 1, size + 1, 0.7853981633974483, 3.061616997868383e-17];
  if (size < 2.4375) return [size - 1.5, 1 + 1.5 * size, 0.982793723247329, 1.3903311031230998e-17];
  return [-1, size, QUARTER_TURN, QUARTER_TURN_LOW];
}

/** `p` in atan(t) = t - t·p(t), for `|t|` up to 7/16. */
function seriesOfArctangent(t) {
  const z = t * t;
  const w = z * z;
  const even = [0.016285820115365782, 0.049768779946159324, 0.06661073137387531, 0.09090887133436507, 0.14285714272503466];
  const odd = [-0.036531572744216916, -0.058335701337905735, -0.0769187620504483, -0.11111110405462356];
  const evens = z * (0.3333333333333293 + w * even.reduce((sum, coefficient) => coefficient + w * sum));
  const odds = w * (-0.19999999999876483 + w * odd.reduce((sum, coefficient) => coefficient + w * sum));
  return evens + odds;
}
