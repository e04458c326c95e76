/**
 * The gap between two convex bodies: `engine/src/kernel/gap`, the same operations in the same order. Corners are arrays of
 * three numbers.
 */

import { hullOf } from "./kernel_hull.js";
import { addVectors, crossProduct, directionOf, dotProduct, lengthOf, scaleVector, squareTo, subtractVectors } from "./kernel_vector.js";

const MOST_CORNERS = 64;
const FARTHEST = 1e60;
const TOUCHING = 1e-10;
const MOST_STEPS = 500;
const FOREMOST = 1e-9;
const PARALLEL = 1e-9;

/** The signed distance of two hulls, each inflated by its radius; NaN where it has none. */
export function gapOf(a, radiusA, b, radiusB) {
  const within = (body) => body.length >= 1 && body.length <= MOST_CORNERS;
  const near = (corner) => corner.every((coordinate) => Math.abs(coordinate) <= FARTHEST);
  if (!within(a) || !within(b) || !a.every(near) || !b.every(near)) {
    return NaN;
  }
  const origin = a[0];
  const cornersA = a.map((corner) => subtractVectors(corner, origin));
  const cornersB = b.map((corner) => subtractVectors(corner, origin));
  let size = 0;
  for (const corner of [...cornersA, ...cornersB]) {
    for (const coordinate of corner) {
      size = Math.abs(coordinate) > size ? Math.abs(coordinate) : size;
    }
  }
  const apart = nearestDistance(cornersA, cornersB);
  const distance = apart > TOUCHING * size ? apart : shortestWayApart(cornersA, cornersB, size);
  return distance - radiusA - radiusB;
}

/** The distance of two hulls' nearest points. */
function nearestDistance(a, b) {
  const first = differenceCorner(a, b, 0, 0);
  let best = { corners: [first], point: first.point };
  for (let step = 0; step < MOST_STEPS; step++) {
    const towards = best.point;
    const next = differenceCorner(a, b, farthest(a, towards, 1), farthest(b, towards, -1));
    const known = best.corners.some((corner) => sameCorner(corner, next));
    if (dotProduct(towards, towards) <= dotProduct(towards, next.point) || known) {
      break;
    }
    const combination = nearestCombination([...best.corners, next]);
    if (lengthOf(combination.point) >= lengthOf(best.point)) {
      break;
    }
    best = combination;
    if (best.corners.length === 4) {
      break;
    }
  }
  return lengthOf(best.point);
}

function differenceCorner(a, b, atA, atB) {
  return { a: atA, b: atB, point: subtractVectors(b[atB], a[atA]) };
}

function sameCorner(one, other) {
  return one.a === other.a && one.b === other.b && one.point.every((part, axis) => part === other.point[axis]);
}

/** The first of the corners farthest along `sign · direction`. */
function farthest(corners, direction, sign) {
  let best = 0;
  let most = -Infinity;
  corners.forEach((corner, at) => {
    const reach = sign * dotProduct(corner, direction);
    if (reach > most) {
      best = at;
      most = reach;
    }
  });
  return best;
}

function countOnes(bits) {
  let count = 0;
  for (let rest = bits; rest > 0; rest >>= 1) {
    count += rest & 1;
  }
  return count;
}

/** The point nearest to the origin of the hull of up to five corners: of all their subsets, few corners first. */
function nearestCombination(corners) {
  const subsets = Array.from({ length: (1 << corners.length) - 1 }, (_, at) => at + 1);
  subsets.sort((a, b) => countOnes(a) - countOnes(b) || a - b);
  let best = null;
  let least = 0;
  for (const subset of subsets) {
    const members = corners.filter((_, at) => (subset >> at) & 1);
    const points = members.map((member) => member.point);
    const weights = innerWeights(points);
    if (weights === null) {
      continue;
    }
    let point = [0, 0, 0];
    points.forEach((member, at) => {
      point = addVectors(point, scaleVector(member, weights[at]));
    });
    const distance = lengthOf(point);
    if (best === null || distance < least) {
      least = distance;
      best = { corners: members, point };
    }
  }
  return best ?? { corners: [corners[0]], point: corners[0].point };
}

/** Weights of the point nearest to the origin of the line, plane or space through the points, if all are positive. */
function innerWeights(points) {
  let weights;
  if (points.length === 1) {
    weights = [1];
  } else if (points.length === 2) {
    const [p, q] = points;
    const edge = subtractVectors(q, p);
    const share = -dotProduct(p, edge) / dotProduct(edge, edge);
    weights = [1 - share, share];
  } else if (points.length === 3) {
    const [p, q, r] = points;
    const normal = crossProduct(subtractVectors(q, p), subtractVectors(r, p));
    const area = (x, y) => dotProduct(crossProduct(x, y), normal);
    weights = shares([area(q, r), area(r, p), area(p, q)]);
  } else if (points.length === 4) {
    const [p, q, r, s] = points;
    const volume = (x, y, z) => dotProduct(crossProduct(x, y), z);
    weights = shares([volume(q, r, s), -volume(p, r, s), volume(p, q, s), -volume(p, q, r)]);
  } else {
    return null;
  }
  return weights.every((weight) => weight > 0 && weight <= 1) ? weights : null;
}

function shares(parts) {
  let whole = 0;
  for (const part of parts) {
    whole += part;
  }
  return parts.map((part) => part / whole);
}

/** The largest separation of two hulls that touch or overlap, over all candidate directions. */
function shortestWayApart(a, b, size) {
  const hullA = hullOf(a, size);
  const hullB = hullOf(b, size);
  let most = -Infinity;
  const offer = (normal) => {
    const separation = -reachOf(b, scaleVector(normal, -1)) - reachOf(a, normal);
    most = separation > most ? separation : most;
  };
  hullA.faces.forEach(offer);
  hullB.faces.forEach((normal) => offer(scaleVector(normal, -1)));
  for (const edgeA of hullA.edges) {
    for (const edgeB of hullB.edges) {
      offerEdges(a, b, edgeA, edgeB, size, offer);
    }
  }
  if (most === -Infinity) {
    const along = ([i, j], corners) => subtractVectors(corners[j], corners[i]);
    const edge = hullA.edges.length > 0 ? along(hullA.edges[0], a) : hullB.edges.length > 0 ? along(hullB.edges[0], b) : null;
    const unit = edge === null ? null : directionOf(edge, 0);
    offer(unit === null ? [1, 0, 0] : squareTo(unit));
  }
  return most;
}

/** Offers the two directions square to an edge of each, where both edges are foremost. */
function offerEdges(a, b, ofA, ofB, size, offer) {
  const alongA = directionOf(subtractVectors(a[ofA[1]], a[ofA[0]]), 0);
  const alongB = directionOf(subtractVectors(b[ofB[1]], b[ofB[0]]), 0);
  const square = alongA === null || alongB === null ? null : directionOf(crossProduct(alongA, alongB), PARALLEL);
  if (square === null) {
    return;
  }
  for (const normal of [square, scaleVector(square, -1)]) {
    const opposite = scaleVector(normal, -1);
    if (isForemost(a, ofA[0], normal, size) && isForemost(b, ofB[0], opposite, size)) {
      offer(normal);
    }
  }
}

function reachOf(corners, normal) {
  let reach = -Infinity;
  for (const corner of corners) {
    const along = dotProduct(corner, normal);
    reach = along > reach ? along : reach;
  }
  return reach;
}

function isForemost(corners, at, normal, size) {
  const limit = dotProduct(corners[at], normal) + FOREMOST * size;
  return corners.every((corner) => dotProduct(corner, normal) <= limit);
}
