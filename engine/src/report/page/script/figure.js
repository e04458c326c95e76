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

/**
 * Moves the shapes of a picture to where their numbers are now.
 * @param {Element} svg the picture
 * @param {{frame: number[], moving: object[]}} scene what moves in it, in the order of its `data-e`
 * @param {(slot: number) => number} valueOf the number in a slot, SI units
 * @param {(curve: number, band: object) => (Array<[number, number]> | null)} [bandOf] the ends of a line's band at each of
 *   its places, SI units; without them the band is not shown
 * @returns {boolean} whether something lies beyond the edge of the picture
 */
export function redrawFigure(svg, scene, valueOf, bandOf) {
  let beyond = false;
  scene.moving.forEach((shape, number) => {
    const element = svg.querySelector(`[data-e="${number}"]`);
    if (element) beyond = redrawShape(element, shape, scene.frame, valueOf, bandOf) || beyond;
  });
  const said = svg.querySelector(".beyond");
  if (said) said.toggleAttribute("hidden", !beyond);
  return beyond;
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
 * The ends of a band from samples: for each place the values below and above which 2.5 % of the samples lie. Where the
 * places of a line move, each sample's line is read off where the line is now.
 * @param {number[]} now the line's own xs
 * @param {Array<{xs: number[], ys: number[]}>} samples
 * @returns {Array<[number, number]>}
 */
export function bandOfSamples(now, samples) {
  return now.map((x, place) => {
    const found = samples
      .map(({ xs, ys }) => (xs[place] === x ? ys[place] : readOffLine(xs, ys, x)))
      .filter(Number.isFinite)
      .sort((a, b) => a - b);
    const outside = Math.floor(found.length / 40);
    return [found[outside], found[found.length - 1 - outside]];
  });
}

function readOffLine(xs, ys, x) {
  const last = xs.length - 2;
  let stretch = xs.slice(1).findIndex((end) => x <= end);
  if (stretch < 0 || stretch > last) stretch = last;
  const share = (x - xs[stretch]) / (xs[stretch + 1] - xs[stretch]);
  return ys[stretch] + (ys[stretch + 1] - ys[stretch]) * share;
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

function redrawShape(element, shape, frame, valueOf, bandOf) {
  const spot = ([x, y]) => [figureCoordinate(x, valueOf), figureCoordinate(y, valueOf)];
  const set = (name, value) => element.setAttribute(name, value);
  switch (shape.kind) {
    case "line": {
      const places = shape.places.map(spot);
      set("d", figurePath(places, shape.closed));
      return places.some((place) => isBeyond(place, frame));
    }
    case "band":
      return redrawBand(element, shape, valueOf, bandOf);
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

function redrawBand(element, shape, valueOf, bandOf) {
  const ends = bandOf ? bandOf(shape.curve, shape) : null;
  element.toggleAttribute("hidden", !ends);
  element.style.display = ends ? "" : "none";
  if (!ends) return false;
  const [at, by, code] = shape.scale;
  const up = (number) => at + by * FIGURE_FUNCTIONS[code](number);
  const across = shape.across.map((place) => figureCoordinate(place, valueOf));
  const upper = ends.map(([, high], nth) => [across[nth], up(high)]);
  const lower = ends.map(([low], nth) => [across[nth], up(low)]).reverse();
  element.setAttribute("d", figurePath([...upper, ...lower], true));
  return false;
}

/** Half a pixel over the edge is on it. */
function isBeyond([x, y], [left, top, right, bottom]) {
  return x < left - 0.5 || x > right + 0.5 || y < top - 0.5 || y > bottom + 0.5;
}
