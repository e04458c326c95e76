/**
 * What the ± of the readings does, after a reader moves an input: intervals, chances and verdicts on the samples that the
 * engine draws itself.
 *
 * A moved input keeps its ±, as a value that is tried in the place of another does in the engine. A sample that takes the
 * script another way cannot be calculated here. It is counted once as if the checks of that run held and once as if they did
 * not: where both come to the same verdict, it stands; elsewhere the script has to be run. Each run is a script of its own:
 * one that goes another way says nothing of those that do not rest on it.
 */

import { floorTurns, intervalOf } from "./study_interval.js";
import { BandGathering } from "./study_bands.js";
import { Draws, spreads } from "./study_draw.js";
import { onExample, testHolds, testMargin, verdictOfChance } from "./study_verdict.js";
import { Vouching } from "./vouch.js";

/** Milliseconds of work between two looks at what else there is to do. */
const SLICE = 12;

/** A study, as `engine/src/study/portable` writes it, on its tape. */
export class Study {
  /**
   * @param {object} json
   * @param {Tape} tape
   */
  constructor(json, tape) {
    this.json = json;
    this.tape = tape;
    this.vouching = new Vouching(json);
    this.draws = new Draws(json);
    this.ready = { key: null, lanes: null };
  }

  /**
   * The nominal numbers, at once.
   *
   * @param {ArrayLike<number>} inputs in SI units, in the order of the tape's inputs
   * @returns {{inputs: Float64Array, tried: Set<number>, values: Float64Array, stops: Stop[], vouched: Vouched}}
   */
  answer(inputs, tried = this.tried(inputs)) {
    const all = Float64Array.from(inputs);
    for (const [first, ...others] of this.json.joined) {
      if (tried.has(first)) {
        others.forEach((other) => {
          all[other] = all[first];
          tried.add(other);
        });
      }
    }
    const { values, stops } = this.tape.run(all);
    return { inputs: all, tried, values, stops, vouched: this.vouching.of(stops, values) };
  }

  /** The inputs that differ from those of the report. */
  tried(inputs) {
    const numbers = this.json.nominal.map((_, input) => input);
    return new Set(numbers.filter((input) => !Object.is(Number(inputs[input]), this.json.nominal[input])));
  }

  /**
   * Judges the checks with these inputs.
   *
   * `intervals` are aligned with the watched numbers: `{low, median, high}`, null where a number does not move, or
   * undefined where that takes the script. `checks` are aligned with the checks: `verdict` (null: the script has to be run),
   * `chance` (null: between `chances`), `margin` in SI units (null: none, or not known). `bands` are aligned with the curves
   * asked for: their ends at each place, null of one without.
   *
   * @param {ArrayLike<number>} inputs
   * @param {{spreads?: Map<number, Spread|null>, tried?: Set<number>, curves?: StudyCurve[]}} options another ± for some
   *   inputs; lines of charts whose bands are wanted
   */
  judge(inputs, options = {}) {
    const work = this.work(inputs, options);
    for (;;) {
      const { done, value } = work.next();
      if (done) {
        return value;
      }
    }
  }

  /**
   * The same in small parts, so that the page stays awake.
   *
   * @param {AbortSignal} [signal] ends it
   * @returns {Promise<object|null>} null where it was ended
   */
  async judgeLater(inputs, options = {}, signal = undefined) {
    const work = this.work(inputs, options);
    let since = performance.now();
    for (;;) {
      if (signal?.aborted) {
        return null;
      }
      const { done, value } = work.next();
      if (done) {
        return value;
      }
      if (performance.now() - since > SLICE) {
        await new Promise((resolve) => setTimeout(resolve));
        since = performance.now();
      }
    }
  }

  *work(inputs, options) {
    const answer = this.answer(inputs, options.tried === undefined ? this.tried(inputs) : new Set(options.tried));
    const readings = this.readings(answer.tried, options.spreads ?? new Map());
    const curves = options.curves ?? [];
    const gathering = new Gathering(this.json, answer, this.bandsOf(curves, answer));
    if (readings.length > 0 && this.draws.count > 0 && answer.vouched.refusal === null) {
      yield* this.sample(readings, answer, gathering, curves);
    }
    return { answer, samples: gathering.count, ...gathering.judged() };
  }

