// Pictures of a page before and after a reader has moved inputs, and after all was taken back: where their shapes are.
//
// Given: `page`, `moves` ([what --set calls it, text], in order).

import { move, settle } from "../reader.mjs";

export async function scenario({ open, given }) {
  const page = await open(given.page);
  const before = await page.evaluate(shapes);
  for (const [set, text] of given.moves) await move(page, set, text);
  await settle(page);
  const after = await page.evaluate(shapes);
  await page.click(".bar > button");
  await settle(page);
  return { before, after, back: await page.evaluate(shapes) };
}

/** Of every shape that can move what kind it is and its attributes. */
function shapes() {
  const nodes = [...document.querySelectorAll("svg.figure [data-e]")];
  return nodes.map((node) => ({
    band: node.classList.contains("band"),
    hidden: node.hasAttribute("hidden"),
    place: ["d", "transform", "x", "y", "width", "height", "cx", "cy", "rx", "ry"].map((name) => node.getAttribute(name) ?? "").join(" "),
  }));
}
