// Tapes against the engine's bits: sample by sample, and in lanes.

import { Tape } from "../../engine/src/report/page/script/tape.js";
import { cases, fail, finish, measure, numbers, same } from "./common.mjs";

for (const { name, tape: json, places, samples, timed } of cases) {
  const tape = new Tape(json);
  const given = samples.map((sample) => numbers(sample.inputs));
  const all = Array.from({ length: tape.inputs }, (_, input) => given.map((inputs) => inputs[input]));
  const lanes = tape.runLanes(all, samples.length, places);
  samples.forEach((sample, number) => {
    const { values, stops } = tape.run(given[number]);
    const stop = stops.length === 0 ? null : stops[0];
    const lane = lanes.stops[number];
    const place = `${name}, sample ${number} (${[...given[number]].slice(0, 8).join(", ")})`;
    for (const [kind, found] of [
      ["alone", stop],
      ["in lanes", lane],
    ]) {
      const word = found === null ? null : found.kind === "guard" || found.kind === "require" ? found.kind : "no value";
      if (word !== sample.stop) {
        fail(`${place}, ${kind}: stops at ${JSON.stringify(found)}, the engine ${sample.stop}`);
      }
    }
    if ((stop === null) !== (lane === null) || (stop !== null && stop.node !== lane.node)) {
      fail(`${place}: stops at ${JSON.stringify(stop)} alone, at ${JSON.stringify(lane)} in lanes`);
    }
    if (sample.stop === null) {
      const expected = numbers(sample.expected);
      places.forEach((at, index) => {
        const inLanes = lanes.values.get(at)[number];
        if (!same(values[at], expected[index]) || !same(inLanes, expected[index])) {
          fail(`${place}, place ${at}: ${values[at]}, in lanes ${inLanes}, the engine has ${expected[index]}`);
        }
      });
    }
  });
  if (timed) {
    const count = 30;
    const started = performance.now();
    for (let i = 0; i < count; i++) {
      tape.run(given[i % given.length]);
    }
    const alone = (performance.now() - started) / count;
    const laned = performance.now();
    tape.runLanes(
      all.map((row) => Array.from({ length: 128 }, (_, lane) => row[lane % row.length])),
      128,
      places,
    );
    const size = JSON.stringify(json).length;
    measure(name, { nodes: tape.program.nodes, bytes: size, ms: alone, lane_us: ((performance.now() - laned) * 1000) / 128 });
  }
}
finish();
