/** Checks: their words and verdicts after a change, worst first, and how it stands all in all. */

import { checkWords, gaugeStyle } from "./page_check_words.js";
import { headlineOf, verdictRank, worstOf } from "./page_headline.js";
import { setText } from "./page_numbers.js";

/** The words for a verdict: of a check or requirement, and of a preference. */
const DECIDING_WORDS = Object.freeze({ fails: "FAILS", unsure: "UNSURE", untrusted: "UNTRUSTED", unmeasured: "EXAMPLE", holds: "HOLDS", open: "RUN IT" });
const PREFERRING_WORDS = Object.freeze({ ...DECIDING_WORDS, fails: "NOT MET", unsure: "PERHAPS", holds: "MET" });

/** The checks of a page. */
export class PageChecks {
  /**
   * @param {Document} document
   * @param {{checks: number[][], runs: object[], specs: object[], study: {checks: object[]}}} island
   * @param {PageNumbers} numbers
   */
  constructor(document, island, numbers) {
    this.document = document;
    this.island = island;
    this.numbers = numbers;
    this.items = island.checks.map((compact, number) => {
      const json = wordedCheck(island.study.checks[number], compact, island.specs);
      const nodes = [...document.querySelectorAll(`[data-c="${number}"]`)];
      return { json, nodes: nodes.map((node) => new CheckNode(node)), top: nodes.find((node) => node.closest("#check-list")) };
    });
    this.standing = [...document.querySelectorAll("[data-r]")].map((node) => ({ node, run: Number(node.dataset.r), before: tagOf(node) }));
    this.headline = { node: document.getElementById("verdict"), counts: document.getElementById("counts") };
    this.headline.before = { ...tagOf(this.headline.node), text: this.headline.counts.textContent };
    this.unfolded = false;
    const lists = [...document.querySelectorAll("#check-list ul")];
    this.lists = lists.map((list) => ({ list, hidden: list.hidden, className: list.className, items: [...list.children] }));
    this.held = document.querySelector("#check-list > details");
    this.heldBefore = this.held && { hidden: this.held.hidden, count: this.held.querySelector("summary").textContent };
  }

  /** In a job, what holds stands in the list on one line; to be sorted in it takes all that its run's section says. */
  unfold() {
    if (this.unfolded) return;
    this.unfolded = true;
    for (const item of this.items) {
      const own = item.nodes.find(({ node }) => node.closest("#check-list") === null)?.node;
      if (item.top === undefined || own === undefined || item.top.querySelector(".sides") !== null) continue;
      const copy = own.cloneNode(true);
      const run = item.top.querySelector("a.of");
      if (run !== null) copy.querySelector(".what").append(" ", run.cloneNode(true));
      item.top = copy;
      item.nodes.push(new CheckNode(copy));
    }
  }

  /** Shows values and limits at once; verdicts once they are judged. */
  show(answer, judged, trials) {
    this.unfold();
    const look = (side) => this.look(side, answer, judged, trials);
    this.items.forEach((item, number) => {
      const { json, nodes } = item;
      if (json.value !== undefined && !isSeen(item, look, judged)) {
        const [words, gauge] = [checkWords(json, look), gaugeStyle(json, look)];
        for (const node of nodes) node.sides(words, gauge);
      }
      const found = judged?.checks[number];
      if (found !== undefined) for (const node of nodes) node.verdict(found, json.kind !== "prefer");
    });
    if (judged === null) return null;
    this.sort(judged);
    this.stand(judged);
    return this.summarise(judged, trials);
  }

  /** Value and interval of a side, of a reading its own ± too; without `judged` no interval, which is not known yet. */
  look(side, answer, judged, trials) {
    if (side.place === undefined) return { si: side.value, interval: null };
    const interval = judged === null ? null : (this.numbers.intervalAt(side.place, judged) ?? null);
    const own = side.input === undefined ? {} : trials.now(side.input);
    return { ...own, si: answer.values[side.place], interval };
  }

  /** What does not hold stands open, worst first; what holds is folded. */
  sort(judged) {
    const [open] = this.lists;
    if (open === undefined || this.held === null) return;
    const ranked = this.items.map(({ json, top }, number) => ({ json, top, ...judged.checks[number] })).filter(({ top }) => top !== undefined);
    const rank = ({ json, verdict }) => (json.kind === "prefer" ? 10 : 0) + verdictRank(verdict);
    ranked.sort((a, b) => rank(a) - rank(b) || (a.chance ?? 0.5) - (b.chance ?? 0.5));
    const holding = ranked.filter(({ verdict }) => verdict === "holds").map(({ top }) => top);
    const others = ranked.filter(({ verdict }) => verdict !== "holds").map(({ top }) => top);
    for (const { list } of this.lists) list.replaceChildren();
    open.list.append(...others);
    const held = this.held.querySelector("ul");
    held.className = "checks";
    held.append(...holding);
    open.list.hidden = others.length === 0;
    this.held.hidden = holding.length === 0;
    setText(this.held.querySelector("summary"), holding.length === 1 ? "1 holds" : `${holding.length} hold`);
  }

  /** Each run's worst verdict. */
  stand(judged) {
    for (const { node, run } of this.standing) {
      const own = this.items.map(({ json }, number) => ({ json, ...judged.checks[number] }));
      const verdict = worstOf(own.filter(({ json }) => json.run === run && json.kind !== "prefer").map((check) => check.verdict));
      setTag(node, DECIDING_WORDS[verdict], verdict);
    }
  }

