/**
 * A tape's operations, or a closure's, made ready to be done: names become numbers that a switch takes, and what systems,
 * eigenproblems and closures need is worked out.
 */

import { Eigenproblem } from "./kernel_eigen.js";
import { System } from "./kernel_ldlt.js";

/** Every operation by its name in JSON: its number here, and how many arguments it has (-1: as many as it says). */
export const OPERATIONS = {
  add: [0, 2],
  sub: [1, 2],
  mul: [2, 2],
  div: [3, 2],
  neg: [4, 1],
  sqrt: [5, 1],
  cbrt: [6, 1],
  exp: [7, 1],
  ln: [8, 1],
  sin: [9, 1],
  cos: [10, 1],
  asin: [11, 1],
  acos: [12, 1],
  atan2: [13, 2],
  pow: [14, 2],
  floor: [15, 1],
  abs: [16, 1],
  min: [17, 2],
  max: [18, 2],
  if_less: [19, 4],
  // Their number of arguments comes first.
  norm: [20, -1],
  sort: [21, -1],
  interpolate: [22, -1],
  // The number of a closure, of a plan or of corners comes before that.
  root: [23, -1],
  maximum: [24, -1],
  integrate: [25, -1],
  solve_symmetric: [26, -1],
  eigen_symmetric: [27, -1],
  gap: [28, -1],
  // The relation comes first; they have no result.
  guard: [29, 2],
  require: [30, 2],
};

/** How many whole numbers stand between an operation's number and its arguments. */
export function argumentsAfter(operation) {
  return operation < 20 ? 1 : operation < 23 || operation >= 29 ? 2 : 3;
}

/** How many arguments an operation has that stands at a place of the code. */
export function argumentCount(code, at) {
  const operation = code[at];
  if (operation >= 29) {
    return 2;
  }
  if (operation >= 20) {
    return code[at + argumentsAfter(operation) - 1];
  }
  return operation === 19 ? 4 : operation <= 3 || operation === 13 || operation === 14 || operation >= 17 ? 2 : 1;
}

/** How many results it has. */
export function resultCount(code, at, parts) {
  switch (code[at]) {
    case 21:
      return code[at + 1];
    case 26:
      return code[at + 2] - parts.systems[code[at + 1]].entries;
    case 27: {
      const problem = parts.eigenproblems[code[at + 1]];
      return problem.shape ? 1 + problem.size : 1;
    }
    case 29:
    case 30:
      return 0;
    default:
      return 1;
  }
}

/** Whether a relation holds: 0 <, 1 ≤, 2 =. */
export function relationHolds(relation, a, b) {
  return relation === 0 ? a < b : relation === 1 ? a <= b : a === b;
}

/** Operations made ready. Places: `leaves` from outside, then known numbers, then results. */
export class Program {
  /**
   * @param {{constants: number[], operations: string[], code: number[]}} json
   * @param {number} leaves
   * @param {Parts} parts
   */
  constructor(json, leaves, parts) {
    this.parts = parts;
    this.constants = Float64Array.from(json.constants, (value) => (value === null ? NaN : value));
    this.leaves = leaves;
    this.firstResult = leaves + this.constants.length;
    this.code = Int32Array.from(json.code);
    this.nodes = 0;
    let next = this.firstResult;
    for (let at = 0; at < this.code.length; ) {
      const name = json.operations[this.code[at]];
      if (!Object.hasOwn(OPERATIONS, name)) {
        throw new Error(`the tape has an operation that is not known here: ${name}`);
      }
      this.code[at] = OPERATIONS[name][0];
      const first = at + argumentsAfter(this.code[at]);
      const end = first + argumentCount(this.code, at);
      for (let i = first; i < end; i++) {
        this.code[i] = this.code[i] > 0 ? next - this.code[i] : -1 - this.code[i];
      }
      next += resultCount(this.code, at, parts);
      at = end;
      this.nodes++;
    }
    this.places = next;
  }

  /** A place for every number; those that are known stand in theirs. */
  values() {
    const values = new Float64Array(this.places);
    values.set(this.constants, this.leaves);
    return values;
  }
}

/** The closures, systems and eigenproblems that a tape's operations name. */
export class Parts {
  /** @param {{bodies: object[], systems: object[], eigenproblems: object[]}} json */
  constructor(json) {
    this.systems = json.systems.map((system) => new System(system));
    this.eigenproblems = json.eigenproblems.map((problem) => new Eigenproblem(problem));
    this.closures = [];
    for (const body of json.bodies) {
      const program = new Program(body, 1 + body.captures, this);
      this.closures.push({ program, result: body.result, terms: body.terms, values: program.values() });
    }
  }
}
