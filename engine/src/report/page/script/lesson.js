/**
 * The lesson on a class screen: one line at a time, its words, letters, numbers and answer revealed one after the other.
 * Without this every line stands on the page.
 */

/** The keys that show what comes next, and those that go back. */
const FORWARD_KEYS = Object.freeze([" ", "ArrowRight", "PageDown", "Enter"]);
const BACKWARD_KEYS = Object.freeze(["ArrowLeft", "PageUp", "Backspace"]);

/** Starts the lesson of a document. */
export function startLesson(document) {
  const cards = Array.from(document.querySelectorAll(".card"));
  if (cards.length === 0) return;
  const lesson = new LessonWalk(document, cards);
  document.documentElement.classList.add("js");
  document.addEventListener("keydown", (event) => lesson.key(event));
  document.querySelector("#next").addEventListener("click", () => lesson.forward());
  document.querySelector("#back").addEventListener("click", () => lesson.backward());
  document.querySelector("#slip").addEventListener("click", () => lesson.wrongWay());
  document.addEventListener("click", (event) => {
    const link = event.target.closest("a[href^='#line-']");
    const card = link && document.querySelector(link.getAttribute("href"));
    if (!card) return;
    event.preventDefault();
    lesson.goTo(cards.indexOf(card), Infinity);
  });
  const named = cards.findIndex((card) => `#${card.id}` === document.location.hash);
  lesson.goTo(Math.max(named, 0), 0);
}

/** Where the class is: which card, and how many of its parts are shown. */
export class LessonWalk {
  constructor(document, cards) {
    this.document = document;
    this.cards = cards;
    this.card = 0;
    this.shown = 1;
    this.picked = -1;
  }

  parts() {
    return Array.from(this.cards[this.card].querySelectorAll(".part"));
  }

  /** The next part; after the last one the next line. */
  forward() {
    const parts = this.parts();
    if (this.shown < parts.length) {
      this.shown += 1;
      this.show();
      this.say(parts[this.shown - 1]);
      parts[this.shown - 1].scrollIntoView({ block: "nearest" });
    } else if (this.card + 1 < this.cards.length) {
      this.goTo(this.card + 1, 1);
    }
  }

  backward() {
    if (this.shown > 1) {
      this.shown -= 1;
      this.show();
      this.say(this.parts()[this.shown - 1]);
    } else if (this.card > 0) {
      this.goTo(this.card - 1, Infinity);
    }
  }

  /** A card with so many of its parts. */
  goTo(card, shown) {
    this.card = card;
    this.shown = Math.max(1, Math.min(shown, this.parts().length));
    this.picked = -1;
    this.show();
    this.document.defaultView?.scrollTo(0, 0);
    this.say(this.parts()[this.shown - 1] ?? this.cards[card]);
  }

  /** The wrong ways of this line, one after the other, then none. */
  wrongWay() {
    const ways = this.wrongWays();
    if (ways.length === 0) return;
    this.picked = this.picked + 1 < ways.length ? this.picked + 1 : -1;
    this.show();
    if (this.picked < 0) return;
    this.say(ways[this.picked]);
    ways[this.picked].scrollIntoView({ block: "nearest" });
  }

  wrongWays() {
    return Array.from(this.cards[this.card].querySelectorAll(".wrong > li"));
  }

  show() {
    this.cards.forEach((card, number) => card.classList.toggle("now", number === this.card));
    this.parts().forEach((part, number) => {
      part.classList.toggle("later", number >= this.shown);
      // What is not shown yet is not read out either.
      part.toggleAttribute("inert", number >= this.shown);
    });
    const ways = this.wrongWays();
    this.cards[this.card].querySelector(".wrong")?.classList.toggle("open", this.picked >= 0);
    ways.forEach((way, number) => way.classList.toggle("picked", number === this.picked));
    this.steer(ways.length);
  }

  steer(ways) {
    const all = this.cards.filter((card) => card.dataset.line).length;
    const line = Number(this.cards[this.card].dataset.line ?? 0);
    const id = (name) => this.document.querySelector(name);
    const end = this.card + 1 === this.cards.length && this.shown >= this.parts().length;
    const start = this.card === 0 && this.shown <= 1;
    id("#place").textContent = line > 0 ? `line ${line} of ${all}` : this.card === 0 ? `${all} lines` : "the end";
    id("#next").disabled = end;
    id("#back").disabled = start;
    id("#slip").disabled = ways === 0;
    id("#slip").textContent = this.picked < 0 ? "Wrong way" : `Wrong way ${this.picked + 1} of ${ways}`;
    const behind = line > 0 ? line : this.card === 0 ? 0 : all;
    this.document.querySelectorAll(".scale i").forEach((tick, number) => tick.classList.toggle("behind", number < behind));
    try {
      this.document.defaultView?.history.replaceState(null, "", `#${this.cards[this.card].id}`);
    } catch {
      // A page shown without an address of its own has none to change.
    }
  }

  /** Tells a screen reader what has just been shown. */
  say(part) {
    const words = Array.from(part.querySelectorAll("[role=math]")).reduce(
      (text, formula) => text.replace(formula.textContent, ` ${formula.getAttribute("aria-label")} `),
      part.textContent,
    );
    this.document.querySelector("#told").textContent = words.replace(/\s+/gu, " ").trim();
  }

  key(event) {
    if (event.ctrlKey || event.altKey || event.metaKey || event.target.closest("input, select, textarea")) return;
    // A button or a link that has the focus takes its own key.
    if ([" ", "Enter"].includes(event.key) && event.target.closest("button, a, summary")) return;
    const done = this.move(event.key);
    if (done) event.preventDefault();
  }

  move(key) {
    if (FORWARD_KEYS.includes(key)) this.forward();
    else if (BACKWARD_KEYS.includes(key)) this.backward();
    else if (key === "Home") this.goTo(0, 1);
    else if (key === "End") this.goTo(this.cards.length - 1, Infinity);
    else if (key === "w" || key === "W") this.wrongWay();
    else return false;
    return true;
  }
}
