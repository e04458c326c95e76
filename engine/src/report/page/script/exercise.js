/**
 * Exercise sheets that answer: a pupil types a quantity with its unit and is told that it is right, how far off it is, or
 * which slip it looks like. Nothing leaves the page.
 */

import { readQuantity } from "./read.js";
import { useUnits, widthFromSi } from "./units.js";
import { writeNumber } from "./decimal.js";

/** An answer that comes from a slip is this share of it off at most. */
const SLIP_SHARE = 0.005;

/** Starts the sheets of a document. */
export function startExercises(document) {
  useUnits(JSON.parse(document.querySelector("#units").textContent));
  document.documentElement.classList.add("js");
  const sheets = Array.from(document.querySelectorAll(".sheet"));
  sheets.forEach(startSheet);
  const seat = document.querySelector("#seat");
  const pick = (number) => {
    const found = sheets.find((sheet) => sheet.id === `sheet-${number}`) ?? sheets[0];
    sheets.forEach((sheet) => sheet.classList.toggle("now", sheet === found));
    if (seat) seat.value = found.id.slice("sheet-".length);
    document.defaultView.scrollTo(0, 0);
  };
  seat?.addEventListener("change", () => {
    pick(seat.value);
    document.defaultView.history.replaceState(null, "", `#sheet-${seat.value}`);
  });
  document.defaultView.addEventListener("hashchange", () => pick(document.location.hash.slice("#sheet-".length)));
  pick(document.location.hash.slice("#sheet-".length));
}

/** A sheet's boxes and hints. */
function startSheet(sheet) {
  const expected = JSON.parse(unsealed(sheet.dataset.answers, Number(sheet.dataset.key)));
  const inputs = Array.from(sheet.querySelectorAll("input"));
  inputs.forEach((input, number) => {
    input.addEventListener("change", () => {
      tell(input, judgeAnswer(input.value, expected[number]));
      tellScore(sheet);
    });
  });
  sheet.querySelectorAll(".question").forEach((question) => {
    const first = inputs.indexOf(question.querySelector("input"));
    const hint = question.querySelector(".hint");
    hint.addEventListener("click", () => giveHint(question, hint, expected[first].numbers));
  });
}

/** First the letters, then the numbers. */
function giveHint(question, hint, numbers) {
  const letters = question.querySelector(".letters");
  if (!letters.classList.contains("open")) {
    letters.classList.add("open");
    hint.textContent = "Another hint: the numbers";
    hint.disabled = numbers === null;
    return;
  }
  const place = question.querySelector(".numbers");
  place.textContent = `= ${numbers}`;
  place.hidden = false;
  hint.disabled = true;
}

/**
 * What is to be said of an answer.
 *
 * @param {string} text
 * @param {{si: number, tolerance: number, shown: string, spec: object, style: object, slips: object[]}} expected
 * @returns {{kind: "empty" | "unread" | "right" | "slip" | "off", words: string}}
 */
export function judgeAnswer(text, expected) {
  if (text.trim() === "") return { kind: "empty", words: "" };
  const read = readQuantity(text, { ...expected.spec, name: "answer" });
  if (read.error !== undefined) {
    return { kind: "unread", words: read.hint === undefined ? read.error : `${read.error}; ${read.hint}` };
  }
  const off = read.si - expected.si;
  if (Math.abs(off) <= expected.tolerance) return { kind: "right", words: expected.shown };
  const slip = expected.slips.find(({ si }) => Math.abs(read.si - si) <= Math.max(SLIP_SHARE * Math.abs(si), expected.tolerance / 1000));
  if (slip !== undefined) return { kind: "slip", words: `${offBy(off, expected)}. It looks like this slip: ${slip.words}` };
  return { kind: "off", words: offBy(off, expected) };
}

/** `too large by 0.136 mm` */
function offBy(off, { si, style }) {
  const unit = style.denominator === undefined ? style.unit : { symbol: "in", numerator: 254, divisor: 10000 };
  const width = writeNumber(Math.abs(widthFromSi(unit, off, si)), { significant: 2 });
  const symbol = unit === null ? "" : unit.symbol === "°" ? "°" : ` ${unit.symbol === "°C" ? "K" : unit.symbol}`;
  return `${off > 0 ? "too large" : "too small"} by ${width}${symbol}`;
}

const TOLD_WORDS = Object.freeze({ empty: "", unread: "Not read: ", right: "Right: ", slip: "Wrong: ", off: "Wrong: " });

function tell(input, { kind, words }) {
  const told = input.closest(".box").querySelector(".told");
  const mark = input.ownerDocument.createElement("b");
  mark.textContent = TOLD_WORDS[kind];
  told.replaceChildren(...(kind === "empty" ? [] : [mark, words]));
  told.className = `told ${kind === "right" ? "is-right" : "is-off"}`;
  input.dataset.kind = kind;
}

function tellScore(sheet) {
  const inputs = Array.from(sheet.querySelectorAll("input"));
  const right = inputs.filter((input) => input.dataset.kind === "right").length;
  sheet.querySelector(".score").textContent = `${right} of ${inputs.length} right`;
}

/** What `sealed` of the engine folded. */
export function unsealed(text, key) {
  let state = (key | 1) >>> 0;
  const bytes = Uint8Array.from(atob(text), (letter) => {
    state = (state ^ (state << 13)) >>> 0;
    state = (state ^ (state >>> 17)) >>> 0;
    state = (state ^ (state << 5)) >>> 0;
    return letter.charCodeAt(0) ^ (state & 0xff);
  });
  return new TextDecoder().decode(bytes);
}
