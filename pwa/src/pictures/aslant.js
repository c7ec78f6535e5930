// A bay looked at aslant, without perspective: where its corners come to lie on the sheet, which faces of a box are
// seen, and which box stands before which. The bay's axes: x from the front, y from the left, z up. [m]

/** @typedef {[number, number, number]} Point @typedef {{ low: Point, high: Point }} Block */
/** @typedef {{ right: Point, up: Point, towards: Point }} View axes of the sheet and of the eye, in those of the bay */

/**
 * The bay turned by `turn` and looked at from `above` the level. At no turn one looks from the rear towards the front.
 * @param {number} turn [deg] @param {number} above [deg] @returns {View}
 */
export function view(turn, above) {
  const [a, b] = [(turn * Math.PI) / 180, (above * Math.PI) / 180];
  const [sin, cos] = [Math.sin(a), Math.cos(a)];
  return {
    right: [-sin, cos, 0],
    up: [-cos * Math.sin(b), -sin * Math.sin(b), Math.cos(b)],
    towards: [cos * Math.cos(b), sin * Math.cos(b), Math.sin(b)],
  };
}

export const dot = (/** @type {Point} */ a, /** @type {Point} */ b) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];

/** The eight corners. @param {Block} block @returns {Point[]} */
export const corners = ({ low, high }) =>
  [0, 1, 2, 3, 4, 5, 6, 7].map((n) => [n & 1 ? high[0] : low[0], n & 2 ? high[1] : low[1], n & 4 ? high[2] : low[2]]);

/**
 * One face: the axis that it stands across, at the low or the high end.
 * @param {Block} block @param {number} axis @param {boolean} far at the high end? @returns {Point[]}
 */
export function face({ low, high }, axis, far) {
  const [one, two] = [0, 1, 2].filter((other) => other !== axis);
  return [
    [low[one], low[two]],
    [high[one], low[two]],
    [high[one], high[two]],
    [low[one], high[two]],
  ].map(([u, v]) => {
    /** @type {Point} */
    const corner = [0, 0, 0];
    corner[axis] = far ? high[axis] : low[axis];
    corner[one] = u;
    corner[two] = v;
    return corner;
  });
}

/** The faces that are turned to the eye, or away from it. @param {Block} block @param {View} seen @param {boolean} [away] */
export function faces(block, seen, away = false) {
  return [0, 1, 2]
    .filter((axis) => Math.abs(seen.towards[axis]) > 1e-9)
    .map((axis) => ({ axis, corners: face(block, axis, seen.towards[axis] > 0 !== away) }));
}

/** Is `a` behind `b`, or may it be drawn before it at least? @param {Block} a @param {Block} b @param {View} seen */
function behind(a, b, { towards }) {
  const hair = 1e-7;
  return [0, 1, 2].some((i) =>
    towards[i] > 1e-9 ? a.high[i] <= b.low[i] + hair : towards[i] < -1e-9 ? a.low[i] >= b.high[i] - hair : false,
  );
}

/**
 * Blocks that do not cut one another, from the farthest to the nearest, so that each may be drawn over those before it.
 * @template {Block} T @param {T[]} blocks @param {View} seen @returns {T[]}
 */
export function fromAfar(blocks, seen) {
  const middle = (/** @type {Block} */ { low, high }) => dot([low[0] + high[0], low[1] + high[1], low[2] + high[2]], seen.towards);
  const left = [...blocks].sort((a, b) => middle(a) - middle(b));
  /** @type {T[]} */
  const order = [];
  while (left.length) {
    // one that has nothing left behind it; a ring of boxes, each before the next, has none: then the farthest middle
    const next = left.findIndex((one) => left.every((other) => other === one || !behind(other, one, seen) || behind(one, other, seen)));
    order.push(...left.splice(Math.max(0, next), 1));
  }
  return order;
}