  /** Readings with a ±, each once: one of those that are joined moves for all of them. */
  readings(tried, others) {
    const spreadOf = new Map(this.json.readings.map(({ input, ...spread }) => [input, spread]));
    others.forEach((spread, input) => spreadOf.set(input, spread));
    for (const [first, ...rest] of this.json.joined) {
      if (tried.has(first)) {
        rest.forEach((input) => spreadOf.delete(input));
      }
    }
    const found = [...spreadOf].filter(([, spread]) => spreads(spread)).map(([input, spread]) => ({ input, spread }));
    return found.sort((a, b) => a.input - b.input);
  }

  bandsOf(curves, answer) {
    return curves.map((curve) => new BandGathering(curve, answer, this.draws.count));
  }

  *sample(readings, answer, gathering, curves) {
    const drawn = this.draws.of(readings, answer.inputs);
    for (const [first, ...rest] of this.json.joined) {
      if (answer.tried.has(first) && drawn.has(first)) {
        rest.forEach((input) => drawn.set(input, drawn.get(first)));
      }
    }
    yield;
    const lanes = this.lanes([...drawn.keys()].sort((a, b) => a - b), curves);
    lanes.prepare(answer.values);
    const still = answer.stops.filter((stop) => !lanes.does(stop.asked ?? stop.node));
    yield;
    for (let first = 0; first < this.draws.count; first += lanes.width) {
      const count = Math.min(lanes.width, this.draws.count - first);
      drawn.forEach((values, input) => lanes.row(input).set(values.subarray(first, first + count)));
      yield* lanes.slowly(count);
      const stops = this.tape.stopsOf(lanes.events, count);
      const vouched = stops.map((own) => (own.length + still.length === 0 ? null : this.vouching.of([...still, ...own], null)));
      gathering.take(lanes, vouched);
      yield;
    }
  }

  lanes(moving, curves) {
    const drawn = curves.flatMap(({ xs, ys }) => [...xs, ...ys]).filter((one) => typeof one !== "number");
    const key = `${moving.join()} ${drawn.join()}`;
    if (this.ready.key !== key) {
      const watched = this.json.watched.map(([place]) => place);
      const sides = this.json.checks.flatMap(({ test }) => test.sides ?? []).filter((side) => side.place !== undefined);
      const wanted = [...new Set([...watched, ...sides.map((side) => side.place), ...drawn.map(([place]) => place)])];
      this.ready = { key, lanes: this.tape.lanes(moving, wanted) };
    }
    return this.ready.lanes;
  }
}

/** Gathers what samples give. */
class Gathering {
  constructor(json, answer, bands) {
    this.json = json;
    this.answer = answer;
    this.bands = bands;
    this.count = 0;
    this.refused = 0;
    /** Samples in which a run goes another way, and for each run how many. */
    this.left = 0;
    this.elsewhere = new Array(json.runs.length).fill(0);
    this.watched = json.watched.map(([place, isAngle, run, line, guard]) => ({
      place,
      run,
      at: [line, guard],
      centre: isAngle === 1 ? answer.values[place] : null,
      samples: [],
      known: answer.vouched.reaches(run, [line, guard]),
    }));
    this.checks = json.checks.map(({ run, at, test }) => ({
      run,
      at,
      test,
      known: answer.vouched.reaches(run, at) && answer.vouched.refusal === null,
      /** Samples in which it fails for sure, and in which it may. */
      failing: 0,
      perhaps: 0,
    }));
  }

  /** Takes a block of samples; `vouched` has for each lane what is vouched for, null for all. */
  take(lanes, vouched) {
    this.count += vouched.length;
    const counted = vouched.map((found) => found === null || !found.surelyRefused);
    this.refused += counted.filter((is) => !is).length;
    vouched.forEach((found, lane) => {
      if (found !== null && counted[lane]) {
        this.left++;
        found.elsewhere().forEach((run) => this.elsewhere[run]++);
      }
    });
    for (const watched of this.watched) {
      if (watched.known && lanes.moves(watched.place)) {
        takeWatched(watched, lanes.row(watched.place), vouched, counted);
      }
    }
    for (const check of this.checks) {
      if (check.known) {
        this.takeCheck(check, lanes, vouched, counted);
      }
    }
    this.bands.forEach((band) => band.take((place) => lanes.row(place), vouched, counted));
  }

