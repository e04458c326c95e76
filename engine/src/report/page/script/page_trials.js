/** What a reader has changed: inputs with other values, as text that the program would take too. */

import { readQuantity } from "./read.js";

/**
 * An input of the page that can be moved.
 *
 * @typedef {object} PageInput
 * @property {string} set what `--set` calls it: `wall`, `road speed: wheelbase`, `front_joint.x`
 * @property {object} spec how it is written, see `write.js`
 * @property {number} half half width of its ±, in SI; 0 of what is exact
 * @property {boolean} [most] whether the ± holds 95 of 100 values only
 * @property {{low: number, high: number, words: string}} [range] what may be entered
 * @property {number[]} runs the numbers of the runs that use it
 */

/** A trial: what was written, its value in SI, and its own ± where one was written. */
export class Trials {
  /**
   * @param {PageInput[]} inputs by the number of the tape's input
   * @param {number[]} nominal their values in SI
   * @param {number[][]} joined inputs that one value sets together
   */
  constructor(inputs, nominal, joined) {
    this.inputs = inputs;
    this.nominal = nominal;
    this.first = new Map(joined.flatMap(([first, ...others]) => others.map((other) => [other, first])));
    this.changed = new Map();
  }

  /** The input that stands for another one of the same name. */
  leading(input) {
    return this.first.get(input) ?? input;
  }

  /** Inputs that a value for this one sets too, itself among them. */
  together(input) {
    const leading = this.leading(input);
    return [leading, ...[...this.first].filter(([, first]) => first === leading).map(([other]) => other)];
  }

  isEmpty() {
    return this.changed.size === 0;
  }

  of(input) {
    return this.changed.get(this.leading(input));
  }

  /**
   * Tries a text for an input; the reading's own text takes the trial back.
   *
   * @returns {{error: string, hint?: string} | null} what is wrong with it
   */
  try(input, text) {
    const number = this.leading(input);
    const { spec, range, set } = this.inputs[number];
    const read = readQuantity(text, { ...spec, name: set, range });
    if (read.error !== undefined) return read;
    const trial = { text: text.trim(), si: read.si };
    if (read.plusMinus !== undefined) Object.assign(trial, { spread: { limits: read.plusMinus }, half: read.plusMinus });
    if (read.stdDev !== undefined) Object.assign(trial, { spread: { standard: read.stdDev }, half: 2 * read.stdDev, most: true });
    const same = Object.is(read.si, this.nominal[number]) && trial.spread === undefined;
    if (same) this.changed.delete(number);
    else this.changed.set(number, trial);
    return null;
  }

  takeBack(input) {
    this.changed.delete(this.leading(input));
  }

  takeAllBack() {
    this.changed.clear();
  }

  /** All inputs' values in SI. */
  values() {
    const values = [...this.nominal];
    for (const [input, { si }] of this.changed) values[input] = si;
    return values;
  }

  /** The numbers of the inputs tried. */
  tried() {
    return new Set(this.changed.keys());
  }

  /** The ± of trials that have one of their own, as a study takes them. */
  spreads() {
    const own = [...this.changed].filter(([, { spread }]) => spread !== undefined);
    return new Map(own.map(([input, { spread }]) => [input, spread]));
  }

  /** Value and ± of an input as they are now: `{si, half, most}`. */
  now(input) {
    const trial = this.of(input);
    const { half, most } = this.inputs[this.leading(input)];
    return { si: trial?.si ?? this.nominal[input], half: trial?.half ?? half, most: (trial?.half === undefined ? most : trial.most) ?? false };
  }

  /** What `--set` takes: `wall=2.4 mm`. */
  settings() {
    return [...this.changed].map(([input, { text }]) => `${this.inputs[input].set}=${text}`);
  }

  /** The changes for the end of an address; empty where there are none. */
  toHash() {
    if (this.isEmpty()) return "";
    const pairs = [...this.changed].map(([input, { text }]) => [this.inputs[input].set, text]);
    return `#try&${new URLSearchParams(pairs)}`;
  }

  /** Takes the changes from the end of an address; what does not fit this page is left out. */
  fromHash(hash) {
    if (!hash.startsWith("#try&")) return;
    for (const [set, text] of new URLSearchParams(hash.slice(5))) {
      const input = this.inputs.findIndex((input) => input?.set === set);
      if (input >= 0) this.try(input, text);
    }
  }
}
