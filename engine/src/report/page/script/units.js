/**
 * Units: what they are called, what they measure, and how a number in one becomes SI and back, to the bit of the engine.
 *
 * A unit is a plain object `{symbol, dimension, numerator, divisor, offset?, slope?, name?, spellings?}`; no unit at all,
 * that of a plain number, is `null`. A dimension is six powers in twelfths, of length, mass, time, current, temperature
 * and angle: `[12, 0, 0, 0, 0, 0]` is a length.
 */

import { wordsOf } from "./characters.js";
import { nearestName } from "./near_miss.js";
import { angleOfSlope, slopeOfAngle } from "./slope.js";

/** The table that the engine sends along; see `useUnits`. */
let unitTable = { written: new Map(), names: new Map(), dimensions: new Map(), unclear: [] };

/**
 * Takes the table of units, once, before anything is read. Nothing here is needed to write.
 *
 * @param {{units: object[], dimensions: [number[], string][], unclear: [string[], string[]][]}} table
 *   as `units_json` of the engine makes it
 */
export function useUnits(table) {
  const written = new Map();
  const names = new Map();
  // A unit of the table adds its offset even where that is 0: -0 is +0 then, as in the engine.
  const units = table.units.map((unit) => ({ offset: 0, ...unit }));
  for (const unit of units) {
    for (const spelling of [unit.name, unit.symbol, ...(unit.spellings ?? [])]) {
      if (!written.has(spelling)) written.set(spelling, unit);
    }
    names.set(unit.name, unit);
  }
  const dimensions = new Map(table.dimensions.map(([dimension, name]) => [dimension.join(), name]));
  unitTable = { written, names, dimensions, unclear: table.unclear };
}

/** The unit of an identifier: `findUnit("lbf_ft")`. */
export function findUnit(name) {
  return unitTable.names.get(name);
}

/** The unit that a person may have written so: identifier, symbol or spelling, with `·`, `*` or a hyphen for a space. */
export function findWrittenUnit(text) {
  return unitTable.written.get(text) ?? unitTable.written.get(wordsOf(text.replace(/[·⋅*-]/gu, " ")).join(" "));
}

/** The known unit nearest to a name that is none. */
export function nearestUnit(name) {
  return findWrittenUnit(name) ?? findUnit(nearestName(name, unitTable.names.keys()));
}

/** The units that somebody may mean by a word which can be read in two ways: a `mil`, a `gallon`. */
export function unitsMeant(name) {
  return unitTable.unclear.find(([words]) => words.includes(name))?.[1] ?? [];
}

/** The name of a dimension that has one: `"length"`. */
export function nameOfKnownDimension(dimension) {
  return unitTable.dimensions.get(dimension.join());
}

/** The dimension of a unit or of none. */
export function dimensionOf(unit) {
  return unit === null ? NO_DIMENSION : unit.dimension;
}

/** Of a plain number. */
export const NO_DIMENSION = Object.freeze([0, 0, 0, 0, 0, 0]);

/** Whether two dimensions are the same. */
export function sameDimension(a, b) {
  return a.every((power, base) => power === b[base]);
}

/** Whether a number in a unit is a point on a scale: 20 °C, not 20 K. */
export function isPointUnit(unit) {
  return unit !== null && (unit.offset ?? 0) !== 0;
}

/** As written for people; empty for no unit. */
export function symbolOf(unit) {
  return unit === null ? "" : unit.symbol;
}

/** The SI value of `value` in a unit. */
export function toSi(unit, value) {
  if (unit === null) return value;
  const scaled = (unit.offset === undefined ? value : value + unit.offset) * unit.numerator / unit.divisor;
  return unit.slope ? angleOfSlope(scaled) : scaled;
}

/** The number that states `si` in a unit: the inverse of `toSi`. */
export function fromSi(unit, si) {
  if (unit === null) return si;
  const flat = unit.slope ? slopeOfAngle(si) : si;
  const value = flat * unit.divisor / unit.numerator;
  return unit.offset === undefined ? value : value - unit.offset;
}

/** The SI size of a small difference `width` in a unit about the reading `at`, in it too. */
export function widthToSi(unit, width, at) {
  if (unit === null) return width;
  const scaled = width * unit.numerator / unit.divisor;
  if (!unit.slope) return scaled;
  const tangent = at * unit.numerator / unit.divisor;
  return scaled / (1 + tangent * tangent);
}

/** The size in a unit of a small SI difference about the SI value `at`: the inverse of `widthToSi`. */
export function widthFromSi(unit, width, at) {
  return width / widthToSi(unit, 1, fromSi(unit, at));
}
