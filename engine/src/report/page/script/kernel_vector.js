/** Three numbers in a fixed order of operations: `engine/src/kernel/gap/vector.rs`. */

/** a + b */
export function addVectors(a, b) {
  return [a[0] + b[0], a[1] + b[1], a[2] + b[2]];
}

/** a − b */
export function subtractVectors(a, b) {
  return [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
}

/** a times a number. */
export function scaleVector(a, factor) {
  return [a[0] * factor, a[1] * factor, a[2] * factor];
}

/** a · b */
export function dotProduct(a, b) {
  return a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
}

/** a × b */
export function crossProduct(a, b) {
  return [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
}

/** |a| */
export function lengthOf(a) {
  return Math.sqrt(dotProduct(a, a));
}

/** The unit vector along a, or null where a is not longer than `least`. */
export function directionOf(a, least) {
  const length = lengthOf(a);
  return length > least ? [a[0] / length, a[1] / length, a[2] / length] : null;
}

/** A unit vector square to a unit vector. */
export function squareTo(a) {
  let axis = 0;
  for (let other = 1; other < 3; other++) {
    if (Math.abs(a[other]) < Math.abs(a[axis])) {
      axis = other;
    }
  }
  const unit = [0, 0, 0];
  unit[axis] = 1;
  return directionOf(crossProduct(a, unit), 0) ?? unit;
}