  summarise(judged, trials) {
    const { runs } = this.island;
    const counted = this.items.map(({ json }, number) => ({ run: runs[json.run], decides: json.kind !== "prefer", verdict: judged.checks[number].verdict }));
    const tried = new Set([...trials.tried()].flatMap((input) => trials.together(input)));
    const headline = headlineOf(counted.filter(({ run }) => run.counts), this.island, tried);
    if (this.headline.before.text !== undefined && this.headline.before.word !== "TRIED") {
      setTag(this.headline.node, headline.word, headline.verdict);
      setText(this.headline.counts, headline.text);
    }
    return headline;
  }

  /** Everything as it was reported. */
  restore() {
    for (const item of this.items) {
      item.seen = undefined;
      item.nodes.forEach((node) => node.restore());
    }
    for (const { list, hidden, className, items } of this.lists) {
      list.replaceChildren(...items);
      list.className = className;
      list.hidden = hidden;
    }
    if (this.held !== null) {
      this.held.hidden = this.heldBefore.hidden;
      setText(this.held.querySelector("summary"), this.heldBefore.count);
    }
    for (const { node, before } of this.standing) setTag(node, before.word, before.verdict);
    setTag(this.headline.node, this.headline.before.word, this.headline.before.verdict);
    setText(this.headline.counts, this.headline.before.text);
  }
}

/** Whether a check's numbers are those that stand there, without intervals as long as nothing is judged; keeps them. */
function isSeen(item, look, judged) {
  const before = item.seen;
  item.seen = judged === null ? [item.json.value, ...item.json.limits].flatMap((side) => [look(side).si, look(side).half]) : undefined;
  return before !== undefined && item.seen?.every((number, nth) => Object.is(number, before[nth])) === true;
}

/** The comparisons with their sides exchanged. */
const TURNED_COMPARISONS = Object.freeze({ "<": ">", "<=": ">=", ">": "<", ">=": "<=" });

/**
 * A check of the study with how it is written: see `check` of `engine/src/report/page/island.rs`.
 *
 * @returns {{run: number, kind: string, value?: PageSide, limits?: PageSide[], style?: object, comparison?: string | null}}
 */
function wordedCheck({ run, kind, test }, [turned, style, ...ways], specs) {
  if (turned === undefined) return { run, kind };
  const sides = turned === 1 ? [...test.sides].reverse() : test.sides;
  const [value, ...limits] = sides.map((side, number) => {
    const [spec, input] = ways.slice(2 * number, 2 * number + 2);
    return { ...side, spec: specs[spec], ...(input >= 0 ? { input } : {}) };
  });
  const own = test.comparison ?? null;
  const comparison = turned === 1 ? (TURNED_COMPARISONS[own] ?? own) : own;
  return { run, kind, value, limits, style: specs[style], comparison };
}

/** A check where it stands on the page. */
class CheckNode {
  constructor(node) {
    this.node = node;
    const sides = node.querySelector(".sides");
    this.parts = { value: sides?.querySelector("b"), limit: sides?.querySelector("span"), off: sides && partOf(sides, "em") };
    this.gauge = node.querySelector(".gauge");
    this.chance = node.querySelector(".chance");
    const texts = Object.entries(this.parts).map(([name, part]) => [name, part?.textContent]);
    this.before = { ...tagOf(node), texts: Object.fromEntries(texts), gauge: this.gauge?.getAttribute("style"), chance: this.chance?.textContent ?? "" };
  }

  sides(words, gauge) {
    for (const [name, part] of Object.entries(this.parts)) if (part) setText(part, words[name]);
    if (this.gauge === null) return;
    this.gauge.hidden = gauge === null;
    for (const [name, place] of Object.entries(gauge ?? {})) this.gauge.style.setProperty(name, place);
  }

  verdict({ verdict, chance, chances }, decides) {
    const shown = verdict ?? "open";
    setTag(this.node, (decides ? DECIDING_WORDS : PREFERRING_WORDS)[shown], shown);
    const hundredths = (share) => Math.max(1, Math.min(97, share * 100)).toFixed(0);
    const range = chance === null && chances[0] !== chances[1] ? `${hundredths(chances[0])} to ${hundredths(chances[1])}` : hundredths(chances[0]);
    this.sayChance(shown === "unsure" ? `chance that it holds: ${range} in 100` : "");
  }

  sayChance(text) {
    const beside = this.node.querySelector(".sides");
    if (this.chance === null && text !== "" && beside !== null) {
      this.chance = this.node.ownerDocument.createElement("p");
      this.chance.className = "chance";
      beside.after(this.chance);
    }
    if (this.chance !== null) setText(this.chance, text);
  }

  restore() {
    setTag(this.node, this.before.word, this.before.verdict);
    for (const [name, part] of Object.entries(this.parts)) if (part) setText(part, this.before.texts[name]);
    if (this.gauge !== null) {
      this.gauge.setAttribute("style", this.before.gauge);
      this.gauge.hidden = false;
    }
    this.sayChance(this.before.chance);
  }
}

/** A part of the two sides; what is not there yet is put last. */
function partOf(sides, tag) {
  const found = sides.querySelector(tag);
  if (found !== null) return found;
  const made = sides.ownerDocument.createElement(tag);
  sides.append(" ", made);
  return made;
}

/** The verdicts that elements have as a class. */
const VERDICT_CLASSES = Object.freeze(["fails", "open", "unsure", "untrusted", "unmeasured", "holds"]);

function tagOf(node) {
  const tag = node.querySelector(".tag");
  return { word: tag.textContent, verdict: VERDICT_CLASSES.find((name) => tag.classList.contains(name)) ?? "" };
}

function setTag(node, word, verdict) {
  const tag = node.querySelector(".tag");
  for (const one of [node, tag]) {
    const had = VERDICT_CLASSES.some((name) => one.classList.contains(name));
    if (one === tag || had) {
      one.classList.remove(...VERDICT_CLASSES);
      if (verdict !== "") one.classList.add(verdict);
    }
  }
  setText(tag, word);
}
