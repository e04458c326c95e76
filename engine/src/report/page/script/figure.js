// Redraws a picture when a number moves. The picture's scales stay as they were drawn; each shape goes where its numbers
// are. A scene is made by the program beside the picture: of every shape that moves, where it goes for which numbers.

/** What a coordinate does to a number before it is multiplied, by its code. */
const FIGURE_FUNCTIONS = [
  (number) => number,
  (number) => (number > 0 ? Math.log(number) / Math.LN10 : NaN),
  (number) => 1 / number,
  Math.cos,
  Math.sin,
];

/** A picture on the page whose shapes go where their numbers are. */
export class MovingPicture {
  /**
   * @param {Element} svg the picture
   * @param {{frame: number[], moving: object[]}} scene what moves in it, in the order of its `data-e`
   */
  constructor(svg, { frame, moving }) {
    this.frame = frame;
    this.said = svg.querySelector(".beyond");
    const shapes = moving.map((shape, number) => ({ shape, element: svg.querySelector(`[data-e="${number}"]`) }));
    this.shapes = shapes
      .filter(({ element }) => element)
      .map((found) => ({ ...found, slots: slotsOf(found.shape), values: null, beyond: false }));
  }

  /** The shapes that are the band of a line. */
  bands() {
    return this.shapes.map(({ shape }) => shape).filter(({ kind }) => kind === "band");
  }

  /**
   * Moves the shapes to where their numbers are now; one whose numbers are as they were stays.
   * @param {(slot: number) => number} valueOf the number in a slot, SI units
   * @param {(band: object) => (Array<[number, number]> | null)} [bandOf] the ends of a line's band at each of its places, SI
   *   units; without them the band is not shown
   * @returns {boolean} whether something lies beyond the edge of the picture
   */
  redraw(valueOf, bandOf) {
    for (const moving of this.shapes) {
      if (moving.shape.kind === "band") redrawBand(moving.element, moving.shape, valueOf, bandOf?.(moving.shape) ?? null);
      else this.move(moving, valueOf);
    }
    const beyond = this.shapes.some((moving) => moving.beyond);
    this.said?.toggleAttribute("hidden", !beyond);
    return beyond;
  }

  move(moving, valueOf) {
    const values = moving.slots.map(valueOf);
    if (moving.values !== null && values.every((value, nth) => Object.is(value, moving.values[nth]))) return;
    moving.values = values;
    moving.beyond = redrawShape(moving.element, moving.shape, this.frame, valueOf);
  }

  /** Somebody else put its shapes where they are now. */
  forget() {
    for (const moving of this.shapes) moving.values = null;
  }
}

/** The slots whose numbers a shape follows; a band is drawn with each answer. */
function slotsOf(shape) {
  const slots = coordinatesOf(shape).flatMap((coordinate) => (typeof coordinate === "number" ? [] : coordinate.filter((_, nth) => nth % 3 === 2)));
  return [...new Set(slots)];
}

function coordinatesOf(shape) {
  switch (shape.kind) {
    case "line":
      return shape.places.flat();
    case "box":
      return shape.corners.flat();
    case "ellipse":
      return [...shape.centre, ...shape.radii];
    case "arc":
      return [...shape.centre, ...shape.angles];
    case "at":
      return shape.at;
    case "region":
      return shape.margins.map((margin) => (typeof margin === "number" ? margin : [0, 1, margin[0], 0]));
    default:
      return [];
  }
}

/**
 * Where a coordinate is on the page: a number, or a list of a number and, for each term, factor, slot and function.
 * @param {number | number[]} coordinate
 * @param {(slot: number) => number} valueOf
 * @returns {number}
 */
export function figureCoordinate(coordinate, valueOf) {
  if (typeof coordinate === "number") return coordinate;
  let place = coordinate[0];
  for (let at = 1; at + 2 < coordinate.length; at += 3) {
    place += coordinate[at] * FIGURE_FUNCTIONS[coordinate[at + 2]](valueOf(coordinate[at + 1]));
  }
  return place;
}

/**
 * A line through places as the `d` of a path; a place that is none breaks it.
 * @param {Array<[number, number]>} places
 * @param {boolean} closed
 * @returns {string}
 */
export function figurePath(places, closed) {
  let d = "";
  let up = true;
  for (const [x, y] of places) {
    if (!Number.isFinite(x) || !Number.isFinite(y)) {
      up = true;
      continue;
    }
    d += `${up ? "M" : "L"}${figureNumber(x)} ${figureNumber(y)}`;
    up = false;
  }
  return closed && d ? `${d}Z` : d;
}

/**
 * The outline of all places of a grid where the margin is not negative, as the `d` of a path: between two places it goes in a
 * straight line, one that is no number counts as negative. `engine/src/report/figure/region.rs` does the same.
 * @param {number[]} across places of the grid from the left
 * @param {number[]} up and of its rows
 * @param {number[]} margins row by row
 * @returns {string}
 */
