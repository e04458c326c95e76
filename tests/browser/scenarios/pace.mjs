// How long a page takes: to load, to follow a reading that moves, to know the ± again. Milliseconds.
//
// Given: `page`, `move` (what --set calls the reading whose slider is moved).

import { settle } from "../reader.mjs";

const MOVES = 30;

export async function scenario({ open, given }) {
  const page = await open(given.page, { before: watchFrames });
  const load = await page.evaluate(() => performance.getEntriesByType("navigation")[0].loadEventEnd);
  await page.waitForTimeout(500);
  await page.locator(`[data-set=${JSON.stringify(given.move)}]`).first().click();
  const slider = page.locator(".edit input[type=range]").first();
  const slide = (step) =>
    slider.evaluate((node, value) => {
      node.value = value;
      node.dispatchEvent(new Event("input", { bubbles: true }));
    }, 300 + 10 * step);
  for (let step = 0; step < MOVES; step++) {
    await slide(step);
    await page.waitForTimeout(60);
  }
  const [first, ...others] = await page.evaluate(() => globalThis.frames_taken.filter(({ script }) => script > 0.5).slice(0));
  others.sort((a, b) => a.all - b.all);
  const before = await page.evaluate(() => performance.now());
  await slide(MOVES);
  await settle(page);
  const judged = (await page.evaluate(() => performance.now())) - before;
  return { load, first, median: others[others.length >> 1], most: others.at(-1), judged };
}

/** Of every frame that the page draws: milliseconds in its script, and with style and layout. */
function watchFrames() {
  globalThis.frames_taken = [];
  const request = globalThis.requestAnimationFrame.bind(globalThis);
  globalThis.requestAnimationFrame = (draw) =>
    request((time) => {
      const start = performance.now();
      draw(time);
      const script = performance.now() - start;
      document.body.getBoundingClientRect();
      globalThis.frames_taken.push({ script, all: performance.now() - start });
    });
}
