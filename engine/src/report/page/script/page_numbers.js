/** Every number on the page that moves, rewritten when it does; and what cannot be vouched for, blanked. */

import { writeAmount, writeEntered, writeInterval, writePrecise, writeReading } from "./write.js";

/** How an entry's number is written. */
const PAGE_FORMS = Object.freeze({ plain: 0, interval: 1, precise: 2 });

/** The numbers of a page. */
export class PageNumbers {
  /**
   * @param {Document} document
   * @param {{marks: number[], shown: Array<[number, number, number]>, readings: Array<[number, number, number]>,
   *   specs: object[], positions: Array<[number, number, number]>}} island `marks`: of each element `i` which of `shown` it
   *   is; `shown`: place, spec, form; `readings`: input, spec, whether its ± stands elsewhere; `positions`: run, line, guard
   * @param {Study} study
   */
  constructor(document, island, study) {
    this.island = island;
    this.study = study;
    const numbers = [...document.querySelectorAll("i")].map((node, number) => [island.marks[number], node]);
    this.shown = [...numbers, ...marked(document, "data-n")].map(([number, node]) => {
      const [place, spec, form] = island.shown[number];
      const before = node.textContent;
      return { node, place, spec: island.specs[spec], form, before, text: before, value: undefined, hasInterval: true, moved: false };
    });
    this.readings = marked(document, "data-i").map(([number, node]) => {
      const [input, spec, bare] = island.readings[number];
      return { node, input, spec: island.specs[spec], bare: bare === 1, before: node.textContent };
    });
    this.rows = new Map();
    for (const reading of this.readings) {
      const origin = reading.node.closest(".in > div")?.querySelector(".from > b");
      if (origin && !this.rows.has(origin)) this.rows.set(origin, { className: origin.className, text: origin.textContent, readings: [] });
      this.rows.get(origin)?.readings.push(reading);
    }
    this.blocks = marked(document, "data-at").map(([number, node]) => ({ node, at: island.positions[number], blank: false }));
    this.asReported = study.answer(study.json.nominal).values;
    for (const shown of this.shown) shown.value = this.asReported[shown.place];
    this.watched = new Map();
    study.json.watched.forEach(([place], number) => this.watched.set(place, this.watched.get(place) ?? number));
  }

  /** The interval of the number in a place: null where it does not move, undefined where that takes a run. */
  intervalAt(place, judged) {
    const number = this.watched.get(place);
    return number === undefined ? null : judged.intervals[number];
  }

  /**
   * Shows an answer; without `judged` the intervals that no longer belong are left away.
   *
   * @param {{values: Float64Array, vouched: Vouched}} answer
   * @param {object | null} judged
   * @param {Trials} trials
   */
  show(answer, judged, trials) {
    for (const block of this.blocks) {
      const { node, at: [run, line, guard] } = block;
      const blank = !answer.vouched.reaches(run, [line, guard]);
      if (blank !== block.blank) node.classList.toggle("blank", blank);
      block.blank = blank;
    }
    for (const shown of this.shown) this.showNumber(shown, answer.values[shown.place], judged);
    for (const reading of this.readings) this.showReading(reading, trials);
    for (const [origin, row] of this.rows) {
      const tried = row.readings.some(({ input }) => trials.of(input) !== undefined);
      sayOrigin(origin, tried ? { className: "trial", text: "trial" } : row);
    }
  }

  /** A page has thousands of numbers: what is as it was is not written again. */
  showNumber(shown, value, judged) {
    const own = shown.form === PAGE_FORMS.interval && judged !== null;
    if (!own && Object.is(value, shown.value) && !(shown.moved && shown.hasInterval)) return;
    const moved = !Object.is(value, this.asReported[shown.place]);
    if (own) putText(shown, this.withInterval(shown, value, judged));
    else putText(shown, moved ? this.text(shown, value) : shown.before);
    if (moved !== shown.moved) shown.node.classList.toggle("moved", moved);
    Object.assign(shown, { value, moved, hasInterval: own });
  }

  withInterval({ place, spec }, value, judged) {
    if (!Number.isFinite(value)) return "…";
    const interval = this.intervalAt(place, judged);
    if (interval === undefined) return `${writeInterval(value, null, spec)} (its ± takes a run)`;
    return writeInterval(value, interval, spec);
  }

  text({ spec, form, before }, value) {
    if (!Number.isFinite(value)) return "…";
    if (form === PAGE_FORMS.precise) return inBrackets(writePrecise(value, spec), before);
    return form === PAGE_FORMS.plain ? writeAmount(value, spec) : writeInterval(value, null, spec);
  }

  showReading(reading, trials) {
    const trial = trials.of(reading.input);
    const { node, spec, bare, before } = reading;
    const { si, half, most } = trials.now(reading.input);
    const entered = bare && trial?.half === undefined;
    const now = entered ? writeEntered(si, spec) : writeReading(si, half > 0 ? half : null, spec, !most);
    setText(node, trial === undefined ? before : now);
    node.classList.toggle("tried", trial !== undefined);
    node.title = trial === undefined ? "" : `in place of ${before}`;
    this.note(reading, trial === undefined ? "" : ` instead of ${before}`);
  }

  /** The reading beside a value that is tried in its place. */
  note(reading, text) {
    if (text === "") {
      reading.note?.remove();
      reading.note = undefined;
      return;
    }
    if (reading.note === undefined) {
      reading.note = reading.node.ownerDocument.createElement("small");
      reading.note.className = "was";
      reading.node.after(reading.note);
    }
    setText(reading.note, text);
  }

  /** Everything as it was reported. */
  restore() {
    for (const block of this.blocks) {
      block.node.classList.remove("blank");
      block.blank = false;
    }
    for (const shown of this.shown) {
      putText(shown, shown.before);
      if (shown.moved) shown.node.classList.remove("moved");
      Object.assign(shown, { value: this.asReported[shown.place], moved: false, hasInterval: true });
    }
    for (const reading of this.readings) {
      setText(reading.node, reading.before);
      reading.node.classList.remove("tried");
      reading.node.title = "";
      this.note(reading, "");
    }
    for (const [origin, row] of this.rows) sayOrigin(origin, row);
  }
}

/** Where a reading came from. */
function sayOrigin(origin, { className, text }) {
  setText(origin, text);
  if (origin.className !== className) origin.className = className;
}

/** A number in a formula that turns negative has brackets, as one that was so from the start: 2 - (-3), (-3)^2. */
function inBrackets(text, before) {
  return text.startsWith("-") && !before.startsWith("-") ? `(${text})` : text;
}

/** The elements that have an attribute, each with the number that stands in it. */
export function marked(document, attribute) {
  return [...document.querySelectorAll(`[${attribute}]`)].map((node) => [Number(node.getAttribute(attribute)), node]);
}

/** Puts a text where another one is, as far as is known without asking the document, which takes longer. */
function putText(shown, text) {
  if (shown.text !== text) shown.node.textContent = text;
  shown.text = text;
}

/** Puts a text in an element where it is another one. */
export function setText(node, text) {
  if (node.textContent !== text) node.textContent = text;
}
