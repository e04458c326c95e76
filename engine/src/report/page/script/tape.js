/**
 * A tape: every operation of a calculation on something that depends on an input, in order. Run on other inputs it gives
 * the bits that the engine gives.
 */

import { acos, asin, atan2, cbrt, cos, exp, ln, maxOf, minOf, normAt, sin } from "./kernel_elementary.js";
import { pow } from "./kernel_power.js";
import { Parts, Program, argumentCount, argumentsAfter, relationHolds, resultCount } from "./tape_program.js";
import { doSingle } from "./tape_single.js";
import { Lanes } from "./tape_lanes.js";

/**
 * Where a run left what was recorded.
 *
 * `guard`: a comparison came out otherwise, so the script goes another way; `guards` are its numbers. `require`: the script
 * refuses (`asked` is where the comparison stands first). `not finite`, `no value`: an operation gives no number, so the
 * script refuses; node -1 is an input.
 *
 * @typedef {{kind: "guard"|"require"|"not finite"|"no value", node: number, guards?: number[], asked?: number}} Stop
 */

/** A tape as `engine/src/tape/portable` writes it. */
export class Tape {
  /** @param {object} json */
  constructor(json) {
    this.inputs = json.inputs;
    this.program = new Program(json, json.inputs, new Parts(json));
    this.asked = json.asked;
  }

  /**
   * Runs it on these inputs, in SI units, in the order of the tape's inputs. It goes on after a stop as far as it can: what
   * rests on a number that is not finite is NaN.
   *
   * @param {ArrayLike<number>} inputs
   * @returns {{values: Float64Array, stops: Stop[]}} values by place
   */
  run(inputs) {
    const values = this.program.values();
    const stopping = new Stopping(this.asked);
    for (let input = 0; input < this.inputs; input++) {
      const value = Number(inputs[input]);
      values[input] = value - value === 0 ? value : NaN;
      if (values[input] !== value) {
        stopping.found.push({ kind: "not finite", node: -1 });
      }
    }
    perform(this.program, values, stopping);
    stopping.found.sort((a, b) => a.node - b.node);
    return { values, stops: stopping.found };
  }

  /**
   * The part of it that moves with some inputs, made ready for many samples at once: see `tape_lanes.js`.
   *
   * @param {number[]} moving inputs, by number
   * @param {number[]} wanted places
   * @returns {Lanes}
   */
  lanes(moving, wanted) {
    return new Lanes(this.program, moving, wanted, perform);
  }

  /**
   * Runs it on many samples: for each input its values, sample by sample.
   *
   * @param {ArrayLike<number>[]} inputsByLane
   * @param {number} count how many samples
   * @param {number[]} wanted places
   * @returns {{values: Map<number, Float64Array>, stops: Array<Stop|null>}} by place, sample by sample; each one's first stop
   */
  runLanes(inputsByLane, count, wanted) {
    const all = Array.from({ length: this.inputs }, (_, input) => input);
    const lanes = this.lanes(all, wanted);
    const values = new Map(wanted.map((place) => [place, new Float64Array(count)]));
    const stops = new Array(count).fill(null);
    lanes.prepare(this.program.values());
    for (let first = 0; first < count; first += lanes.width) {
      const here = Math.min(lanes.width, count - first);
      for (const input of all) {
        const row = lanes.row(input);
        for (let lane = 0; lane < here; lane++) {
          row[lane] = inputsByLane[input][first + lane];
        }
      }
      lanes.run(here);
      for (const place of wanted) {
        values.get(place).set(lanes.row(place).subarray(0, here), first);
      }
      this.stopsOf(lanes.events, here).forEach((found, lane) => {
        stops[first + lane] = found.length === 0 ? null : found[0];
      });
    }
    return { values, stops };
  }

  /** For each lane its stops, the earliest first, of what went otherwise in a block of lanes. */
  stopsOf(events, count) {
    const lanes = Array.from({ length: count }, () => new Stopping(this.asked));
    for (const [lane, event] of events) {
      if (event.kind === "guard") {
        lanes[lane].compared(event.comparison, event.node);
      } else {
        lanes[lane].found.push(event);
      }
    }
    return lanes.map(({ found }) => found.sort((a, b) => a.node - b.node));
  }
}

/** Gathers stops. */
class Stopping {
  constructor(asked) {
    this.asked = asked;
    this.found = [];
  }

  /** A comparison comes out otherwise: a guard, or required, or both. */
  compared(comparison, node) {
    const [required, ...guards] = this.asked[comparison];
    if (guards.length > 0) {
      this.found.push({ kind: "guard", node, guards });
    }
    if (required >= 0) {
      this.found.push({ kind: "require", node: required, asked: node });
    }
  }
}

