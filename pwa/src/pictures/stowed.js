// A bay to scale with what is in it so far: boxes where they stand, each with its number in the order of loading, the
// one that has just gone in marked, soft things up to their level, and the door.
import { svg } from "lit";

import { corners, dot, face, faces, fromAfar, view } from "./aslant.js";
import { dots, round } from "./geometry.js";
import { both, words } from "./parts.js";

/** @typedef {import("./parts.js").Size} Size @typedef {import("./aslant.js").Point} Point */
/** @typedef {{ id: string, corner: Point | null, edges: Point | null, level: number }} Step */
/** @typedef {{ edges: Point, opening: [Point, Point], steps: Step[] }} Bay */

/**
 * @param {Bay} bay
 * @param {{ step: number, turn: number, above: number, told: string[], sides: { front: string, rear: string } }} how
 *   `step`: how many things are in
 */
export const stowedPicture = (bay, how) => both((size) => draw(bay, how, size));

const MARGIN = 22;

/** @param {Bay} bay @param {Parameters<typeof stowedPicture>[1]} how @param {Size} size */
function draw(bay, { step, turn, above, told, sides }, size) {
  const seen = view(turn, above);
  const room = { low: /** @type {Point} */ ([0, 0, 0]), high: bay.edges };
  // one scale for every turn: the bay's diagonal fits across, so that it does not breathe while it is turned
  const most = size.wide ? 330 : 230;
  const scale = Math.min((size.width - 2 * MARGIN) / Math.hypot(bay.edges[0], bay.edges[1]), most / tallest(bay.edges));
  const flat = corners(room).map((p) => [dot(p, seen.right), dot(p, seen.up)]);
  const [left, right] = [Math.min(...flat.map(([x]) => x)), Math.max(...flat.map(([x]) => x))];
  const top = Math.max(...flat.map(([, y]) => y));
  const bottom = Math.min(...flat.map(([, y]) => y));
  const height = most + 2 * MARGIN;
  const middle = (height - (top - bottom) * scale) / 2;
  const put = (/** @type {Point} */ p) => [
    size.width / 2 + (dot(p, seen.right) - (left + right) / 2) * scale,
    middle + (top - dot(p, seen.up)) * scale,
  ];
  const shape = (/** @type {Point[]} */ points, /** @type {string} */ kind) =>
    svg`<path class=${kind} d=${`M${points.map((p) => put(p).map(round).join(" ")).join("L")}Z`}/>`;

  const inside = bay.steps.slice(0, step);
  const level = inside.at(-1)?.level ?? 0;
  const boxes = inside.flatMap((one, index) =>
    one.corner && one.edges ? [{ number: index + 1, low: one.corner, high: sum(one.corner, one.edges) }] : [],
  );
  const ordered = fromAfar(boxes, seen);
  const body = [
    faces(room, seen, true).map(({ corners: points }) => shape(points, "pic-fill-pale")),
    level > 0 ? soft(room, level, seen, put, shape, `bay-soft-${size.wide ? "wide" : "narrow"}`) : [],
    shape(door(bay.opening), "pic-bay-door"),
    ordered.map((box) => faces(box, seen).map(({ axis, corners: points }) => shape(points, boxKind(axis, box.number === step)))),
    ordered.map((box, index) => number(box, ordered.slice(index + 1), seen, put, size, box.number === step)),
    faces(room, seen).map(({ corners: points }) => shape(points, "pic-bay-near")),
    ends(room, put, size, sides),
  ];
  return { height, body, told };
}

/** The height on the sheet that a bay of these edges takes at most, however it is turned. @param {Point} edges */
const tallest = ([x, y, z]) => Math.max(Math.hypot(x, y) * 0.5 + z * 0.87, Math.hypot(x, y) * 0.94 + z * 0.34);

const sum = (/** @type {Point} */ a, /** @type {Point} */ b) => /** @type {Point} */ ([a[0] + b[0], a[1] + b[1], a[2] + b[2]]);

const boxKind = (/** @type {number} */ axis, /** @type {boolean} */ latest) => `pic-bay-box pic-bay-${latest ? "latest" : axis === 2 ? "top" : "side"}`;

