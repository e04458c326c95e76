/** Start vectors of the eigenvalue iterations. */

const START_MASK = (1n << 64n) - 1n;
const START_CACHE = new Map();

/** One component of a start vector: fixed, without any symmetry. */
export function startAt(vector, at) {
  const key = vector * 1048576 + at;
  const known = START_CACHE.get(key);
  if (known !== undefined) {
    return known;
  }
  let bits = ((BigInt(vector) * 0x100000001n + BigInt(at) + 1n) * 0x9e3779b97f4a7c15n) & START_MASK;
  bits = ((bits ^ (bits >> 29n)) * 0xbf58476d1ce4e5b9n) & START_MASK;
  const component = Number(bits >> 32n) / 4294967296 - 0.5;
  START_CACHE.set(key, component);
  return component;
}
