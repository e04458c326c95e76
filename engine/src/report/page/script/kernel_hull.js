/**
 * Faces and edges of the convex hull of up to 64 corners: `engine/src/kernel/gap/hull.rs`, the same operations in the same
 * order.
 */

import { crossProduct, directionOf, dotProduct, lengthOf, subtractVectors } from "./kernel_vector.js";

const ON_PLANE = 1e-10;
const SLIVER = 1e-6;

/**
 * Faces as unit normals outwards, edges as pairs of corners.
 *
 * @returns {{faces: number[][], edges: number[][]}}
 */
export function hullOf(corners, size) {
  const faces = [];
  for (let i = 0; i < corners.length; i++) {
    for (let j = i + 1; j < corners.length; j++) {
      for (let k = j + 1; k < corners.length; k++) {
        if (!faces.some((face) => face.on.has(i) && face.on.has(j) && face.on.has(k))) {
          faces.push(...facesThrough(corners, [i, j, k], size));
        }
      }
    }
  }
  let edges;
  if (faces.length === 0) {
    edges = lineOf(corners, size);
  } else if (faces.length === 2) {
    edges = outlineOf(corners, faces[0], size);
  } else {
    edges = sharedEdges(corners, faces);
  }
  return { faces: faces.map((face) => face.normal), edges };
}

/** The face through three corners, if it is one; both sides of it, if the whole hull lies in it. */
function facesThrough(corners, three, size) {
  const [p, q, r] = three.map((at) => corners[at]);
  const u = subtractVectors(q, p);
  const v = subtractVectors(r, p);
  const normal = directionOf(crossProduct(u, v), SLIVER * lengthOf(u) * lengthOf(v));
  if (normal === null) {
    return [];
  }
  let above = false;
  let below = false;
  const on = new Set();
  for (let at = 0; at < corners.length; at++) {
    const height = dotProduct(normal, subtractVectors(corners[at], p));
    if (height > ON_PLANE * size) {
      above = true;
    } else if (height < -ON_PLANE * size) {
      below = true;
    } else {
      on.add(at);
    }
    if (above && below) {
      return [];
    }
  }
  const faces = [];
  if (!above) {
    faces.push({ normal, on });
  }
  if (!below) {
    faces.push({ normal: [-normal[0], -normal[1], -normal[2]], on });
  }
  return faces;
}

/** Where two faces share two corners or more, the two of them farthest apart are an edge. */
function sharedEdges(corners, faces) {
  const edges = [];
  faces.forEach((face, at) => {
    for (const other of faces.slice(at + 1)) {
      const members = [...face.on].filter((corner) => other.on.has(corner));
      const pair = farthestPair(corners, members);
      if (pair !== null) {
        edges.push(pair);
      }
    }
  });
  return edges;
}

/** The edges of a flat hull. */
function outlineOf(corners, face, size) {
  const edges = [];
  for (let i = 0; i < corners.length; i++) {
    for (let j = i + 1; j < corners.length; j++) {
      const along = directionOf(subtractVectors(corners[j], corners[i]), ON_PLANE * size);
      if (along === null) {
        continue;
      }
      const outwards = crossProduct(along, face.normal);
      const heights = corners.map((corner) => dotProduct(outwards, subtractVectors(corner, corners[i])));
      if (heights.every((height) => height <= ON_PLANE * size) || heights.every((height) => height >= -ON_PLANE * size)) {
        edges.push([i, j]);
      }
    }
  }
  return edges;
}

/** The one edge of a hull that is a line; none of a point. */
function lineOf(corners, size) {
  const pair = farthestPair(
    corners,
    corners.map((_, at) => at),
  );
  if (pair === null) {
    return [];
  }
  const [i, j] = pair;
  return lengthOf(subtractVectors(corners[i], corners[j])) > ON_PLANE * size ? [pair] : [];
}

function farthestPair(corners, members) {
  let best = null;
  let longest = 0;
  members.forEach((i, at) => {
    for (const j of members.slice(at + 1)) {
      const length = lengthOf(subtractVectors(corners[i], corners[j]));
      if (length > longest) {
        best = [i, j];
        longest = length;
      }
    }
  });
  return best;
}
