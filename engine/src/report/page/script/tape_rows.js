/**
 * Which operations of a program move with some of its leaves, and a row of lanes for each of their numbers, used again
 * after its last reader.
 *
 * `code` is, operation after operation: its number; where its result's row starts; where its arguments' rows start. A
 * norm has the number of arguments before them; a larger operation that and the number of its results, whose rows follow
 * one another. A comparison has its relation in place of a result.
 */

import { argumentCount, argumentsAfter, resultCount } from "./tape_program.js";

/** Rows of `width` numbers for the part of a program that moves with these leaves; wanted places keep theirs. */
export class Rows {
  constructor(program, leaves, wanted, width) {
    this.width = width;
    this.leaves = leaves;
    this.moves = new Uint8Array(program.places);
    /** Where the row of a place starts. */
    this.of = new Map();
    this.count = 0;
    this.free = [];
    /** Places that do not move, but are read or wanted. */
    this.fixed = [];
    /** For each operation: which of the program's it is, where it stands in its code, which comparison it is. */
    this.nodes = [];
    this.sources = [];
    this.comparisons = [];
    this.outs = [];
    leaves.forEach((leaf) => {
      this.moves[leaf] = 1;
      this.of.set(leaf, this.newRows(1));
    });
    this.find(program);
    const last = this.lastReaders(program);
    wanted.forEach((place) => {
      last[place] = Infinity;
    });
    this.code = Int32Array.from(this.write(program, last));
    wanted.filter((place) => this.moves[place] === 0).forEach((place) => this.fixedRow(place));
  }

  /** The operations that move. */
  find(program) {
    const { code, parts } = program;
    let out = program.firstResult;
    let comparison = 0;
    for (let at = 0, node = 0; at < code.length; node++) {
      const first = at + argumentsAfter(code[at]);
      const end = first + argumentCount(code, at);
      const results = resultCount(code, at, parts);
      let moves = false;
      for (let i = first; i < end; i++) {
        moves = moves || this.moves[code[i]] === 1;
      }
      if (moves) {
        this.nodes.push(node);
        this.sources.push(at);
        this.comparisons.push(comparison);
        this.outs.push(out);
        this.moves.fill(1, out, out + results);
      }
      comparison += code[at] === 29 ? 1 : 0;
      out += results;
      at = end;
    }
  }

  /** For each place the last operation that reads it. */
  lastReaders(program) {
    const { code } = program;
    const last = new Float64Array(program.places).fill(-1);
    this.sources.forEach((at, step) => {
      const first = at + argumentsAfter(code[at]);
      for (let i = first; i < first + argumentCount(code, at); i++) {
        last[code[i]] = step;
      }
    });
    return last;
  }

  write(program, last) {
    const { code, parts } = program;
    const written = [];
    this.sources.forEach((at, step) => {
      const operation = code[at];
      const first = at + argumentsAfter(operation);
      const places = code.subarray(first, first + argumentCount(code, at));
      const rows = Array.from(places, (place) => (this.moves[place] === 1 ? this.of.get(place) : this.fixedRow(place)));
      if (operation === 29) {
        written.push(operation, code[at + 1], ...rows);
      } else {
        const results = resultCount(code, at, parts);
        const out = this.resultRows(this.outs[step], results, operation > 20);
        written.push(operation, out);
        if (operation === 20) {
          written.push(rows.length);
        } else if (operation > 20) {
          written.push(rows.length, results);
        }
        for (const row of rows) {
          written.push(row);
        }
        if (results === 1 && operation <= 20 && last[this.outs[step]] < 0) {
          this.free.push(out);
        }
      }
      this.release(places, step, last, program.firstResult);
    });
    return written;
  }

  /** Rows for results: those of a larger operation follow one another, and are not used again. */
  resultRows(place, count, apart) {
    const out = !apart && this.free.length > 0 ? this.free.pop() : this.newRows(count);
    for (let i = 0; i < count; i++) {
      this.of.set(place + i, out + i * this.width);
    }
    return out;
  }

  /** Rows that nobody reads any more may be used again. */
  release(places, step, last, firstResult) {
    for (const place of places) {
      if (this.moves[place] === 1 && place >= firstResult && last[place] === step) {
        this.free.push(this.of.get(place));
        last[place] = -2;
      }
    }
  }

  fixedRow(place) {
    if (!this.of.has(place)) {
      this.of.set(place, this.newRows(1));
      this.fixed.push(place);
    }
    return this.of.get(place);
  }

  newRows(count) {
    const first = this.count * this.width;
    this.count += count;
    return first;
  }
}
