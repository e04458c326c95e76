/** The checks of a study, from the one list of whole numbers that `engine/src/report/page/study_checks.rs` writes. */

const CHECK_KINDS = Object.freeze(["check", "prefer", "require"]);
const CHECK_COMPARISONS = Object.freeze(["<", "<=", ">", ">=", "==", "!="]);

/**
 * @param {object} study with `checks: {numbers: number[], code: number[]}`
 * @returns {object} the study as `Study` takes it
 */
export function withChecks(study) {
  const { numbers, code } = study.checks;
  let at = 0;
  const whole = () => code[at++];
  const several = (count, one) => Array.from({ length: count }, one);
  const side = () => {
    const kind = whole();
    if (kind === 0) return { place: whole() };
    return { value: kind === 1 ? numbers[whole()] : null };
  };
  const test = () => {
    const kind = whole();
    if (kind < 2) return { settled: kind === 1 };
    if (kind === 2) return { sides: several(3, side) };
    return { comparison: CHECK_COMPARISONS[kind - 3], sides: several(2, side) };
  };
  const inputs = () => several(whole(), whole);
  const check = () => ({ run: whole(), at: [whole(), whole()], kind: CHECK_KINDS[whole()], test: test(), examples: several(whole(), inputs) });
  const checks = [];
  while (at < code.length) checks.push(check());
  return { ...study, checks };
}
