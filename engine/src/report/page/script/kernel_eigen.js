/**
 * One eigenvalue of `K φ = λ M φ`, with its shape or alone: `engine/src/kernel/eigen`, the same operations in the same
 * order.
 */

import { copySign } from "./kernel_bits.js";
import { lowestValue } from "./kernel_lowest.js";
import { Envelope, Factor, SINGULAR_BELOW } from "./kernel_ldlt.js";
import { spectrumOf } from "./kernel_spectrum.js";
import { startAt } from "./kernel_start.js";

/** Up to this many unknowns the problem is solved with full matrices. */
const DENSE_UP_TO = 16;

/** An eigenproblem of a tape, made ready: K's values and M's in, λ and, where it is asked for, φ out. */
export class Eigenproblem {
  /** @param {{size: number, stiffness: number[], mass: number[], order: number[], which: number, shape: boolean}} json */
  constructor(json) {
    this.size = json.size;
    this.which = json.which;
    this.shape = json.shape;
    this.stiffness = new Places(json.size, json.stiffness);
    this.mass = new Places(json.size, json.mass);
    this.envelope = new Envelope(json.size, json.stiffness.concat(json.mass), json.order);
    /** What `lowestValue` works in. */
    this.subspace = null;
  }

  /** K's values, then M's, in `given`; λ, and φ where the problem has it, into `out`. False where there is none. */
  solve(given, out) {
    const k = given.subarray(0, this.stiffness.count);
    const m = given.subarray(this.stiffness.count);
    if (!this.shape && this.size > DENSE_UP_TO) {
      const value = lowestValue(this, k, m);
      if (value !== null) {
        out[0] = value;
        return true;
      }
    }
    const pair = this.pair(k, m);
    if (pair === null) {
      return false;
    }
    out[0] = pair.value;
    if (this.shape) {
      out.set(pair.shape, 1);
    }
    return true;
  }

  pair(k, m) {
    if (this.which >= this.size || !k.every(Number.isFinite) || !m.every(Number.isFinite)) {
      return null;
    }
    const pair = this.size <= DENSE_UP_TO ? this.ofFew(k, m) : iterateSubspace(this, k, m);
    if (pair === null || !Number.isFinite(pair.value) || !pair.shape.every(Number.isFinite)) {
      return null;
    }
    // φᵀ M φ = 1, the component of largest size positive.
    let largest = 0;
    for (const value of pair.shape) {
      largest = Math.abs(value) > Math.abs(largest) ? value : largest;
    }
    const length = copySign(Math.sqrt(this.mass.form(m, pair.shape, pair.shape)), largest);
    return { value: pair.value, shape: pair.shape.map((value) => value / length) };
  }

  /** With full matrices; of the lower half of the values the inverse problem where K allows it. */
  ofFew(k, m) {
    const full = (places, values) => places.full(values);
    const direct = spectrumOf(full(this.stiffness, k), full(this.mass, m), this.size, SINGULAR_BELOW);
    if (!direct.definite) {
      return null;
    }
    let shape = direct.vectors[this.size - 1 - this.which];
    if (2 * this.which < this.size) {
      const inverse = spectrumOf(full(this.mass, m), full(this.stiffness, k), this.size, SINGULAR_BELOW);
      shape = inverse.definite ? inverse.vectors[this.which] : shape;
    }
    return { value: this.stiffness.form(k, shape, shape) / this.mass.form(m, shape, shape), shape };
  }
}

/** The places of a symmetric matrix's entries. */
class Places {
  constructor(size, places) {
    this.size = size;
    this.places = Int32Array.from(places);
    this.count = places.length / 2;
  }

  /** The product of the matrix and x. */
  product(values, x) {
    const { places } = this;
    const sum = new Float64Array(this.size);
    for (let place = 0; place < this.count; place++) {
      const i = places[2 * place];
      const j = places[2 * place + 1];
      const value = values[place];
      sum[i] += value * x[j];
      if (i !== j) {
        sum[j] += value * x[i];
      }
    }
    return sum;
  }

  /** xᵀ K y */
  form(values, x, y) {
    return dotPlain(x, this.product(values, y));
  }

  diagonal(values) {
    const diagonal = new Float64Array(this.size);
    for (let place = 0; place < this.count; place++) {
      if (this.places[2 * place] === this.places[2 * place + 1]) {
        diagonal[this.places[2 * place]] += values[place];
      }
    }
    return diagonal;
  }

  full(values) {
    const matrix = new Float64Array(this.size * this.size);
    for (let place = 0; place < this.count; place++) {
      const i = this.places[2 * place];
      const j = this.places[2 * place + 1];
      matrix[i * this.size + j] += values[place];
      if (i !== j) {
        matrix[j * this.size + i] += values[place];
      }
    }
    return matrix;
  }
}

function dotPlain(a, b) {
  let sum = 0;
  for (let i = 0; i < a.length; i++) {
    sum += a[i] * b[i];
  }
  return sum;
}

const SETTLED_RESIDUAL = 4e-16;
const ACCEPTABLE_RESIDUAL = 1e-8;
const PATIENCE = 6;

