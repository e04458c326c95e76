// A page on which a reader tries one setting after another, taking each back: the numbers behind it as text that tells every
// bit, the verdicts that it shows, and what it leaves to a run.
//
// Given: `page`, `settings` (each a list of [what --set calls it, text]). Without `settings`: the readings that can be moved.

import { move, settle } from "../reader.mjs";

export async function scenario({ open, given }) {
  const page = await open(given.page);
  if (given.settings === undefined) return page.evaluate(readings);
  await keepStudy(page);
  const found = [];
  for (const setting of given.settings) {
    const refusals = [];
    for (const [set, text] of setting) refusals.push(await move(page, set, text));
    await settle(page);
    found.push({ refusals, ...(await page.evaluate(shown)) });
    if (await page.isVisible(".bar > button")) await page.click(".bar > button");
    await settle(page);
  }
  found.push(await page.evaluate(shown));
  return found;
}

/** What can be moved: its name, and what stands there. */
function readings() {
  const nodes = [...document.querySelectorAll("[data-set]")];
  return nodes.map((node) => [node.dataset.set, node.textContent.trim()]);
}

/** The page's own study and what reads its trials, made a second time from the script and the data that the page carries. */
async function keepStudy(page) {
  const script = await page.evaluate(() => document.querySelector("script[type=module]").textContent);
  const made = script.replace(/startPage\(document\);\s*$/u, "");
  await page.evaluate(`(() => { ${made}
    const island = JSON.parse(document.getElementById("island").textContent, unpacked);
    useUnits(island.units);
    const inputs = island.inputs.map((input) => input && { set: input[1], spec: island.specs[input[2]], range: input[3] });
    const tape = new Tape(island.tape);
    globalThis.kept = {
      island,
      study: new Study(withChecks(island.study), tape),
      trials: () => new Trials(inputs, island.study.nominal, island.study.joined),
    };
  })()`);
}

/** Steps and checks of every run, in order. */
function shown() {
  const { island, study } = globalThis.kept;
  const trials = globalThis.kept.trials();
  trials.fromHash(location.hash);
  const answer = study.answer(trials.values(), trials.tried());
  const inOrder = (nodes) => nodes.sort((a, b) => a.dataset.c - b.dataset.c);
  const visible = (node) => node.closest(".blank") === null;
  const numbers = new Map([...document.querySelectorAll("i")].map((node, nth) => [node, island.shown[island.marks[nth]][0]]));
  const runs = [...document.querySelectorAll(".run")].map((run) => ({
    steps: [...run.querySelectorAll(".work details")].map((node) => ({
      name: node.querySelector("p b")?.textContent ?? "",
      numbers: visible(node) ? [...node.querySelectorAll("summary i")].map((number) => String(answer.values[numbers.get(number)])) : null,
    })),
    checks: inOrder([...run.querySelectorAll("li[data-c]")]).map((node) => ({
      word: visible(node) ? node.querySelector(".tag").textContent : null,
    })),
  }));
  const bar = document.querySelector(".bar");
  return { runs, way: bar.hidden ? null : document.querySelector(".bar .way").textContent, tried: trials.changed.size };
}
