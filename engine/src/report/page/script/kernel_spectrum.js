/**
 * All eigenpairs of small full symmetric matrices: `engine/src/kernel/eigen/spectrum.rs`, the same operations in the same
 * order. Matrices stand row after row.
 */

/**
 * All pairs of `a x = μ b x`, by falling μ, each `xᵀ b x = 1`; `definite` says whether b is positive definite, without
 * which the rest has no meaning.
 *
 * @param {Float64Array} a n × n, used up
 * @param {Float64Array} b n × n
 * @returns {{values: Float64Array, vectors: Float64Array[], definite: boolean}}
 */
export function spectrumOf(a, b, n, tolerance) {
  const { lower, definite } = cholesky(b, n, tolerance);
  if (!definite) {
    return { values: new Float64Array(n), vectors: [], definite };
  }
  reduceBy(a, lower, n);
  const turned = jacobi(a, n);
  const values = new Float64Array(n);
  const vectors = [];
  for (let column = 0; column < n; column++) {
    values[column] = a[column * n + column];
    const vector = new Float64Array(n);
    for (let row = 0; row < n; row++) {
      vector[row] = turned[row * n + column];
    }
    vectors.push(vector);
  }
  sortFalling(values, vectors);
  vectors.forEach((vector) => solveTransposed(lower, vector, n));
  return { values, vectors, definite };
}

function cholesky(matrix, n, tolerance) {
  const lower = new Float64Array(n * n);
  let definite = true;
  for (let row = 0; row < n; row++) {
    for (let column = 0; column <= row; column++) {
      let sum = matrix[row * n + column];
      for (let k = 0; k < column; k++) {
        sum -= lower[row * n + k] * lower[column * n + k];
      }
      if (column < row) {
        lower[row * n + column] = sum / lower[column * n + column];
        continue;
      }
      const sound = tolerance * Math.abs(matrix[row * n + row]) < sum && sum - sum === 0;
      definite = definite && sound;
      lower[row * n + row] = sound ? Math.sqrt(sum) : 1;
    }
  }
  return { lower, definite };
}

/** `L⁻¹ A L⁻ᵀ` in place of a symmetric A. */
function reduceBy(matrix, lower, n) {
  for (let column = 0; column < n; column++) {
    for (let row = 0; row < n; row++) {
      let sum = matrix[row * n + column];
      for (let k = 0; k < row; k++) {
        sum -= lower[row * n + k] * matrix[k * n + column];
      }
      matrix[row * n + column] = sum / lower[row * n + row];
    }
  }
  for (let row = 0; row < n; row++) {
    for (let column = 0; column < n; column++) {
      let sum = matrix[row * n + column];
      for (let k = 0; k < column; k++) {
        sum -= lower[column * n + k] * matrix[row * n + k];
      }
      matrix[row * n + column] = sum / lower[column * n + column];
    }
  }
  for (let row = 0; row < n; row++) {
    for (let column = 0; column < row; column++) {
      const mean = 0.5 * (matrix[row * n + column] + matrix[column * n + row]);
      matrix[row * n + column] = mean;
      matrix[column * n + row] = mean;
    }
  }
}

function solveTransposed(lower, x, n) {
  for (let row = n - 1; row >= 0; row--) {
    x[row] /= lower[row * n + row];
    const value = x[row];
    for (let other = 0; other < row; other++) {
      x[other] -= lower[row * n + other] * value;
    }
  }
}

/** Cyclic Jacobi rotations: leaves the eigenvalues on the diagonal and gives the eigenvectors as columns. */
function jacobi(matrix, n) {
  const vectors = new Float64Array(n * n);
  for (let i = 0; i < n; i++) {
    vectors[i * n + i] = 1;
  }
  for (let sweep = 0; sweep < 60; sweep++) {
    let turned = false;
    for (let p = 0; p < n; p++) {
      for (let q = p + 1; q < n; q++) {
        turned = rotate(matrix, vectors, n, p, q) || turned;
      }
    }
    if (!turned) {
      break;
    }
  }
  return vectors;
}

function rotate(m, vectors, n, p, q) {
  const app = m[p * n + p];
  const aqq = m[q * n + q];
  const apq = m[p * n + q];
  const scale = Math.sqrt(Math.abs(app) * Math.abs(aqq));
  const size = Math.abs(apq);
  const kept = 0.5 * 2.220446049250313e-16 * scale < size;
  if (!(kept && 2.2250738585072014e-308 <= size && apq - apq === 0)) {
    return false;
  }
  const theta = (aqq - app) / (2 * apq);
  const sign = theta < 0 || (theta === 0 && 1 / theta < 0) ? -1 : 1;
  const t = sign / (Math.abs(theta) + Math.sqrt(1 + theta * theta));
  const cosine = 1 / Math.sqrt(1 + t * t);
  const sine = t * cosine;
  for (let k = 0; k < n; k++) {
    const a = m[k * n + p];
    const b = m[k * n + q];
    m[k * n + p] = cosine * a - sine * b;
    m[k * n + q] = sine * a + cosine * b;
  }
  for (let k = 0; k < n; k++) {
    const a = m[p * n + k];
    const b = m[q * n + k];
    m[p * n + k] = cosine * a - sine * b;
    m[q * n + k] = sine * a + cosine * b;
    const x = vectors[k * n + p];
    const y = vectors[k * n + q];
    vectors[k * n + p] = cosine * x - sine * y;
    vectors[k * n + q] = sine * x + cosine * y;
  }
  m[p * n + p] = app - t * apq;
  m[q * n + q] = aqq + t * apq;
  m[p * n + q] = 0;
  m[q * n + p] = 0;
  return true;
}

/** Falling order by exchanges of neighbours; equal ones stay in theirs. */
function sortFalling(values, vectors) {
  for (let sorted = values.length - 1; sorted >= 1; sorted--) {
    for (let at = 0; at < sorted; at++) {
      if (values[at] < values[at + 1]) {
        [values[at], values[at + 1]] = [values[at + 1], values[at]];
        [vectors[at], vectors[at + 1]] = [vectors[at + 1], vectors[at]];
      }
    }
  }
}