/** Subspace iteration on the sparse factor, until the residual is rounding. */
function iterateSubspace(problem, k, m) {
  const { stiffness, mass, envelope, which, size } = problem;
  const noStiffness = new Float64Array(stiffness.count);
  if (sumFactor(envelope, noStiffness, m, 1) === null) {
    return null;
  }
  const shifted = shiftedFactor(problem, k, m);
  if (shifted === null) {
    return null;
  }
  const width = Math.min(size, Math.max(2 * which + 2, which + 9));
  const subspace = { vectors: [] };
  for (let vector = 0; vector < width; vector++) {
    subspace.vectors.push(Float64Array.from({ length: size }, (_, at) => startAt(vector, at)));
  }
  let best = { residual: Infinity, value: NaN, shape: new Float64Array(0) };
  let sinceHalved = 0;
  let toHalve = Infinity;
  for (let iteration = 0; iteration < 500; iteration++) {
    const shape = stepOn(problem, m, shifted.factor, subspace);
    if (shape === null) {
      return null;
    }
    const value = stiffness.form(k, shape, shape) / mass.form(m, shape, shape);
    const residual = residualOf(problem, k, m, value, shifted.shift, shape);
    if (residual < best.residual) {
      best = { residual, value, shape };
    }
    sinceHalved = residual <= toHalve ? 0 : sinceHalved + 1;
    toHalve = residual <= toHalve ? 0.5 * residual : toHalve;
    if (best.residual <= SETTLED_RESIDUAL || (best.residual <= ACCEPTABLE_RESIDUAL && sinceHalved >= PATIENCE)) {
      break;
    }
  }
  return best.residual <= ACCEPTABLE_RESIDUAL ? best : null;
}

/** The factor of K + σM; null where it is not positive definite. */
function sumFactor(envelope, k, m, shift) {
  const values = new Float64Array(k.length + m.length);
  values.set(k);
  for (let i = 0; i < m.length; i++) {
    values[k.length + i] = shift * m[i];
  }
  const factor = new Factor(envelope);
  envelope.assemble(values, 0, values.length, factor.rows);
  return factor.factorise() ? factor : null;
}

function shiftedFactor(problem, k, m) {
  const plain = sumFactor(problem.envelope, k, m, 0);
  if (plain !== null) {
    return { factor: plain, shift: 0 };
  }
  let shift = firstShift(problem.stiffness.diagonal(k), problem.mass.diagonal(m));
  for (let attempt = 0; attempt < 60; attempt++) {
    if (sumFactor(problem.envelope, k, m, shift) !== null) {
      const factor = sumFactor(problem.envelope, k, m, 4 * shift);
      return factor === null ? null : { factor, shift: 4 * shift };
    }
    shift *= 10;
  }
  return null;
}

function firstShift(k, m) {
  let smallest = Infinity;
  for (let i = 0; i < k.length; i++) {
    const ratio = Math.abs(k[i]) / m[i];
    smallest = ratio > 0 && ratio < smallest ? ratio : smallest;
  }
  return smallest < Infinity ? 1e3 * SINGULAR_BELOW * smallest : 1;
}

/** One step of the iteration; the vector that is asked for. */
function stepOn(problem, m, factor, subspace) {
  const { mass, size, which } = problem;
  const loads = subspace.vectors.map((vector) => mass.product(m, vector));
  const solved = loads.map((load) => {
    const vector = load.slice();
    factor.solve(vector, 0);
    return vector;
  });
  const massLoads = solved.map((vector) => mass.product(m, vector));
  const width = solved.length;
  const stiffnessGram = gramOf(solved, loads);
  const spectrum = spectrumOf(gramOf(solved, massLoads), stiffnessGram, width, 0);
  if (!spectrum.definite) {
    return null;
  }
  subspace.vectors = spectrum.vectors.map((weights, pair) => {
    const length = Math.sqrt(Math.abs(spectrum.values[pair]));
    const sum = new Float64Array(size);
    for (let i = 0; i < width; i++) {
      const weight = weights[i] / length;
      for (let at = 0; at < size; at++) {
        sum[at] += weight * solved[i][at];
      }
    }
    return sum;
  });
  return subspace.vectors[which].slice();
}

function gramOf(x, y) {
  const n = x.length;
  const matrix = new Float64Array(n * n);
  for (let i = 0; i < n; i++) {
    for (let j = 0; j <= i; j++) {
      const sum = dotPlain(x[i], y[j]);
      matrix[i * n + j] = sum;
      matrix[j * n + i] = sum;
    }
  }
  return matrix;
}

function residualOf(problem, k, m, value, shift, shape) {
  const rest = problem.stiffness.product(k, shape);
  const loads = problem.mass.product(m, shape);
  const ofK = problem.stiffness.diagonal(k);
  const ofM = problem.mass.diagonal(m);
  let worst = 0;
  let largest = 0;
  for (let i = 0; i < rest.length; i++) {
    const left = rest[i] - value * loads[i];
    const root = Math.sqrt(Math.abs(ofK[i]) + (Math.abs(value) + shift) * ofM[i]);
    const scale = root > 0 ? root : 1;
    const size = Math.abs(left / scale);
    const part = Math.abs(shape[i] * scale);
    worst = size > worst || size !== size ? size : worst;
    largest = part > largest ? part : largest;
  }
  return worst / (largest > 0 ? largest : 1);
}
