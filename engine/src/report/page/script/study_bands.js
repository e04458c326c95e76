/** The 95 % bands of the lines of charts, on the samples of a study: see `engine/src/study/bands.rs`. */

/**
 * A line of a chart as samples move it.
 *
 * @typedef {object} StudyCurve
 * @property {number} run
 * @property {[number, number]} at how far the tape was when it was shown
 * @property {Array<number | [number]>} xs its places: numbers in SI, or a place of the tape
 * @property {Array<number | [number]>} ys the same of its values
 */

/** Gathers the samples of one line. */
export class BandGathering {
  /**
   * @param {StudyCurve} curve
   * @param {{values: Float64Array, vouched: Vouched}} answer
   * @param {number} most how many samples there will be at most
   */
  constructor(curve, answer, most) {
    this.curve = curve;
    this.known = answer.vouched.reaches(curve.run, curve.at);
    this.now = curve.xs.map((x) => (typeof x === "number" ? x : answer.values[x[0]]));
    this.shifts = curve.xs.some((x) => typeof x !== "number");
    this.gathered = curve.xs.map(() => ({ samples: new Float64Array(this.known ? most : 0), count: 0 }));
  }

  /** Takes a block of samples, `rowOf` has the row of a place; one that goes another way leaves the line without a band. */
  take(rowOf, vouched, counted) {
    if (!this.known) return;
    const { run, at } = this.curve;
    if (vouched.some((found, lane) => counted[lane] && found !== null && !found.reaches(run, at))) {
      this.known = false;
      return;
    }
    const rows = (list) => list.map((one) => (typeof one === "number" ? one : rowOf(one[0])));
    const [xs, ys] = [rows(this.curve.xs), rows(this.curve.ys)];
    for (let lane = 0; lane < vouched.length; lane++) {
      if (!counted[lane]) continue;
      const [sampledXs, sampledYs] = this.shifts ? [inLane(xs, lane), inLane(ys, lane)] : [];
      for (let nth = 0; nth < this.now.length; nth++) {
        const own = ys[nth];
        const y = this.shifts ? readOffLine(sampledXs, sampledYs, this.now[nth]) : typeof own === "number" ? own : own[lane];
        const place = this.gathered[nth];
        if (y - y === 0) place.samples[place.count++] = y;
      }
    }
  }

  /** The ends at each place, in SI; null of a line without a band, or whose band takes a run. */
  ends() {
    if (!this.known) return null;
    const ends = this.gathered.map(({ samples, count }) => bandEnds(samples.subarray(0, count)));
    return ends.every((end) => end !== null) && ends.some(([low, high]) => low < high) ? ends : null;
  }
}

function inLane(rows, lane) {
  return rows.map((one) => (typeof one === "number" ? one : one[lane]));
}

/** The central 95 % of samples (JCGM 101:2008, 7.7). */
export function bandEnds(samples) {
  if (samples.length === 0) return null;
  const sorted = Float64Array.from(samples).sort();
  const outside = Math.floor(sorted.length / 40);
  return [sorted[outside], sorted[sorted.length - 1 - outside]];
}

/** A line read off at a place; before its first place and beyond its last one it goes on straight. */
export function readOffLine(xs, ys, x) {
  const last = xs.length - 2;
  let stretch = xs.slice(1).findIndex((end) => x <= end);
  if (stretch < 0 || stretch > last) stretch = last;
  const share = (x - xs[stretch]) / (xs[stretch + 1] - xs[stretch]);
  return ys[stretch] + (ys[stretch + 1] - ys[stretch]) * share;
}
