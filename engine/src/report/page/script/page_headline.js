/** The one line that says how it stands, as the reports have it. */

/**
 * @param {Array<{decides: boolean, verdict: string | null}>} checks those that decide about the car as it is; null: it
 *   takes a run to tell
 * @param {{inJob: boolean, own: Array<[number, number[]]>}} island `own`: of a script alone, for each reading whether it is
 *   the script's example, and its inputs
 * @param {Set<number>} tried inputs
 * @returns {{word: string, verdict: string, text: string}}
 */
export function headlineOf(checks, island, tried) {
  const decisive = checks.filter(({ decides }) => decides);
  const preferences = preferenceWords(checks.filter(({ decides }) => !decides));
  if (decisive.length === 0) {
    return { word: "NO CHECK", verdict: "holds", text: `there is no check in it: it calculates, and judges nothing${preferences}` };
  }
  const own = ownWords(island, tried);
  const verdict = worstOf(decisive.map((check) => check.verdict));
  const example = verdict === "holds" && own !== "";
  const word = verdict === "fails" ? "STOP" : verdict !== "holds" ? "NOT YET" : example ? "EXAMPLE" : "HOLDS";
  return { word, verdict: example ? "unmeasured" : verdict, text: `${countWords(decisive, example)}${own}${preferences}` };
}

/** From the worst to the best; what takes a run to tell is unsure. */
const VERDICTS_WORST_FIRST = Object.freeze(["fails", "open", "unsure", "untrusted", "unmeasured", "holds"]);

/** The worst of some verdicts; it holds where there is none. */
export function worstOf(verdicts) {
  const rank = (verdict) => verdictRank(verdict);
  return verdicts.reduce((worst, verdict) => (rank(verdict) < rank(worst) ? (verdict ?? "open") : worst), "holds");
}

/** Where a verdict stands among all, worst first. */
export function verdictRank(verdict) {
  return VERDICTS_WORST_FIRST.indexOf(verdict ?? "open");
}

function countWords(checks, would) {
  const count = (verdict) => checks.filter((check) => check.verdict === verdict).length;
  const named = (verdict, one, several) => {
    const found = count(verdict);
    return found > 0 ? [`${found} ${found === 1 ? one : several}`] : [];
  };
  const bad = [
    ...named("fails", "fails", "fail"),
    ...named(null, "to be run again", "to be run again"),
    ...named("unsure", "unsure", "unsure"),
    ...named("untrusted", "not to be trusted", "not to be trusted"),
    ...named("unmeasured", "rests on an example", "rest on examples"),
  ].join(", ");
  const holding = count("holds");
  if (bad === "") {
    if (would) return holding === 1 ? "the one check would hold" : `${holding} would hold`;
    return holding === 1 ? "the one check holds" : `all ${holding} hold`;
  }
  if (holding === 0) return bad;
  return holding === 1 ? `${bad}; 1 holds` : `${bad}; ${holding} hold`;
}

function preferenceWords(preferences) {
  const count = (verdict) => preferences.filter((check) => check.verdict === verdict).length;
  const words = (found) => (found === 1 ? "1 preference" : `${found} preferences`);
  const [not, perhaps] = [count("fails"), count("unsure")];
  if (not === 0 && perhaps === 0) return "";
  if (perhaps === 0) return `; ${words(not)} not met`;
  return not === 0 ? `; ${words(perhaps)} perhaps met` : `; ${words(not)} not met, ${perhaps} perhaps`;
}

/** Whether a script's own examples stand for readings; in a job each check says so for itself. */
function ownWords({ inJob, own }, tried) {
  if (inJob) return "";
  const examples = own.filter(([isExample, inputs]) => isExample === 1 && !inputs.some((input) => tried.has(input))).length;
  if (examples === 0) return "";
  return examples === own.length ? ", on the script's own numbers" : `, ${examples} of ${own.length} numbers being the script's own`;
}
