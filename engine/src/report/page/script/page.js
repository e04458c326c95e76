/** The page that answers: a reader moves an input, and numbers, verdicts and figures follow. */

import { studentQuantile } from "./kernel_distribution.js";
import { useUnits } from "./units.js";
import { Study } from "./study.js";
import { spreads } from "./study_draw.js";
import { Tape } from "./tape.js";
import { PageChecks } from "./page_checks.js";
import { PageControls } from "./page_controls.js";
import { PageFigures } from "./page_figures.js";
import { PageNotice } from "./page_notice.js";
import { PageNumbers } from "./page_numbers.js";
import { unpacked } from "./page_packed.js";
import { withChecks } from "./page_study.js";
import { Trials } from "./page_trials.js";

/** Milliseconds without a change before the samples are drawn. */
const PAUSE = 120;

/**
 * Makes a page answer.
 *
 * @param {Document} document with the island that `engine/src/report/page/island.rs` writes
 */
export function startPage(document) {
  const page = new AnsweringPage(document, JSON.parse(document.getElementById("island").textContent, unpacked));
  page.start();
}

function pageInput([runs, set, spec, range], specs, spread) {
  return { set, spec: specs[spec], ...halfWidthOf(spread), range, runs };
}

/** How wide a reading's ± is, as the engine says it, and whether it holds 95 values of 100 only. */
function halfWidthOf(spread) {
  if (spread === undefined || !spreads(spread)) return { half: 0, most: false };
  if (spread.standard !== undefined) return { half: 2 * spread.standard, most: true };
  if (spread.scatter === undefined) return { half: spread.limits, most: false };
  const scatter = spread.scatter * studentQuantile(0.975, Math.max(spread.freedoms, 1));
  const instrument = 0.95 * spread.limits;
  return { half: Math.sqrt(scatter * scatter + instrument * instrument), most: true };
}

class AnsweringPage {
  constructor(document, written) {
    const island = { ...written, study: withChecks(written.study) };
    this.document = document;
    this.window = document.defaultView;
    useUnits(island.units);
    this.study = new Study(island.study, new Tape(island.tape));
    const spreadOf = new Map(island.study.readings.map(({ input, ...spread }) => [input, spread]));
    const inputs = island.inputs.map((input, number) => input && pageInput(input, island.specs, spreadOf.get(number)));
    this.trials = new Trials(inputs, island.study.nominal, island.study.joined);
    this.numbers = new PageNumbers(document, island, this.study);
    this.checks = new PageChecks(document, island, this.numbers);
    this.figures = new PageFigures(document, island);
    const changed = () => this.change();
    this.controls = new PageControls(document, island, this.trials, changed);
    this.notice = new PageNotice(document, island, this.trials, changed);
    this.frame = null;
    this.judging = null;
  }

  start() {
    this.document.body.classList.add("answers");
    this.trials.fromHash(this.window.location.hash);
    this.keepHash();
    this.window.addEventListener("beforeprint", () => this.unfold(true));
    this.window.addEventListener("afterprint", () => this.unfold(false));
    if (!this.trials.isEmpty()) this.change();
    // What the first change would wait for, while nothing is asked.
    this.window.requestIdleCallback?.(() => this.checks.unfold());
  }

  /** After a change: the numbers in the next frame, the ± once nothing changes for a moment. */
  change() {
    this.controls.refresh();
    this.judging?.abort();
    if (this.frame === null) this.frame = this.window.requestAnimationFrame(() => this.draw());
  }

  draw() {
    this.frame = null;
    this.document.body.classList.toggle("trying", !this.trials.isEmpty());
    if (this.trials.isEmpty()) {
      this.keepInAddress();
      this.numbers.restore();
      this.checks.restore();
      this.figures.restore();
      this.notice.hide();
      return;
    }
    const answer = this.study.answer(this.trials.values(), this.trials.tried());
    this.show(answer, null);
    this.document.body.classList.add("sampling");
    this.judging = new AbortController();
    this.judge(this.judging.signal);
  }

  async judge(signal) {
    await new Promise((resolve) => this.window.setTimeout(resolve, PAUSE));
    const options = { spreads: this.trials.spreads(), tried: this.trials.tried(), curves: this.figures.curves };
    if (!signal.aborted) this.keepInAddress();
    const judged = signal.aborted ? null : await this.study.judgeLater(this.trials.values(), options, signal);
    if (judged === null) return;
    this.show(judged.answer, judged);
    this.document.body.classList.remove("sampling");
  }

  show(answer, judged) {
    this.numbers.show(answer, judged, this.trials);
    const headline = this.checks.show(answer, judged, this.trials);
    this.figures.show(answer, judged);
    this.notice.show(answer, judged, headline);
  }

  /** The address brings the trial back; to write it takes a browser a while. */
  keepInAddress() {
    this.window.history.replaceState(null, "", this.trials.toHash() || this.window.location.pathname + this.window.location.search);
  }

  /** A link within the page leaves the trial in the address. */
  keepHash() {
    this.document.addEventListener("click", (event) => {
      const link = event.target.closest?.('a[href^="#"]');
      if (!link || this.trials.isEmpty()) return;
      event.preventDefault();
      this.document.getElementById(link.getAttribute("href").slice(1))?.scrollIntoView();
    });
  }

  /** What has to be on paper is unfolded for it. */
  unfold(printing) {
    for (const details of this.document.querySelectorAll("details.open")) {
      if (printing && !details.open) {
        details.open = true;
        details.dataset.folded = "";
      } else if (!printing && details.dataset.folded !== undefined) {
        details.open = false;
        delete details.dataset.folded;
      }
    }
  }
}
