/**
 * What may be shown of a run on other inputs: a number is shown only where the script would certainly have come to it.
 *
 * A script is recorded once, along the way that it went. Where a comparison comes out otherwise, its run goes another way
 * from there on, which only the script itself can say; the rest of that run is not vouched for, nor is what is linked to it.
 * Where the script refuses, nothing after it is.
 */

/**
 * Where on the tape something was reached: how many of its lines, and how many of its guards, stood before it.
 *
 * @typedef {[number, number]} Position
 */

/** Who vouches: the runs of a study, as `engine/src/study/portable` writes them. */
export class Vouching {
  /** @param {{runs: object[]}} json */
  constructor(json) {
    this.runs = json.runs;
  }

  /**
   * What is vouched for where a run of the tape came to these stops.
   *
   * @param {Stop[]} stops
   * @param {Float64Array|null} values by place; with them, what links bring is held to the range that its input may have
   * @returns {Vouched}
   */
  of(stops, values) {
    const vouched = new Vouched(this.runs);
    for (const stop of stops) {
      if (stop.kind === "guard") {
        vouched.leave(stop);
      }
    }
    vouched.followLinks();
    for (const stop of stops) {
      if (stop.kind !== "guard") {
        vouched.refuse(stop.node + 1, 0, stop);
        vouched.surelyRefused ||= vouched.comesTo(stop.node);
      }
    }
    if (values !== null) {
      this.runs.forEach(({ links }, run) => links.forEach((link) => vouched.admit(link, run, values)));
    }
    vouched.followLinks();
    return vouched;
  }
}

/** What is vouched for in one run of the tape. */
export class Vouched {
  constructor(runs) {
    this.runs = runs;
    /** For each run the first guard that came out otherwise, and the line of it. */
    this.guards = new Array(runs.length).fill(Infinity);
    this.lines = new Array(runs.length).fill(Infinity);
    /** For each run the first input that is linked to what is not vouched for. */
    this.links = new Array(runs.length).fill(null);
    /** From this line on nothing is reached, but what earlier runs than this one reached at that line. */
    this.refused = Infinity;
    this.refusing = 0;
    /** Why: the first stop that refuses. */
    this.refusal = null;
    /** Whether the script surely refuses: it comes to where it does. */
    this.surelyRefused = false;
  }

  /** Whether the script certainly comes, in a run, to a position. */
  reaches(run, [line, guard]) {
    const link = this.links[run];
    const linked = link !== null && line >= link[0] && guard >= link[1];
    const before = line < this.refused || (line === this.refused && run < this.refusing);
    return before && guard <= this.guards[run] && !linked;
  }

  /** Whether everything is as it was recorded. */
  isWhole() {
    return this.refused === Infinity && this.guards.every((guard) => guard === Infinity);
  }

  /** Runs that go another way than the recorded one, or rest on such a run. */
  elsewhere() {
    const numbers = this.runs.map((_, run) => run);
    return numbers.filter((run) => this.guards[run] < Infinity || this.links[run] !== null);
  }

  leave({ guards, node }) {
    for (const guard of guards) {
      const run = this.runs.findIndex(({ guards: [first, end] }) => guard >= first && guard < end);
      if (run >= 0 && guard < this.guards[run]) {
        this.guards[run] = guard;
        this.lines[run] = Math.min(this.lines[run], node);
      }
    }
  }

  refuse(line, run, why) {
    if (line < this.refused || (line === this.refused && run < this.refusing)) {
      this.refused = line;
      this.refusing = run;
      this.refusal = why;
    }
  }

  /** Whether the script certainly comes to an operation. */
  comesTo(line) {
    const run = this.runs.findIndex(({ lines: [first, end] }) => line >= first && line < end);
    const link = run < 0 ? null : this.links[run];
    return run < 0 || (this.lines[run] > line && (link === null || link[0] > line));
  }

  /** Refuses what a link brings where it lies outside of what may be entered. */
  admit({ at, low, high, places }, run, values) {
    const outside = places?.some((place) => !(values[place] >= low && values[place] <= high));
    if (outside && this.reaches(run, at)) {
      this.refuse(at[0], run, { kind: "range", node: at[0], places });
      this.surelyRefused = true;
    }
  }

  followLinks() {
    this.runs.forEach(({ links }, run) => {
      for (const { at, from, source } of links) {
        const sooner = this.links[run] === null || at[0] < this.links[run][0];
        if (sooner && !this.reaches(from, source)) {
          this.links[run] = at;
        }
      }
    });
  }
}
