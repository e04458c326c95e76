/**
 * Many samples at once: operation after operation, each over a block of samples (a *lane* each), so that choosing the
 * operation costs next to nothing. Only what moves with the inputs that a sample moves is done; the rest stands as it was.
 */

import { acos, asin, atan2, cbrt, cos, exp, ln, maxOf, minOf, normAt, sin } from "./kernel_elementary.js";
import { pow } from "./kernel_power.js";
import { argumentCount, relationHolds } from "./tape_program.js";
import { Rows } from "./tape_rows.js";
import { doSingle } from "./tape_single.js";

const LANES = 64;

/**
 * What went otherwise in a lane: a comparison by its number, or an operation without a finite value.
 *
 * @typedef {{kind: "guard"|"not finite"|"no value", node: number, comparison?: number}} LaneEvent
 */

/** The part of a program that moves with some of its leaves, in rows of lanes that are used again. */
export class Lanes {
  /**
   * @param {Program} program
   * @param {number[]} moving leaves, by place
   * @param {number[]} wanted places whose rows are kept
   * @param {function} perform runs a closure: see `tape.js`
   */
  constructor(program, moving, wanted, perform) {
    this.program = program;
    this.perform = perform;
    this.width = LANES;
    this.rows = new Rows(program, moving, wanted, LANES);
    this.code = this.rows.code;
    this.values = new Float64Array(this.rows.count * LANES);
    this.events = [];
  }

  /** Puts what does not move in its rows: the values of a run, by place. */
  prepare(values) {
    for (const place of this.rows.fixed) {
      this.row(place).fill(values[place]);
    }
  }

  /** Whether a place moves. */
  moves(place) {
    return this.rows.moves[place] === 1;
  }

  /** Whether an operation of the program moves. */
  does(node) {
    this.done ??= new Set(this.rows.nodes);
    return this.done.has(node);
  }

  /** The row of a leaf that moves, or of a place that is wanted. */
  row(place) {
    const start = this.rows.of.get(place);
    return this.values.subarray(start, start + LANES);
  }

  /** Does the first `count` lanes. `events` then holds what went otherwise, as pairs of a lane and an event. */
  run(count) {
    const work = this.slowly(count);
    while (!work.next().done);
  }

  /** The same in small parts. */
  *slowly(count) {
    this.events = [];
    for (const place of this.rows.leaves) {
      const row = this.row(place);
      for (let lane = 0; lane < count; lane++) {
        if (row[lane] - row[lane] !== 0) {
          row[lane] = NaN;
          this.events.push([lane, { kind: "not finite", node: -1 }]);
        }
      }
      row.fill(row[0], count);
    }
    const { code, values } = this;
    for (let step = 0, at = 0; at < code.length; step++) {
      const isLarge = code[at] > 22 && code[at] < 29;
      at = this.step(code, at, values, step, count);
      if (isLarge || step % 1024 === 1023) {
        yield;
      }
    }
  }

