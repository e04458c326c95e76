// What the drivers share: cases in, what is wrong and what was measured out.

import { readFileSync } from "node:fs";

/** The cases that this driver was given. */
export const cases = JSON.parse(readFileSync(process.argv[2], "utf8"));

const view = new DataView(new ArrayBuffer(8));
const wrong = [];
const measured = {};

/** Numbers from their bits, sixteen hexadecimal digits each. */
export function numbers(text) {
  const found = new Float64Array(text.length / 16);
  for (let i = 0; i < found.length; i++) {
    view.setUint32(0, parseInt(text.slice(16 * i, 16 * i + 8), 16));
    view.setUint32(4, parseInt(text.slice(16 * i + 8, 16 * i + 16), 16));
    found[i] = view.getFloat64(0);
  }
  return found;
}

/** Whether two numbers have the same bits; all that is no number is alike. */
export function same(a, b) {
  return Object.is(a, b);
}

export function fail(what) {
  wrong.push(what);
}

export function measure(name, value) {
  measured[name] = value;
}

export function finish() {
  process.stdout.write(JSON.stringify({ wrong: wrong.slice(0, 50), measured }));
}
