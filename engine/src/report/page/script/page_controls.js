/** Where a reader moves an input: a box that reads any unit, and a slider with the reading's ± marked. */

import { writeEntered, writeTo } from "./write.js";
import { marked } from "./page_numbers.js";

/** Places of a slider. */
const SLIDER_STEPS = 1000;

/** How far a slider goes to each side: a quarter of the value, or four times its ±. */
const SLIDER_REACH = 0.25;
const SLIDER_WIDTHS = 4;
/** Where there is nothing to take a quarter of: ten millimetres, five degrees, twenty kelvin; else one of its SI unit. */
const SLIDERS_OF_NOTHING = Object.freeze({ "12,0,0,0,0,0": 0.01, "0,0,0,0,0,12": Math.PI / 36, "0,0,0,0,12,0": 20 });

/** From where to where the slider of a reading goes, in SI: over what may be entered, else about its value. */
function sliderRange({ spec, range, half }, reading) {
  if (range !== undefined) return [range.low, range.high];
  const kind = spec.dimension.join();
  const ofNothing = SLIDERS_OF_NOTHING[kind] ?? 1;
  // A quarter of what stands over absolute zero is far.
  const share = kind === "0,0,0,0,12,0" ? ofNothing : SLIDER_REACH * Math.abs(reading);
  const width = Math.max(share, SLIDER_WIDTHS * half) || ofNothing;
  return [reading - width, reading + width];
}

/** The controls of a page: each number that may be moved becomes a button, which opens its control. */
export class PageControls {
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
    this.open = new Map();
    this.made = 0;
    for (const [number, node] of marked(document, "data-i")) this.makeButton(node, ...island.readings[number]);
    for (const node of document.querySelectorAll("[data-f]")) this.makeFixed(node);
  }

  makeButton(node, input) {
    node.dataset.set = this.trials.inputs[this.trials.leading(input)].set;
    node.setAttribute("role", "button");
    node.tabIndex = 0;
    node.setAttribute("aria-expanded", "false");
    this.made += 1;
    nameByLabel(node, this.made);
    const toggle = () => this.toggle(node, input);
    node.addEventListener("click", toggle);
    node.addEventListener("keydown", (event) => {
      if (event.key !== "Enter" && event.key !== " ") return;
      event.preventDefault();
      toggle();
    });
  }

  /** A choice is part of the way through the script: it takes a run. */
  makeFixed(node) {
    const button = this.make("button", { type: "button", className: "quiet" }, "change");
    button.setAttribute("aria-label", `change ${node.dataset.f}`);
    button.setAttribute("aria-expanded", "false");
    const setting = `${node.dataset.f}=VALUE`;
    const words = this.make("p", { hidden: true }, "A choice is part of the way through the script. Run it again: ");
    words.append(this.make("code", {}, `crankline ${this.island.command} --set ${inQuotes(setting)}`));
    button.addEventListener("click", () => {
      words.hidden = !words.hidden;
      button.setAttribute("aria-expanded", String(!words.hidden));
    });
    node.append(" ", button, words);
  }

  toggle(node, input) {
    const open = this.open.get(node);
    if (open !== undefined) return this.close(node, open);
    const control = new InputControl(this, node, input);
    this.open.set(node, control);
    node.setAttribute("aria-expanded", "true");
    (node.closest(".in > div") ?? node.parentElement).append(control.element);
    control.box.focus();
    control.box.select();
    return undefined;
  }

  close(node, control) {
    control.element.remove();
    this.open.delete(node);
    node.setAttribute("aria-expanded", "false");
    node.focus();
  }

  /** Every open control as its input is now. */
  refresh() {
    for (const control of this.open.values()) control.refresh();
  }

  make(tag, properties, text) {
    const element = Object.assign(this.document.createElement(tag), properties);
    if (text !== undefined) element.textContent = text;
    return element;
  }
}

/** A number by itself says little to whoever is read the page: what it is stands before it. */
function nameByLabel(node, number) {
  const label = node.closest(".in > div")?.querySelector("dt");
  if (!label) return;
  label.id ||= `what-${number}`;
  node.id ||= `value-${number}`;
  node.setAttribute("aria-labelledby", `${label.id} ${node.id}`);
}

