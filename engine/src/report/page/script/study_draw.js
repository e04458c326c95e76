/** Samples of readings with a ±: `engine/src/study/readings.rs`. */

import { normalQuantile, studentQuantile } from "./kernel_distribution.js";
import { SobolPoints } from "./sobol.js";

/**
 * How far a reading may be off, in SI units: `limits` (any value within is as likely), `standard` (a standard uncertainty),
 * or repeats: the `scatter` of their mean, its `freedoms`, and the instrument's `limits`.
 *
 * @typedef {{limits?: number, standard?: number, scatter?: number, freedoms?: number}} Spread
 */

/** Whether a reading with this ± moves. */
export function spreads(spread) {
  return spread !== null && (spread.limits > 0 || spread.standard > 0 || spread.scatter > 0);
}

/** Draws the engine's own samples. */
export class Draws {
  /** @param {{seed: number, samples: number, directions: number[][]}} json */
  constructor(json) {
    this.count = json.samples;
    this.points = new SobolPoints(json.seed, json.directions);
    this.known = new Map();
  }

  /**
   * Each reading's values about its nominal one.
   *
   * @param {{input: number, spread: Spread}[]} readings in the order of their inputs
   * @param {ArrayLike<number>} nominal
   * @returns {Map<number, Float64Array>} by input
   */
  of(readings, nominal) {
    const drawn = new Map();
    let dimension = 0;
    for (const { input, spread } of readings) {
      const repeats = spread.freedoms !== undefined;
      drawn.set(input, this.values(dimension, spread, nominal[input]));
      dimension += repeats ? 2 : 1;
    }
    return drawn;
  }

  values(dimension, spread, nominal) {
    const values = new Float64Array(this.count);
    if (spread.freedoms !== undefined) {
      const t = this.kept(`t ${dimension} ${spread.freedoms}`, () =>
        this.coordinates(dimension).map((p) => studentQuantile(p, spread.freedoms)),
      );
      const others = this.coordinates(dimension + 1);
      return values.map((_, i) => nominal + (spread.scatter * t[i] + spread.limits * (2 * others[i] - 1)));
    }
    if (spread.standard !== undefined) {
      const z = this.kept(`z ${dimension}`, () => this.coordinates(dimension).map(normalQuantile));
      return values.map((_, i) => nominal + spread.standard * z[i]);
    }
    const coordinates = this.coordinates(dimension);
    return values.map((_, i) => nominal + spread.limits * (2 * coordinates[i] - 1));
  }

  coordinates(dimension) {
    return this.kept(`${dimension}`, () => this.points.coordinates(dimension, this.count));
  }

  kept(key, make) {
    if (!this.known.has(key)) {
      this.known.set(key, make());
    }
    return this.known.get(key);
  }
}
