/** What the page says of a trial: what was changed, how it stands now, what only a run can tell, and the command for it. */

import { inQuotes } from "./page_controls.js";
import { setText } from "./page_numbers.js";

/** The notice at the page's edge, and the marks at its head. */
export class PageNotice {
  /**
   * @param {Document} document
   * @param {object} island
   * @param {Trials} trials
   * @param {() => void} changed what is done after a change
   */
  constructor(document, island, trials, changed) {
    this.document = document;
    this.island = island;
    this.trials = trials;
    this.changed = changed;
    this.trial = document.getElementById("trial");
    this.trialBefore = this.trial.hidden;
    this.running = document.getElementById("running-trial");
    this.runningBefore = this.running.textContent;
    this.with = document.getElementById("with");
    this.bar = this.make("aside", "bar");
    this.bar.setAttribute("aria-label", "Trial");
    this.bar.hidden = true;
    this.list = this.make("ul", "trials");
    this.standing = this.make("p", "now");
    this.standing.setAttribute("role", "status");
    this.way = this.make("p", "way");
    this.command = this.make("code");
    const keep = this.make("p", "keep", "The same by the program: ");
    keep.append(this.command);
    const back = this.make("button", "", "Back to the readings");
    back.type = "button";
    back.addEventListener("click", () => {
      trials.takeAllBack();
      changed();
    });
    const title = this.make("p", "word", "TRIAL");
    this.bar.append(title, this.list, this.standing, this.way, keep, back);
    document.body.append(this.bar);
  }

  /**
   * @param {object} answer
   * @param {object | null} judged
   * @param {{word: string, text: string} | null} headline
   */
  show(answer, judged, headline) {
    this.bar.hidden = false;
    this.trial.hidden = false;
    const names = [...this.trials.changed.keys()].map((input) => this.trials.inputs[input].set);
    setText(this.running, `${this.runningBefore === "" ? "TRIAL" : this.runningBefore} ${names.join(", ")}`);
    const settings = this.trials.settings();
    // What was tried already when the page was made stays tried.
    const kept = this.island.set.filter((setting) => !names.includes(setting.split("=", 1)[0].trim()));
    const words = [...kept, ...settings].map((setting) => `--set ${inQuotes(setting)}`);
    setText(this.command, `crankline ${this.island.command} ${words.join(" ")}`);
    const shown = [...this.trials.changed].map(([input, { text }]) => this.change(input, text));
    this.list.replaceChildren(...shown);
    this.with.replaceChildren(...settings.map((setting) => this.withLine(setting)));
    if (headline !== null) setText(this.standing, `${headline.word}: ${headline.text}`);
    setText(this.way, this.wayWords(answer, judged));
    this.bar.classList.toggle("needs-run", this.way.textContent !== "");
  }

  change(input, text) {
    const { set } = this.trials.inputs[input];
    const item = this.make("li", "", `${set} = ${text} `);
    const back = this.make("button", "quiet", "back");
    back.type = "button";
    back.setAttribute("aria-label", `${set}: back to the reading`);
    back.addEventListener("click", () => {
      this.trials.takeBack(input);
      this.changed();
    });
    item.append(back);
    return item;
  }

  withLine(setting) {
    const line = this.make("p", "with");
    line.append(this.make("b", "", "With"), ` ${setting.replace("=", " = ")}`);
    return line;
  }

  /** What the page cannot say for itself. */
  wayWords({ vouched }, judged) {
    const { runs, inJob } = this.island;
    const words = [];
    if (vouched.refusal !== null) {
      words.push(`The script ${vouched.surelyRefused ? "refuses" : "may refuse"} to go on with this. What is blank takes a run.`);
    } else if (!vouched.isWhole()) {
      const names = vouched.elsewhere().map((run) => runs[run].name);
      const which = inJob ? ` in ${names.join(", ")}` : "";
      words.push(`This change takes another way through the script${which}. What is blank takes a run.`);
    }
    if (judged !== null && judged.refused > 0) {
      words.push(`${judged.refused} of ${judged.samples} samples within the ± cannot be calculated.`);
    }
    if (judged !== null && vouched.isWhole() && judged.checks.some(({ verdict }) => verdict === null)) {
      words.push("Some samples within the ± take another way through the script: a verdict that hangs on them takes a run.");
    }
    return words.join(" ");
  }

  hide() {
    this.bar.hidden = true;
    this.trial.hidden = this.trialBefore;
    setText(this.running, this.runningBefore);
    this.with.replaceChildren();
    setText(this.standing, "");
  }

  make(tag, className = "", text = undefined) {
    const element = this.document.createElement(tag);
    if (className !== "") element.className = className;
    if (text !== undefined) element.textContent = text;
    return element;
  }
}