  takeCheck(check, lanes, vouched, counted) {
    const rows = (check.test.sides ?? []).map((side) => (side.place !== undefined ? lanes.row(side.place) : side.value));
    let lane = 0;
    const side = (number) => (typeof rows[number] === "number" ? rows[number] : rows[number][lane]);
    for (; lane < vouched.length; lane++) {
      const found = vouched[lane];
      if (!counted[lane]) {
        check.failing++;
      } else if (found === null) {
        check.failing += testHolds(check.test, side) ? 0 : 1;
      } else if (found.reaches(check.run, check.at)) {
        check.failing += testHolds(check.test, side) ? 0 : 1;
      } else {
        check.perhaps++;
      }
    }
  }

  judged() {
    const intervals = this.watched.map((watched) => (watched.known ? intervalOf(watched.samples) : undefined));
    const bands = this.bands.map((band) => band.ends());
    return { refused: this.refused, left: this.left, intervals, bands, checks: this.verdicts() };
  }

  verdicts() {
    const { runs } = this.json;
    const untrusted = new Array(runs.length).fill(false);
    // A requirement of another way may fail where nearly all samples go it.
    const mayBeUntrusted = this.elsewhere.map((left) => left > 0 && left + this.refused >= 0.975 * this.count);
    return this.checks.map((check, number) => {
      const { kind, examples } = this.json.checks[number];
      const { run } = check;
      // Links point to earlier runs only.
      for (let later = 0; later <= run; later++) {
        untrusted[later] = untrusted[later] || runs[later].takes.some((earlier) => untrusted[earlier]);
        mayBeUntrusted[later] = mayBeUntrusted[later] || runs[later].takes.some((earlier) => mayBeUntrusted[earlier]);
      }
      const [low, high] = this.chances(check);
      const measured = examples.every((inputs) => inputs.some((input) => this.answer.tried.has(input)));
      const settle = (chance) => {
        const verdict = verdictOfChance(chance);
        return untrusted[run] ? "untrusted" : measured ? verdict : onExample(verdict);
      };
      const alike = settle(low) === settle(high) && (untrusted[run] || !mayBeUntrusted[run]);
      const verdict = (check.known || untrusted[run]) && alike ? settle(low) : null;
      if (kind === "require") {
        untrusted[run] = untrusted[run] || (check.known && settle(high) === "fails");
        mayBeUntrusted[run] = mayBeUntrusted[run] || !check.known || settle(low) === "fails";
      }
      const chance = check.known && low === high ? low : null;
      return { verdict, chance, chances: [low, high], margin: this.margin(check) };
    });
  }

  /** The least and the largest chance that a check holds. */
  chances(check) {
    if (!check.known) {
      return [0, 1];
    }
    if (this.count === 0) {
      const holds = testHolds(check.test, this.nominal(check)) ? 1 : 0;
      return [holds, holds];
    }
    const chance = (failing) => (this.count - failing) / this.count;
    return [chance(check.failing + check.perhaps), chance(check.failing)];
  }

  margin(check) {
    return check.known ? testMargin(check.test, this.nominal(check)) : null;
  }

  nominal(check) {
    return (number) => {
      const side = check.test.sides[number];
      return side.place !== undefined ? this.answer.values[side.place] : side.value;
    };
  }
}

/** Takes a block of a watched number's samples; one that is not vouched for ends its interval. */
function takeWatched(watched, row, vouched, counted) {
  for (let lane = 0; lane < vouched.length; lane++) {
    if (!counted[lane]) {
      continue;
    }
    if (vouched[lane] !== null && !vouched[lane].reaches(watched.run, watched.at)) {
      watched.known = false;
      return;
    }
    const value = row[lane];
    watched.samples.push(watched.centre === null ? value : floorTurns(value, watched.centre));
  }
}