/**
 * Does a program's operations on values whose leaves stand in their places. Without `stopping` it ends at the first that has
 * no value and gives false.
 *
 * @param {Program} program
 * @param {Float64Array} values
 * @param {Stopping|null} stopping
 */
function perform(program, values, stopping) {
  const { code } = program;
  let out = program.firstResult;
  let comparison = 0;
  let node = 0;
  for (let at = 0; at < code.length; node++) {
    const start = at;
    let r = 0;
    switch (code[at]) {
      case 0:
        r = values[code[at + 1]] + values[code[at + 2]];
        at += 3;
        break;
      case 1:
        r = values[code[at + 1]] - values[code[at + 2]];
        at += 3;
        break;
      case 2:
        r = values[code[at + 1]] * values[code[at + 2]];
        at += 3;
        break;
      case 3:
        r = values[code[at + 1]] / values[code[at + 2]];
        at += 3;
        break;
      case 4:
        r = -values[code[at + 1]];
        at += 2;
        break;
      case 5:
        r = Math.sqrt(values[code[at + 1]]);
        at += 2;
        break;
      case 6:
        r = cbrt(values[code[at + 1]]);
        at += 2;
        break;
      case 7:
        r = exp(values[code[at + 1]]);
        at += 2;
        break;
      case 8:
        r = ln(values[code[at + 1]]);
        at += 2;
        break;
      case 9:
        r = sin(values[code[at + 1]]);
        at += 2;
        break;
      case 10:
        r = cos(values[code[at + 1]]);
        at += 2;
        break;
      case 11:
        r = asin(values[code[at + 1]]);
        at += 2;
        break;
      case 12:
        r = acos(values[code[at + 1]]);
        at += 2;
        break;
      case 13:
        r = atan2(values[code[at + 1]], values[code[at + 2]]);
        at += 3;
        break;
      case 14:
        r = pow(values[code[at + 1]], values[code[at + 2]]);
        at += 3;
        break;
      case 15:
        r = Math.floor(values[code[at + 1]]);
        at += 2;
        break;
      case 16:
        r = Math.abs(values[code[at + 1]]);
        at += 2;
        break;
      case 17:
        r = minOf(values[code[at + 1]], values[code[at + 2]]);
        at += 3;
        break;
      case 18:
        r = maxOf(values[code[at + 1]], values[code[at + 2]]);
        at += 3;
        break;
      case 19: {
        const a = values[code[at + 1]];
        const b = values[code[at + 2]];
        const c = values[code[at + 3]];
        const d = values[code[at + 4]];
        r = a !== a || b !== b || c !== c || d !== d ? NaN : a < b ? c : d;
        at += 5;
        break;
      }
      case 20:
        r = normAt(values, code, at + 2, code[at + 1], 0);
        at += 2 + code[at + 1];
        break;
      case 29:
      case 30: {
        const a = values[code[at + 2]];
        const b = values[code[at + 3]];
        const broken = relationHolds(code[at + 1] >> 1, a, b) !== ((code[at + 1] & 1) === 1);
        if (stopping === null) {
          if (broken) {
            return false;
          }
        } else if (broken && a === a && b === b) {
          stopping.compared(comparison, node);
        }
        comparison++;
        at += 4;
        continue;
      }
      default: {
        const results = resultCount(code, at, program.parts);
        at += argumentsAfter(code[at]) + argumentCount(code, at);
        if (!single(program, values, start, out, results, stopping, node)) {
          return false;
        }
        out += results;
        continue;
      }
    }
    if (r - r !== 0) {
      if (stopping === null) {
        return false;
      }
      if (!readsNothing(code, start, values)) {
        stopping.found.push({ kind: "not finite", node });
      }
      r = NaN;
    }
    values[out++] = r;
  }
  return true;
}

/** Whether an argument is NaN already. */
function readsNothing(code, at, values) {
  const first = at + argumentsAfter(code[at]);
  const count = argumentCount(code, at);
  for (let i = 0; i < count; i++) {
    const value = values[code[first + i]];
    if (value !== value) {
      return true;
    }
  }
  return false;
}

/** One of the larger operations; false where a program without `stopping` has to end. */
function single(program, values, at, out, results, stopping, node) {
  const { code } = program;
  const first = at + argumentsAfter(code[at]);
  const given = new Float64Array(argumentCount(code, at));
  let known = true;
  for (let i = 0; i < given.length; i++) {
    given[i] = values[code[first + i]];
    known = known && given[i] === given[i];
  }
  const done = values.subarray(out, out + results);
  if (!known) {
    done.fill(NaN);
    return stopping !== null;
  }
  const valued = doSingle(program, at, given, done, perform);
  if (valued && done.every(Number.isFinite)) {
    return true;
  }
  if (stopping !== null) {
    stopping.found.push({ kind: valued ? "not finite" : "no value", node });
  }
  done.fill(NaN);
  return stopping !== null;
}
