// Each elementary function against the engine's bits.

import * as elementary from "../../engine/src/report/page/script/kernel_elementary.js";
import { normalQuantile, studentQuantile } from "../../engine/src/report/page/script/kernel_distribution.js";
import { pow } from "../../engine/src/report/page/script/kernel_power.js";
import { cases, fail, finish, measure, numbers, same } from "./common.mjs";

const FUNCTIONS = {
  ...elementary,
  pow,
  floor: Math.floor,
  sqrt: Math.sqrt,
  normalQuantile,
  studentQuantile: (p, number) => studentQuantile(p, (Math.abs(number) % 40) | 0),
  norm: (...given) => elementary.normAt(Float64Array.from(given), [0, 1, 2, 3].slice(0, given.length), 0, given.length, 0),
};

for (const { name, takes, given, expected } of cases) {
  const f = FUNCTIONS[name];
  const a = numbers(given);
  const e = numbers(expected);
  const started = performance.now();
  for (let i = 0; i < e.length; i++) {
    const arguments_ = a.subarray(takes * i, takes * i + takes);
    const found = takes === 1 ? f(a[i]) : f(...arguments_);
    if (!same(found, e[i])) {
      fail(`${name}(${[...arguments_].join(", ")}): ${found}, the engine has ${e[i]}`);
    }
  }
  measure(name, ((performance.now() - started) * 1e6) / e.length);
}
finish();
