// Redraws pictures on elements that are nothing but their attributes, and says what is not where it was; then moves what
// has been worked out by hand.
import { readFileSync } from "node:fs";
import { MovingPicture } from "../../engine/src/report/page/script/figure.js";
import { bandEnds, readOffLine } from "../../engine/src/report/page/script/study_bands.js";

const wrong = [];
const cases = JSON.parse(readFileSync(process.argv[2], "utf8"));

function element(attributes) {
  const own = { ...attributes };
  return {
    own,
    style: {},
    ownerSVGElement: { dataset: { name: "f" } },
    setAttribute: (name, value) => (own[name] = String(value)),
    removeAttribute: (name) => delete own[name],
    toggleAttribute: (name, on) => (on ? (own[name] = "") : delete own[name]),
  };
}

function picture(elements) {
  const all = Object.fromEntries(Object.entries(elements).map(([number, own]) => [number, element(own)]));
  const beyond = element({ hidden: "" });
  const svg = {
    querySelector: (wanted) => (wanted === ".beyond" ? beyond : all[wanted.match(/"(\d+)"/)[1]]),
  };
  return { all, beyond, svg };
}

/** The numbers of an attribute may differ in the last digit that is drawn: half a tenth goes either way. */
function isNear(before, after) {
  const numbers = /-?\d+(\.\d+)?/g;
  const [a, b] = [before.match(numbers) ?? [], after.match(numbers) ?? []];
  const same = before.replace(numbers, "") === after.replace(numbers, "");
  return same && a.length === b.length && a.every((number, nth) => Math.abs(number - b[nth]) < 0.11);
}

for (const { name, elements, scene, values } of cases) {
  const { all, svg } = picture(elements);
  new MovingPicture(svg, scene).redraw((slot) => values[slot]);
  for (const [number, { own }] of Object.entries(all)) {
    if (scene.moving[number].kind === "band") continue;
    for (const [key, before] of Object.entries(elements[number])) {
      if (key !== "fill" && !isNear(before, own[key] ?? "")) wrong.push({ name, number, key, before, after: own[key] });
    }
  }
}

// A place that is 10 + 2 times the number in slot 3 from the left, and one that is 100 - 50 log10 of it from the top.
const scene = {
  frame: [0, 0, 100, 100],
  moving: [
    { kind: "line", closed: false, places: [[[10, 2, 3, 0], [100, -50, 3, 1]], [90, 50]] },
    { kind: "box", corners: [[0, 0], [[0, 1, 3, 0], 10]] },
    { kind: "arc", centre: [50, 50], radii: [10, 20], angles: [0, [0, 1, 4, 0]] },
    { kind: "region", across: [0, 10, 20], up: [10, 0], margins: [1, 1, [3], 1, 1, -1] },
    { kind: "at", at: [[0, 10, 3, 2], 5] },
  ],
};
const moved = picture({ 0: {}, 1: {}, 2: {}, 3: {}, 4: {} });
const movedPicture = new MovingPicture(moved.svg, scene);
const at = (values) => movedPicture.redraw((slot) => values[slot]);
const expect = (what, found, wanted) => {
  if (JSON.stringify(found) !== JSON.stringify(wanted)) wrong.push({ what, found, wanted });
};
expect("within", at({ 3: 10, 4: Math.PI / 2 }), false);
expect("line", moved.all[0].own.d, "M30 50L90 50");
expect("box", moved.all[1].own.width, "10");
expect("arc", moved.all[2].own.d, "M60 50A10 20 0 0 0 50 30");
expect("region", moved.all[3].own.d, "M0 10L10 10L10 0L0 0ZM10 10L20 10L20 0.9L15 0L10 0Z");
expect("over", moved.all[4].own.transform, "translate(1 5)");
expect("said", "hidden" in moved.beyond.own, true);
expect("beyond", at({ 3: 100, 4: 0 }), true);
expect("said beyond", "hidden" in moved.beyond.own, false);
expect("no logarithm", (at({ 3: -1, 4: 0 }), moved.all[0].own.d), "M90 50");
expect("region smaller", moved.all[3].own.d, "M0 10L10 10L10 0L0 0ZM10 10L15 10L15 0L10 0Z");

// What did not move is not drawn again, until somebody else has drawn.
moved.all[1].own.width = "7";
at({ 3: -1, 4: 1 });
expect("left", moved.all[1].own.width, "7");
movedPicture.forget();
at({ 3: -1, 4: 1 });
expect("drawn again", moved.all[1].own.width, "1");

const samples = Array.from({ length: 1000 }, (_, nth) => readOffLine([nth / 1000, 2 + nth / 1000], [0, 2], 1));
const [low, high] = bandEnds(samples);
if (Math.abs(low - 0.025) > 0.002 || Math.abs(high - 0.975) > 0.002) wrong.push({ what: "band", low, high });

console.log(JSON.stringify({ wrong, measured: { pictures: cases.length } }));