export function figureRegion(across, up, margins) {
  let d = "";
  const outline = (places) => {
    if (places.length > 0) d += figurePath(places, true);
  };
  const margin = (column, row) => margins[row * across.length + column];
  for (let row = 0; row + 1 < up.length; row += 1) {
    const [from, to] = [up[row], up[row + 1]];
    const rectangle = (left, right) => outline([[left, from], [right, from], [right, to], [left, to]]);
    let full = null;
    for (let column = 0; column + 1 < across.length; column += 1) {
      const [left, right] = [across[column], across[column + 1]];
      const corners = [
        [left, from, margin(column, row)],
        [right, from, margin(column + 1, row)],
        [right, to, margin(column + 1, row + 1)],
        [left, to, margin(column, row + 1)],
      ];
      if (corners.every(([, , own]) => figureHolds(own))) {
        full ??= left;
        continue;
      }
      if (full !== null) rectangle(full, left);
      full = null;
      outline(figureCut(corners));
    }
    if (full !== null) rectangle(full, across[across.length - 1]);
  }
  return d;
}

function figureHolds(margin) {
  return Number.isFinite(margin) && margin >= 0;
}

/** The part of a square where the margin is not negative. */
function figureCut(corners) {
  return corners.flatMap(([x, y, margin], nth) => {
    const [nextX, nextY, next] = corners[(nth + 1) % corners.length];
    const found = figureHolds(margin) ? [[x, y]] : [];
    if (figureHolds(margin) === figureHolds(next)) return found;
    const share = Number.isFinite(margin) && Number.isFinite(next) ? margin / (margin - next) : 0.5;
    return [...found, [x + share * (nextX - x), y + share * (nextY - y)]];
  });
}

/** A tenth is finer than any screen; what is far off the page stays far off. */
function figureNumber(number) {
  if (Number.isNaN(number)) return 0;
  const kept = Math.min(Math.max(number, -1e5), 1e5);
  return Math.floor(kept * 10 + 0.5) / 10 || 0;
}

function redrawShape(element, shape, frame, valueOf) {
  const spot = ([x, y]) => [figureCoordinate(x, valueOf), figureCoordinate(y, valueOf)];
  const set = (name, value) => element.setAttribute(name, value);
  switch (shape.kind) {
    case "line": {
      const places = shape.places.map(spot);
      set("d", figurePath(places, shape.closed));
      return places.some((place) => isBeyond(place, frame));
    }
    case "box": {
      const [from, to] = shape.corners.map(spot);
      set("x", figureNumber(Math.min(from[0], to[0])));
      set("y", figureNumber(Math.min(from[1], to[1])));
      set("width", figureNumber(Math.abs(to[0] - from[0])));
      set("height", figureNumber(Math.abs(to[1] - from[1])));
      return isBeyond(from, frame) || isBeyond(to, frame);
    }
    case "ellipse": {
      const [x, y] = spot(shape.centre);
      const [rx, ry] = spot(shape.radii);
      set("cx", figureNumber(x));
      set("cy", figureNumber(y));
      set("rx", figureNumber(Math.abs(rx)));
      set("ry", figureNumber(Math.abs(ry)));
      return isBeyond([x, y], frame);
    }
    case "arc":
      set("d", figureArc(spot(shape.centre), shape.radii, spot(shape.angles)));
      return false;
    case "at": {
      const place = spot(shape.at);
      set("transform", `translate(${figureNumber(place[0])} ${figureNumber(place[1])})`);
      return false;
    }
    case "region": {
      const margins = shape.margins.map((margin) => (typeof margin === "number" ? margin : valueOf(margin[0])));
      set("d", figureRegion(shape.across, shape.up, margins));
      return false;
    }
    default:
      return false;
  }
}

/** A part of an ellipse between two angles, counter-clockwise from the right; upward is less on a page. */
function figureArc([x, y], [rx, ry], [from, to]) {
  const end = (angle) => `${figureNumber(x + rx * Math.cos(angle))} ${figureNumber(y - ry * Math.sin(angle))}`;
  const large = Math.abs(to - from) > Math.PI ? 1 : 0;
  return `M${end(from)}A${figureNumber(rx)} ${figureNumber(ry)} 0 ${large} ${to < from ? 1 : 0} ${end(to)}`;
}

function redrawBand(element, shape, valueOf, ends) {
  element.toggleAttribute("hidden", !ends);
  element.style.display = ends ? "" : "none";
  if (!ends) return;
  const [at, by, code] = shape.scale;
  const up = (number) => at + by * FIGURE_FUNCTIONS[code](number);
  const across = shape.across.map((place) => figureCoordinate(place, valueOf));
  const upper = ends.map(([, high], nth) => [across[nth], up(high)]);
  const lower = ends.map(([low], nth) => [across[nth], up(low)]).reverse();
  element.setAttribute("d", figurePath([...upper, ...lower], true));
}

/** Half a pixel over the edge is on it. */
function isBeyond([x, y], [left, top, right, bottom]) {
  return x < left - 0.5 || x > right + 0.5 || y < top - 0.5 || y > bottom + 0.5;
}
