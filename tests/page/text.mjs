// Reads and writes quantities with the page's script, and says where it differs from what the engine gave.

import { readFileSync } from "node:fs";
import { digitsFor, fixedDigits, plainDigits, writeNumber } from "../../engine/src/report/page/script/decimal.js";
import { readQuantity, readText } from "../../engine/src/report/page/script/read.js";
import { useUnits } from "../../engine/src/report/page/script/units.js";
import * as write from "../../engine/src/report/page/script/write.js";

const cases = JSON.parse(readFileSync(process.argv[2], "utf8"));
useUnits(cases.units);

/** Numbers stand as texts, so that infinities and -0 come through. */
const number = (text) => (text === null ? null : Number(text.replace("inf", "Infinity")));

function found(reading) {
  const { values, dimension, point, unit, spread, signWord } = reading;
  return { values, dimension, point, symbol: unit === null ? "" : unit.symbol, spread, word: signWord };
}

function read({ text, signs }) {
  try {
    return found(readText(text, signs));
  } catch (failure) {
    return { message: failure.message, hint: failure.hint ?? null, at: failure.at };
  }
}

function digitsOf(found) {
  const { style, si, low, high, size, halfWidth, like } = found;
  const spec = cases.specs[found.spec];
  const [value, width, range] = [number(si), number(halfWidth), number(size)];
  const interval = low === null ? null : { low: number(low), high: number(high) };
  const own = style ?? write.styleFor(spec, value);
  const support = interval === null ? null : write.supportOf(own, value, interval);
  return {
    amount: write.writeAmount(value, spec),
    interval: write.writeInterval(value, interval, spec),
    styled: write.writeStyledInterval(own, value, interval, spec),
    precise: write.writePrecise(value, spec),
    entered: write.writeEntered(value, spec),
    reading: write.writePlusMinus(own, value, width),
    half: write.writeHalfWidth(own, width, value),
    difference: write.writeDifference(own, range, value, support),
    to: write.writeTo(value, range, number(like), spec),
  };
}

const kinds = {
  read,
  wanted: ({ text, wanted }) => readQuantity(text, wanted),
  refused: ({ text, wanted }) => ({ refused: "error" in readQuantity(text, wanted) }),
  number: ({ value, digits }) => writeNumber(number(value), digits),
  digits: ({ value, uncertainty }) => digitsFor(number(value), number(uncertainty)),
  plain: ({ value }) => plainDigits(number(value)),
  fixed: ({ value, decimals }) => fixedDigits(number(value), decimals),
  write: digitsOf,
  samples: ({ share }) => write.writeSamples(number(share)),
};

/** Whether what was found is what was expected: of numbers, the same bits. */
function same(expected, found) {
  if (typeof found === "number" && typeof expected === "string") return Object.is(number(expected), found);
  if (Array.isArray(expected)) {
    return Array.isArray(found) && expected.length === found.length && expected.every((one, at) => same(one, found[at]));
  }
  if (expected === null || typeof expected !== "object") return Object.is(expected, found ?? null);
  return found !== null && typeof found === "object" && Object.keys(expected).every((key) => same(expected[key], found[key]));
}

const wrong = [];
for (const one of cases.cases) {
  let answer;
  try {
    answer = kinds[one.kind](one);
  } catch (error) {
    answer = { thrown: String(error.stack) };
  }
  if (!same(one.expected, answer)) wrong.push({ ...one, found: answer });
}
process.stdout.write(JSON.stringify({ wrong: wrong.slice(0, 50), measured: { tried: cases.cases.length } }));
