// A page after a reader has moved inputs: what it says then, and what is left after all is taken back.
//
// Given: `page`, `moves` ([what --set calls it, text], in order), `hash`, `width`, `back` (whether all is taken back).

import { move, settle } from "../reader.mjs";

export async function scenario({ open, barriers, given }) {
  const page = await open(given.page, { hash: given.hash ?? "", width: given.width ?? 1280 });
  const before = await page.evaluate(said);
  const refusals = [];
  for (const [set, text] of given.moves ?? []) refusals.push(await move(page, set, text));
  await settle(page);
  const after = await page.evaluate(said);
  const found = { before, after, refusals, barriers: await barriers(page), ...(await page.evaluate(trial)) };
  if (given.back) {
    await page.click(".bar > button");
    await settle(page);
    found.back = await page.evaluate(said);
    found.hashAfter = await page.evaluate(() => location.hash);
  }
  return found;
}

/** All that the page says of numbers and verdicts, in its own order. */
function said() {
  const text = (node) => (node === null ? "" : node.textContent.trim().replace(/\s+/gu, " "));
  // What was worked out beside the tape follows no trial.
  const line = (node) => {
    const copy = node.cloneNode(true);
    copy.querySelectorAll("u").forEach((aside) => aside.replaceChildren("…"));
    return text(copy);
  };
  const visible = (node) => node.closest(".blank") === null;
  // The list of all checks turns as verdicts do; a run's own stays as it is.
  const inRuns = [...document.querySelectorAll(".run li[data-c]")];
  const checks = (inRuns.length > 0 ? inRuns : [...document.querySelectorAll("#check-list li[data-c]")])
    .filter(visible)
    .map((node) => ({
      what: text(node.querySelector(".what")),
      word: text(node.querySelector(".tag")),
      sides: text(node.querySelector(".sides")),
      chance: text(node.querySelector(".chance")),
      gauge: node.querySelector(".gauge")?.getAttribute("style")?.replace(/[\s;]+/gu, " ").replace(/: /gu, ":").trim() ?? "",
    }));
  const steps = [...document.querySelectorAll(".work details")].filter(visible).map((node) => {
    const lines = [...node.querySelectorAll("p:not([class])")].map(line);
    const [what, value] = node.querySelector("summary").children;
    return { what: text(what), value: text(value), lines };
  });
  return {
    headline: text(document.querySelector(".stands")),
    checks,
    steps,
    notes: [...document.querySelectorAll(".notes li")].filter(visible).map(text),
    standing: [...document.querySelectorAll("[data-r]")].map(text),
    open: [...document.querySelectorAll("#check-list > ul > li")].map((node) => text(node.querySelector(".what"))),
    blank: document.querySelectorAll(".blank").length,
  };
}

/** What the page says of the trial itself. */
function trial() {
  const text = (selector) => document.querySelector(selector)?.textContent.trim() ?? "";
  const bar = document.querySelector(".bar");
  return {
    bar: bar.hidden ? null : { now: text(".bar .now"), way: text(".bar .way"), command: text(".bar code") },
    stamp: !document.getElementById("trial").hidden,
    running: text("#running-trial"),
    hash: location.hash,
    tried: [...document.querySelectorAll(".tried")].map((node) => node.textContent),
    was: [...document.querySelectorAll(".was")].map((node) => node.textContent.trim()),
    overflow: document.documentElement.scrollWidth - document.documentElement.clientWidth,
  };
}