  /** One operation over all lanes, as `tape_rows.js` writes it; where the next one stands. */
  step(code, at, v, step, count) {
    const out = code[at + 1];
    const a = code[at + 2];
    const b = code[at + 3];
    const end = out + LANES;
    let bad = 0;
    let next = at + 4;
    switch (code[at]) {
      case 0:
        for (let o = out, i = a, j = b; o < end; o++, i++, j++) {
          const r = v[i] + v[j];
          v[o] = r;
          bad += r - r;
        }
        break;
      case 1:
        for (let o = out, i = a, j = b; o < end; o++, i++, j++) {
          const r = v[i] - v[j];
          v[o] = r;
          bad += r - r;
        }
        break;
      case 2:
        for (let o = out, i = a, j = b; o < end; o++, i++, j++) {
          const r = v[i] * v[j];
          v[o] = r;
          bad += r - r;
        }
        break;
      case 3:
        for (let o = out, i = a, j = b; o < end; o++, i++, j++) {
          const r = v[i] / v[j];
          v[o] = r;
          bad += r - r;
        }
        break;
      case 4:
        for (let o = out, i = a; o < end; o++, i++) {
          v[o] = -v[i];
        }
        next = at + 3;
        break;
      case 5:
        for (let o = out, i = a; o < end; o++, i++) {
          const r = Math.sqrt(v[i]);
          v[o] = r;
          bad += r - r;
        }
        next = at + 3;
        break;
      case 16:
        for (let o = out, i = a; o < end; o++, i++) {
          v[o] = Math.abs(v[i]);
        }
        next = at + 3;
        break;
      case 17:
        for (let o = out, i = a, j = b; o < end; o++, i++, j++) {
          v[o] = minOf(v[i], v[j]);
        }
        break;
      case 18:
        for (let o = out, i = a, j = b; o < end; o++, i++, j++) {
          v[o] = maxOf(v[i], v[j]);
        }
        break;
      case 19: {
        const c = code[at + 4];
        const d = code[at + 5];
        for (let lane = 0; lane < LANES; lane++) {
          const [p, q, r, s] = [v[a + lane], v[b + lane], v[c + lane], v[d + lane]];
          v[out + lane] = p !== p || q !== q || r !== r || s !== s ? NaN : p < q ? r : s;
        }
        next = at + 6;
        break;
      }
      case 20:
        for (let lane = 0; lane < LANES; lane++) {
          const r = normAt(v, code, at + 3, code[at + 2], lane);
          v[out + lane] = r;
          bad += r - r;
        }
        next = at + 3 + code[at + 2];
        break;
      case 13:
      case 14: {
        const f = code[at] === 13 ? atan2 : pow;
        for (let o = out, i = a, j = b; o < end; o++, i++, j++) {
          const r = f(v[i], v[j]);
          v[o] = r;
          bad += r - r;
        }
        break;
      }
      case 29:
        this.compare(code[at + 1], a, b, step, count);
        break;
      case 21:
      case 22:
      case 23:
      case 24:
      case 25:
      case 26:
      case 27:
      case 28:
        return this.single(code, at, v, step, count);
      default:
        bad = alone(FUNCTIONS[code[at]], v, a, out);
        next = at + 3;
    }
    if (bad !== 0) {
      this.look(code, at, step, count);
    }
    return next;
  }

  compare(relation, a, b, step, count) {
    const v = this.values;
    const outcome = (relation & 1) === 1;
    for (let lane = 0; lane < count; lane++) {
      const left = v[a + lane];
      const right = v[b + lane];
      if (relationHolds(relation >> 1, left, right) !== outcome && left === left && right === right) {
        this.events.push([lane, { kind: "guard", node: this.rows.nodes[step], comparison: this.rows.comparisons[step] }]);
      }
    }
  }

  /** Looks which lanes of a result have no finite number; it stops there where its arguments had one. */
  look(code, at, step, count) {
    const v = this.values;
    const out = code[at + 1];
    const first = code[at] === 20 ? at + 3 : at + 2;
    const last = first + argumentCount(this.program.code, this.rows.sources[step]);
    for (let lane = 0; lane < LANES; lane++) {
      const r = v[out + lane];
      if (r - r === 0) {
        continue;
      }
      v[out + lane] = NaN;
      let known = lane < count;
      for (let i = first; i < last && known; i++) {
        known = v[code[i] + lane] === v[code[i] + lane];
      }
      if (known) {
        this.events.push([lane, { kind: "not finite", node: this.rows.nodes[step] }]);
      }
    }
  }

  /** A larger operation, lane by lane: its first result's row, how many arguments and results, its arguments' rows. */
  single(code, at, v, step, count) {
    const out = code[at + 1];
    const given = new Float64Array(code[at + 2]);
    const done = new Float64Array(code[at + 3]);
    const first = at + 4;
    for (let lane = 0; lane < LANES; lane++) {
      let known = lane < count;
      for (let i = 0; i < given.length && known; i++) {
        given[i] = v[code[first + i] + lane];
        known = given[i] === given[i];
      }
      let valued = false;
      if (known) {
        valued = doSingle(this.program, this.rows.sources[step], given, done, this.perform);
        if (!valued || !done.every(Number.isFinite)) {
          this.events.push([lane, { kind: valued ? "not finite" : "no value", node: this.rows.nodes[step] }]);
          valued = false;
        }
      }
      for (let i = 0; i < done.length; i++) {
        v[out + i * LANES + lane] = valued ? done[i] : NaN;
      }
    }
    return first + given.length;
  }
}

const FUNCTIONS = [];
FUNCTIONS[6] = cbrt;
FUNCTIONS[7] = exp;
FUNCTIONS[8] = ln;
FUNCTIONS[9] = sin;
FUNCTIONS[10] = cos;
FUNCTIONS[11] = asin;
FUNCTIONS[12] = acos;
FUNCTIONS[15] = Math.floor;

/** A function of one number over a row; 0 where all results are finite. */
function alone(f, v, a, out) {
  let bad = 0;
  for (let lane = 0; lane < LANES; lane++) {
    const r = f(v[a + lane]);
    v[out + lane] = r;
    bad += r - r;
  }
  return bad;
}
