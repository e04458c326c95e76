// What the page says after an input is moved against what the engine says.

import { Study } from "../../engine/src/report/page/script/study.js";
import { Tape } from "../../engine/src/report/page/script/tape.js";
import { cases, fail, finish, measure, numbers, same } from "./common.mjs";

/** What a page gave, against what the engine says of the same inputs. */
function compare(place, study, watched, said, result, counts) {
  const { answer, intervals, checks } = result;
  const { vouched } = answer;
  if (said.refused) {
    if (vouched.isWhole()) {
      fail(`${place}: the engine refuses these inputs, the page knows nothing of it`);
    }
    return;
  }
  if (vouched.surelyRefused && vouched.refusal.kind !== "range") {
    fail(`${place}: the page says that the script refuses: ${JSON.stringify(vouched.refusal)}`);
  }
  said.numbers.forEach((number, at) => {
    const index = watched[at];
    if (index === null) {
      return;
    }
    const [of, , run, line, guard] = study.json.watched[index];
    counts.numbers++;
    if (!vouched.reaches(run, [line, guard])) {
      return;
    }
    counts.vouched++;
    const found = answer.values[of];
    if (number === null || !same(found, numbers(number[0])[0])) {
      fail(`${place}, number ${at}: ${found}, the engine has ${number && numbers(number[0])[0]}`);
      return;
    }
    const interval = intervals[index];
    if (interval === undefined) {
      return;
    }
    counts.intervals++;
    const expected = number[1] === null ? null : [...numbers(number[1])];
    const given = interval === null ? null : [interval.low, interval.median, interval.high];
    if (JSON.stringify(given) !== JSON.stringify(expected)) {
      fail(`${place}, number ${at}: from ${given}, the engine has ${expected}`);
    }
  });
  said.checks.forEach((check, at) => {
    const found = checks[at];
    counts.checks++;
    if (found.verdict === null) {
      return;
    }
    counts.verdicts++;
    if (check === null || check.verdict !== found.verdict) {
      fail(`${place}, check ${at}: ${found.verdict} (${found.chances}), the engine has ${JSON.stringify(check)}`);
    }
    if (found.chance !== null && check !== null && found.chance !== check.chance) {
      fail(`${place}, check ${at}: chance ${found.chance}, the engine has ${check.chance}`);
    }
    const margin = check === null || check.margin === null ? null : numbers(check.margin)[0];
    if (found.margin !== null && !same(found.margin, margin)) {
      fail(`${place}, check ${at}: margin ${found.margin}, the engine has ${margin}`);
    }
  });
}

/** What has to be shown, where the case says so: neither more nor less. */
function expectShown(place, study, watched, said, { answer, checks }) {
  if (said.shown !== undefined) {
    const shown = watched.map((index) => {
      const [, , run, line, guard] = study.json.watched[index];
      return answer.vouched.reaches(run, [line, guard]);
    });
    if (JSON.stringify(shown) !== JSON.stringify(said.shown)) {
      fail(`${place}: shows ${shown}, not ${said.shown}`);
    }
  }
  const verdicts = checks.map((check) => check.verdict);
  if (said.verdicts !== undefined && JSON.stringify(verdicts) !== JSON.stringify(said.verdicts)) {
    fail(`${place}: gives ${verdicts}, not ${said.verdicts}`);
  }
}

for (const { name, tape: tapeJson, study: studyJson, watched, settings } of cases) {
  const tape = new Tape(tapeJson);
  const study = new Study(studyJson, tape);
  const counts = { numbers: 0, vouched: 0, intervals: 0, checks: 0, verdicts: 0, left: [] };
  let judging = 0;
  let answering = 0;
  for (const [number, said] of settings.entries()) {
    const inputs = numbers(said.inputs);
    const options = said.options ?? {};
    const started = performance.now();
    study.answer(inputs, options.tried && new Set(options.tried));
    const between = performance.now();
    const result = study.judge(inputs, options);
    answering = between - started;
    judging = performance.now() - between;
    counts.left.push(result.left + result.refused);
    compare(`${name}, setting ${number}`, study, watched, said, result, counts);
    expectShown(`${name}, setting ${number}`, study, watched, said, result);
    const later = await study.judgeLater(inputs, options);
    if (JSON.stringify(later.checks) !== JSON.stringify(result.checks)) {
      fail(`${name}, setting ${number}: in small parts the checks come out otherwise`);
    }
    const ended = await study.judgeLater(inputs, options, AbortSignal.abort());
    if (ended !== null) {
      fail(`${name}: what was ended gives something`);
    }
  }
  const bytes = [JSON.stringify(tapeJson).length, JSON.stringify(studyJson).length];
  measure(name, { ...counts, answering, judging, bytes });
}
finish();
