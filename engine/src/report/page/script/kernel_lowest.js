/**
 * One eigenvalue without its shape, for larger problems: `engine/src/kernel/eigen/lowest.rs`, the same operations in the
 * same order. A group of four vectors stands component after component.
 */

import { Factor } from "./kernel_ldlt.js";
import { spectrumOf } from "./kernel_spectrum.js";
import { startAt } from "./kernel_start.js";

const TOGETHER = 4;
const SETTLED_VALUE = 1e-10;
const ROUNDING = 1e-8;
const MOST_ITERATIONS = 200;

/** The value, or null where this method does not find it. */
export function lowestValue(problem, k, m) {
  const { size, which, envelope } = problem;
  const count = which + 1;
  const groups = Math.ceil(Math.max(Math.min(2 * count, count + 8), count + 3) / TOGETHER);
  if (groups * TOGETHER >= size) {
    return null;
  }
  problem.subspace ??= new Subspace(envelope, groups);
  const { subspace } = problem;
  const { factor } = subspace;
  envelope.assemble(m, k.length, m.length, factor.rows);
  subspace.mass.set(factor.rows);
  if (!factor.factorise()) {
    return null;
  }
  envelope.assemble(k, 0, k.length, factor.rows);
  if (!factor.factorise()) {
    return null;
  }
  subspace.begin();
  let last = Infinity;
  let lastChange = Infinity;
  for (let iteration = 0; iteration < MOST_ITERATIONS; iteration++) {
    const spectrum = subspace.step();
    if (!spectrum.definite) {
      return null;
    }
    const now = 1 / spectrum.values[which];
    const change = Math.abs(last - now);
    const left = (change * change) / (lastChange - change);
    const falling = change < lastChange && lastChange - lastChange === 0;
    if ((!falling || left <= SETTLED_VALUE * now) && change <= ROUNDING * now) {
      return now - now === 0 ? now : null;
    }
    last = now;
    lastChange = change;
  }
  return null;
}

/** Vectors in the order of elimination, in groups, and M times each: memory that every solution uses again. */
class Subspace {
  constructor(envelope, groups) {
    const { size } = envelope;
    this.factor = new Factor(envelope);
    this.mass = new Float64Array(envelope.storage);
    this.size = size;
    this.pivots = new Float64Array(size);
    this.starts = [];
    this.vectors = [];
    this.loads = [];
    for (let group = 0; group < groups; group++) {
      const start = new Float64Array(size * TOGETHER);
      for (let at = 0; at < size; at++) {
        for (let i = 0; i < TOGETHER; i++) {
          start[at * TOGETHER + i] = startAt(group * TOGETHER + i, at);
        }
      }
      this.starts.push(start);
      this.vectors.push(start.slice());
      this.loads.push(start.slice());
    }
  }

  /** Begins anew, with a factor that is done. */
  begin() {
    for (let at = 0; at < this.size; at++) {
      this.pivots[at] = 1 / this.factor.diagonal[at];
    }
    this.vectors.forEach((vectors, group) => vectors.set(this.starts[group]));
    this.load();
  }

  load() {
    this.vectors.forEach((vectors, group) => this.product(vectors, this.loads[group]));
  }

  step() {
    this.vectors.forEach((vectors, group) => {
      vectors.set(this.loads[group]);
      this.solveTogether(vectors);
    });
    const stiffness = this.gram();
    this.load();
    const inertia = this.gram();
    const width = this.vectors.length * TOGETHER;
    const spectrum = spectrumOf(inertia, stiffness, width, 0);
    if (spectrum.definite) {
      const weights = spectrum.vectors.map((vector, at) => {
        const length = Math.sqrt(Math.abs(spectrum.values[at]));
        return vector.map((weight) => weight / length);
      });
      this.combine(weights);
      [this.vectors, this.loads] = [this.loads, this.vectors];
    }
    return spectrum;
  }

  solveTogether(values) {
    const { first, start, size } = this.factor.envelope;
    const rows = this.factor.rows;
    for (let row = 0; row < size; row++) {
      const own = row * TOGETHER;
      for (let column = first[row]; column < row; column++) {
        const left = rows[start[row] + column - first[row]];
        for (let i = 0; i < TOGETHER; i++) {
          values[own + i] -= left * values[column * TOGETHER + i];
        }
      }
    }
    for (let row = 0; row < size; row++) {
      for (let i = 0; i < TOGETHER; i++) {
        values[row * TOGETHER + i] *= this.pivots[row];
      }
    }
    for (let row = size - 1; row >= 0; row--) {
      const own = row * TOGETHER;
      for (let column = first[row]; column < row; column++) {
        const left = rows[start[row] + column - first[row]];
        for (let i = 0; i < TOGETHER; i++) {
          values[column * TOGETHER + i] -= left * values[own + i];
        }
      }
    }
  }

  /** M, in the envelope's storage, times four vectors. */
  product(x, out) {
    const { first, start, size } = this.factor.envelope;
    out.fill(0);
    for (let row = 0; row < size; row++) {
      const own = row * TOGETHER;
      for (let column = first[row]; column < row; column++) {
        const entry = this.mass[start[row] + column - first[row]];
        const other = column * TOGETHER;
        for (let i = 0; i < TOGETHER; i++) {
          out[own + i] += entry * x[other + i];
          out[other + i] += entry * x[own + i];
        }
      }
      const diagonal = this.mass[start[row] + row - first[row]];
      for (let i = 0; i < TOGETHER; i++) {
        out[own + i] += diagonal * x[own + i];
      }
    }
  }

  /** Vectors' products with the loads; the lower half is worked out. */
  gram() {
    const width = this.vectors.length * TOGETHER;
    const matrix = new Float64Array(width * width);
    for (let row = 0; row < width; row++) {
      const left = this.vectors[Math.floor(row / TOGETHER)];
      for (let column = 0; column <= row; column++) {
        const right = this.loads[Math.floor(column / TOGETHER)];
        const i = row % TOGETHER;
        const j = column % TOGETHER;
        let sum = 0;
        for (let at = 0; at < left.length; at += TOGETHER) {
          sum += left[at + i] * right[at + j];
        }
        matrix[row * width + column] = sum;
        matrix[column * width + row] = sum;
      }
    }
    return matrix;
  }

  /** The combinations of the loads with these weights, in place of the vectors. */
  combine(weights) {
    this.vectors.forEach((out, group) => {
      out.fill(0);
      this.loads.forEach((loads, other) => {
        for (let at = 0; at < out.length; at += TOGETHER) {
          for (let j = 0; j < TOGETHER; j++) {
            const weight = weights[group * TOGETHER + j];
            for (let i = 0; i < TOGETHER; i++) {
              out[at + j] += weight[other * TOGETHER + i] * loads[at + i];
            }
          }
        }
      });
    });
  }
}