/** The control of one input. */
class InputControl {
  constructor(controls, node, input) {
    const { trials } = controls;
    this.controls = controls;
    this.trials = trials;
    this.input = input;
    this.about = trials.inputs[trials.leading(input)];
    this.reading = trials.nominal[trials.leading(input)];
    this.range = sliderRange(this.about, this.reading);
    const name = `move-${input}-${controls.open.size}`;
    this.element = controls.make("dd", { className: "edit" });
    const label = controls.make("label", { htmlFor: name }, `${this.about.set}: `);
    this.box = controls.make("input", { id: name, type: "text", autocomplete: "off", spellcheck: false, enterKeyHint: "done" });
    this.slider = controls.make("input", { type: "range", min: 0, max: SLIDER_STEPS, step: 1 });
    this.slider.setAttribute("aria-label", `${this.about.set}, slider`);
    this.band = controls.make("span", { className: "band" });
    this.wrong = controls.make("p", { className: "wrong" });
    this.wrong.setAttribute("role", "alert");
    this.back = controls.make("button", { type: "button" }, "Back to the reading");
    const done = controls.make("button", { type: "button" }, "Close");
    const track = controls.make("div", { className: "track" });
    track.append(this.band, this.slider, controls.make("span", { className: "ends" }, this.ends()));
    const buttons = controls.make("p", { className: "buttons" });
    buttons.append(this.back, done);
    this.element.append(label, this.box, track, this.wrong, buttons);
    const used = this.usedIn();
    if (used !== "") this.element.append(controls.make("p", { className: "from" }, used));
    this.box.addEventListener("input", () => this.take(false));
    this.box.addEventListener("change", () => this.take(true));
    this.slider.addEventListener("input", () => this.slide());
    this.back.addEventListener("click", () => {
      trials.takeBack(input);
      controls.changed();
    });
    done.addEventListener("click", () => controls.close(node, this));
    this.element.addEventListener("keydown", (event) => {
      if (event.key === "Escape") controls.close(node, this);
    });
    this.refresh();
  }

  ends() {
    const { spec, range } = this.about;
    const width = this.range[1] - this.range[0];
    const [low, high] = this.range.map((si) => writeTo(si, width, si, decimalSpec(spec)));
    return `${low} to ${high}${range === undefined ? "" : ", as far as the script allows"}`;
  }

  usedIn() {
    const joined = this.trials.together(this.input).flatMap((input) => this.trials.inputs[input].runs);
    const names = [...new Set(joined)].sort((a, b) => a - b).map((run) => this.controls.island.runs[run].name);
    return names.length > 1 ? `Used in ${names.join(", ")}: it moves in all of them.` : "";
  }

  /** What stands in the box; while it is being typed it may be wrong without a word. */
  take(finished) {
    const wrong = this.trials.try(this.input, this.box.value);
    this.box.setAttribute("aria-invalid", String(wrong !== null));
    const words = wrong === null ? "" : [wrong.error, wrong.hint].filter((part) => part !== undefined).join("; ");
    if (finished || wrong === null) this.wrong.textContent = words;
    if (wrong === null) {
      this.typing = !finished;
      this.controls.changed();
      this.typing = false;
    }
  }

  /** A slider's value is what is written of it, so that it can be entered again. */
  slide() {
    const { spec } = this.about;
    const [low, high] = this.range;
    const si = low + ((high - low) * Number(this.slider.value)) / SLIDER_STEPS;
    this.box.value = writeTo(si, high - low, si, decimalSpec(spec));
    this.take(true);
  }

  refresh() {
    const { spec } = this.about;
    const { si, half } = this.trials.now(this.input);
    const trial = this.trials.of(this.input);
    if (!this.typing) {
      this.box.value = trial?.text ?? writeEntered(si, decimalSpec(spec));
      this.box.setAttribute("aria-invalid", "false");
      this.wrong.textContent = "";
    }
    const [low, high] = this.range;
    const share = (at) => Math.max(0, Math.min(1, (at - low) / (high - low)));
    this.slider.value = String(Math.round(SLIDER_STEPS * share(si)));
    this.slider.setAttribute("aria-valuetext", this.box.value);
    this.band.style.setProperty("--a", 100 * share(this.reading - half));
    this.band.style.setProperty("--b", 100 * share(this.reading + half));
    this.back.disabled = trial === undefined;
  }
}

/** How a number is written that is to be read again: a nearest fraction is not. */
function decimalSpec(spec) {
  if (spec.style?.denominator === undefined) return spec;
  return { ...spec, style: { unit: { symbol: "in", numerator: 254, divisor: 10000 } } };
}

/** A word as a shell takes it. */
export function inQuotes(word) {
  return `"${word.replace(/["\\$`]/gu, "\\$&")}"`;
}
