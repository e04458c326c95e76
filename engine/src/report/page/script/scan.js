/** A place in a text that moves forward as words are taken, and why a text could not be read. */

import { firstCharacter, withoutSpaceAfter, withoutSpaceAround, isSpace } from "./characters.js";

/** Why a text is no quantity or unit. Thrown while reading, and caught by `readQuantity`. */
export class ReadFailure extends Error {
  /**
   * @param {[number, number]} at where in the text, as places for `slice`
   * @param {string} message what was found and expected, one lower-case sentence
   * @param {string} [hint] what to write instead
   */
  constructor(at, message, hint) {
    super(message);
    this.at = at;
    this.hint = hint;
  }

  /** The same where the text stands `by` places further on. */
  shifted(by) {
    return new ReadFailure([this.at[0] + by, this.at[1] + by], this.message, this.hint);
  }
}

/** A piece of a text, its place in the whole, and what has been taken of it. */
export class TextScan {
  /**
   * @param {string} rest what is left
   * @param {number} at where in the whole text that starts
   */
  constructor(rest, at) {
    this.rest = rest;
    this.at = at;
  }

  copy() {
    return new TextScan(this.rest, this.at);
  }

  /** Goes on where a copy has come to. */
  goTo(ahead) {
    this.rest = ahead.rest;
    this.at = ahead.at;
  }

  span() {
    return [this.at, this.at + this.rest.length];
  }

  /** Whether nothing but white space is left. */
  isEmpty() {
    return withoutSpaceAround(this.rest) === "";
  }

  peek() {
    return firstCharacter(this.rest);
  }

  /** Takes the next `length` places, or what there is. */
  take(length) {
    const taken = this.rest.slice(0, length);
    this.rest = this.rest.slice(length);
    this.at += taken.length;
    return taken;
  }

  /** Takes characters as long as they are wanted. */
  takeWhile(wanted) {
    let end = 0;
    while (end < this.rest.length) {
      const next = firstCharacter(this.rest.slice(end));
      if (!wanted(next)) break;
      end += next.length;
    }
    return this.take(end);
  }

  /** Takes the next character if it is wanted; "" if not. */
  takeIf(wanted) {
    const next = this.peek();
    return next !== "" && wanted(next) ? this.take(next.length) : "";
  }

  /** The rest without white space at both ends. */
  trimmed() {
    const scan = this.copy();
    scan.takeWhile(isSpace);
    scan.rest = withoutSpaceAfter(scan.rest);
    return scan;
  }

  /** The first `length` places of the rest, as a piece of their own, and what follows them. */
  split(length) {
    const after = this.copy();
    const piece = after.take(length);
    return [new TextScan(piece, this.at), after];
  }
}