/** The door's rim: a block that is flat across one axis. @param {[Point, Point]} opening */
function door([low, high]) {
  const axis = [0, 1, 2].find((i) => Math.abs(high[i] - low[i]) < 1e-9) ?? 0;
  return face({ low, high }, axis, true);
}

/** Soft things: dots on the walls and the floor behind the boxes, and a line at their level all round. */
function soft(
  /** @type {import("./aslant.js").Block} */ room,
  /** @type {number} */ level,
  /** @type {import("./aslant.js").View} */ seen,
  /** @type {(p: Point) => number[]} */ put,
  /** @type {(points: Point[], kind: string) => unknown} */ shape,
  /** @type {string} */ id,
) {
  /** @type {import("./aslant.js").Block} */
  const filled = { low: room.low, high: [room.high[0], room.high[1], level] };
  const outline = corners(filled).map(put);
  const [x, y] = [Math.min(...outline.map((p) => p[0])), Math.min(...outline.map((p) => p[1]))];
  const [far, low] = [Math.max(...outline.map((p) => p[0])), Math.max(...outline.map((p) => p[1]))];
  const walls = faces(filled, seen, true).filter(({ axis }) => axis !== 2 || seen.towards[2] > 0);
  const paths = walls.map(({ corners: points }) => `M${points.map((p) => put(p).map(round).join(" ")).join("L")}Z`);
  return [
    svg`<clipPath id=${id}><path d=${paths.join("")}/></clipPath>`,
    svg`<path class="pic-dots" clip-path="url(#${id})" d=${dots(x, y, far - x, low - y)}/>`,
    shape(face(filled, 2, true), "pic-bay-level"),
  ];
}

/** Its number in the order of loading, on the largest of its faces of which the middle is not hidden; else none. */
function number(
  /** @type {import("./aslant.js").Block & { number: number }} */ box,
  /** @type {import("./aslant.js").Block[]} */ nearer,
  /** @type {import("./aslant.js").View} */ seen,
  /** @type {(p: Point) => number[]} */ put,
  /** @type {Size} */ size,
  /** @type {boolean} */ latest,
) {
  const before = nearer.flatMap((one) => faces(one, seen).map(({ corners: points }) => points.map(put)));
  const open = faces(box, seen)
    .map(({ corners: points }) => points.map(put))
    .map((points) => ({ at: middleOf(points), area: areaOf(points) }))
    .filter(({ at }) => !before.some((points) => holds(points, at)))
    .sort((a, b) => b.area - a.area)[0];
  if (!open) return [];
  return words(size, open.at[0], open.at[1], String(box.number), { anchor: "middle", tone: latest ? "accent" : "strong" });
}

const middleOf = (/** @type {number[][]} */ points) => [0, 1].map((i) => points.reduce((total, p) => total + p[i], 0) / points.length);

const areaOf = (/** @type {number[][]} */ [a, b, , d]) => Math.abs((b[0] - a[0]) * (d[1] - a[1]) - (b[1] - a[1]) * (d[0] - a[0]));

/** Does a convex shape hold that point? @param {number[][]} points @param {number[]} at */
function holds(points, [x, y]) {
  const sides = points.map(([x0, y0], i) => {
    const [x1, y1] = points[(i + 1) % points.length];
    return (x1 - x0) * (y - y0) - (y1 - y0) * (x - x0);
  });
  return sides.every((side) => side > 0) || sides.every((side) => side < 0);
}

/** Which end is the front, and which the rear. */
function ends(
  /** @type {import("./aslant.js").Block} */ room,
  /** @type {(p: Point) => number[]} */ put,
  /** @type {Size} */ size,
  /** @type {{ front: string, rear: string }} */ sides,
) {
  const across = room.high[1] / 2;
  const centre = put([room.high[0] / 2, across, 0]);
  return [
    { text: sides.front, at: put([0, across, 0]) },
    { text: sides.rear, at: put([room.high[0], across, 0]) },
  ].map(({ text, at }) => {
    const away = Math.hypot(at[0] - centre[0], at[1] - centre[1]) || 1;
    const [dx, dy] = [(at[0] - centre[0]) / away, (at[1] - centre[1]) / away];
    // only the end that is nearer stands free of the boxes
    return dy > 0.2 || Math.abs(dx) > 0.99 ? words(size, at[0] + dx * 26, at[1] + dy * 14 + 4, text, { anchor: "middle" }) : [];
  });
}
