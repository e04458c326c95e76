/** The known name that somebody probably meant. */

/** What one slip costs; a slip of case costs a quarter. */
const SLIP_COST = 4;
const CASE_COST = 1;
/** Longer names are not compared. */
const LONGEST_NAME = 64;

/**
 * The candidate nearest to `wanted`, the earlier one where two are equally near; `undefined` where none is near: more
 * than one slip in three letters. A slip is a letter more, less, changed, or two neighbours swapped.
 *
 * @param {string} wanted
 * @param {Iterable<string>} candidates
 * @returns {string | undefined}
 */
export function nearestName(wanted, candidates) {
  const letters = Array.from(wanted);
  if (letters.length === 0 || letters.length > LONGEST_NAME) return undefined;
  const allowed = SLIP_COST * Math.max(Math.floor(letters.length / 3), 1);
  let best;
  for (const candidate of candidates) {
    const cost = slipsBetween(letters, candidate);
    if (cost <= allowed && (best === undefined || cost < best.cost)) best = { cost, candidate };
  }
  // A short name of which nothing is left is no near miss: `x` is not `m`.
  return best !== undefined && best.cost < SLIP_COST * letters.length ? best.candidate : undefined;
}

/** Weighted edit distance with swaps of neighbours (optimal string alignment), row by row. */
function slipsBetween(wanted, candidate) {
  const other = Array.from(candidate).slice(0, LONGEST_NAME);
  let before = [];
  let above = Array.from({ length: other.length + 1 }, (_, column) => column * SLIP_COST);
  wanted.forEach((mine, row) => {
    const current = [(row + 1) * SLIP_COST];
    other.forEach((theirs, column) => {
      let cost = Math.min(
        above[column] + costOfChange(mine, theirs),
        above[column + 1] + SLIP_COST,
        current[column] + SLIP_COST,
      );
      const swapped = row > 0 && column > 0 && wanted[row - 1] === theirs && other[column - 1] === mine;
      if (swapped) cost = Math.min(cost, before[column - 1] + SLIP_COST);
      current.push(cost);
    });
    before = above;
    above = current;
  });
  return above[above.length - 1];
}

function costOfChange(mine, theirs) {
  if (mine === theirs) return 0;
  return mine.toLowerCase() === theirs.toLowerCase() ? CASE_COST : SLIP_COST;
}
