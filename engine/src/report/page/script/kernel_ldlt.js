/**
 * Symmetric positive definite systems by LDLᵀ in a fixed order: `engine/src/kernel/ldlt`, the same operations in the same
 * order. What depends on the places alone is worked out once, in an envelope.
 */

/** A pivot below this share of its diagonal entry counts as vanished. */
export const SINGULAR_BELOW = 1e-10;

/** The storage of a symmetric matrix with entries at `places` (row and column of each) when eliminated in `order`. */
export class Envelope {
  /**
   * @param {number} size
   * @param {number[]} places
   * @param {number[]} order
   */
  constructor(size, places, order) {
    this.size = size;
    this.order = Int32Array.from(order);
    const step = new Int32Array(size);
    this.order.forEach((unknown, at) => {
      step[unknown] = at;
    });
    this.first = new Int32Array(size);
    for (let row = 0; row < size; row++) {
      this.first[row] = row;
    }
    const count = places.length / 2;
    const rows = new Int32Array(count);
    const columns = new Int32Array(count);
    for (let place = 0; place < count; place++) {
      const i = step[places[2 * place]];
      const j = step[places[2 * place + 1]];
      rows[place] = Math.max(i, j);
      columns[place] = Math.min(i, j);
      this.first[rows[place]] = Math.min(this.first[rows[place]], columns[place]);
    }
    this.start = new Int32Array(size + 1);
    for (let row = 0; row < size; row++) {
      this.start[row + 1] = this.start[row] + row - this.first[row] + 1;
    }
    this.targets = rows.map((row, place) => this.start[row] + columns[place] - this.first[row]);
    this.storage = this.start[size];
  }

  /** Adds up, in a storage that it empties first, values that stand at the pattern's places from `from` on. */
  assemble(values, from, count, storage) {
    storage.fill(0);
    for (let i = 0; i < count; i++) {
      storage[this.targets[from + i]] += values[i];
    }
  }
}

/** The factor of one matrix. */
export class Factor {
  /** @param {Envelope} envelope */
  constructor(envelope) {
    this.envelope = envelope;
    this.rows = new Float64Array(envelope.storage);
    this.diagonal = new Float64Array(envelope.size);
    this.ordered = new Float64Array(envelope.size);
  }

  /** Turns the matrix that stands in `rows` into its factor; false where it is not positive definite. */
  factorise() {
    const { size, first, start } = this.envelope;
    const { rows, diagonal } = this;
    for (let row = 0; row < size; row++) {
      const from = first[row];
      const here = start[row];
      const entry = rows[here + row - from];
      for (let column = from; column < row; column++) {
        const otherFrom = first[column];
        const common = Math.max(from, otherFrom);
        const sum = dotFours(rows, here + common - from, rows, start[column] + common - otherFrom, column - common);
        rows[here + column - from] -= sum;
      }
      let pivot = entry;
      for (let column = from; column < row; column++) {
        const value = rows[here + column - from];
        const scaled = value / diagonal[column];
        pivot -= value * scaled;
        rows[here + column - from] = scaled;
      }
      if (!(SINGULAR_BELOW * Math.abs(entry) < pivot && pivot - pivot === 0)) {
        return false;
      }
      diagonal[row] = pivot;
    }
    return true;
  }

  /** Solves for one right side, which stands in `sides` from `at` on, in place. */
  solve(sides, at) {
    const { size, order, first, start } = this.envelope;
    const { rows, diagonal, ordered } = this;
    for (let row = 0; row < size; row++) {
      ordered[row] = sides[at + order[row]];
    }
    for (let row = 0; row < size; row++) {
      ordered[row] -= dotFours(ordered, first[row], rows, start[row], row - first[row]);
    }
    for (let row = 0; row < size; row++) {
      ordered[row] /= diagonal[row];
    }
    for (let row = size - 1; row >= 0; row--) {
      const value = ordered[row];
      const from = first[row];
      for (let column = from; column < row; column++) {
        ordered[column] -= rows[start[row] + column - from] * value;
      }
    }
    for (let row = 0; row < size; row++) {
      sides[at + order[row]] = ordered[row];
    }
  }
}

/** The sum of `count` products in four interleaved sums. */
function dotFours(a, atA, b, atB, count) {
  let s0 = 0;
  let s1 = 0;
  let s2 = 0;
  let s3 = 0;
  const fours = count - (count % 4);
  for (let i = 0; i < fours; i += 4) {
    s0 += a[atA + i] * b[atB + i];
    s1 += a[atA + i + 1] * b[atB + i + 1];
    s2 += a[atA + i + 2] * b[atB + i + 2];
    s3 += a[atA + i + 3] * b[atB + i + 3];
  }
  const rest = count - fours;
  if (rest > 0) {
    s0 += a[atA + fours] * b[atB + fours];
  }
  if (rest > 1) {
    s1 += a[atA + fours + 1] * b[atB + fours + 1];
  }
  if (rest > 2) {
    s2 += a[atA + fours + 2] * b[atB + fours + 2];
  }
  return s0 + s1 + (s2 + s3);
}

/** A system that a tape solves, made ready: its matrix's values and right sides in, solutions out. */
export class System {
  /** @param {{size: number, places: number[], order: number[]}} json */
  constructor(json) {
    this.entries = json.places.length / 2;
    this.size = json.size;
    this.factor = new Factor(new Envelope(json.size, json.places, json.order));
  }

  /** Values of the matrix, then right sides, in `given`; solutions into `out`. False where there is none. */
  solve(given, out) {
    this.factor.envelope.assemble(given, 0, this.entries, this.factor.rows);
    if (!this.factor.factorise()) {
      return false;
    }
    for (let i = 0; i < out.length; i++) {
      out[i] = given[this.entries + i];
    }
    for (let at = 0; at + this.size <= out.length && this.size > 0; at += this.size) {
      this.factor.solve(out, at);
    }
    return true;
  }
}
