// The geometry of the pictures: scales, tick marks, spreading of labels, fills. Numbers in, numbers out: no document
// object model, no text catalogue, so that it can be tested without a browser. Lengths on paper are in picture units
// [px]; lengths in the world are SI.

/** A number that can be drawn: null, undefined, NaN and infinite can't. @param {unknown} x @returns {x is number} */
export const known = (x) => typeof x === "number" && Number.isFinite(x);

/** The greatest of the values that are known, else `otherwise`. @param {unknown[]} values */
export function greatest(values, otherwise = 0) {
  return values.filter(known).reduce((most, x) => Math.max(most, x), -Infinity) > -Infinity
    ? Math.max(...values.filter(known))
    : otherwise;
}

/** The least of the values that are known, else `otherwise`. @param {unknown[]} values */
export function least(values, otherwise = 0) {
  return -greatest(
    values.map((x) => (known(x) ? -x : null)),
    -otherwise,
  );
}

/**
 * A linear scale from world to paper. A domain without width maps everything to the middle of the range.
 * @param {[number, number]} domain @param {[number, number]} range
 */
export function linear([d0, d1], [r0, r1]) {
  if (d1 === d0) return () => (r0 + r1) / 2;
  return (/** @type {number} */ x) => r0 + ((x - d0) / (d1 - d0)) * (r1 - r0);
}

/** The smallest of 1, 2, 5 x 10^n that is not less than `x` (x > 0). */
export function roundUp(/** @type {number} */ x) {
  const power = 10 ** Math.floor(Math.log10(x) + 1e-9);
  for (const step of [1, 2, 5]) if (step * power >= x * (1 - 1e-9)) return step * power;
  return 10 * power;
}

/**
 * Round marks within [low, high], at most `most` intervals, in the unit whose size in SI is `factor`.
 * @returns {{at: number, shown: number}[]} `at` in SI, `shown` in the unit
 */
export function ticks(/** @type {number} */ low, /** @type {number} */ high, most = 5, factor = 1) {
  if (!(high > low) || !(most >= 1)) return [];
  const step = roundUp((high - low) / factor / most);
  const first = Math.ceil(low / factor / step - 1e-9);
  const last = Math.floor(high / factor / step + 1e-9);
  const found = [];
  for (let i = first; i <= last; i++) {
    const shown = Number((i * step).toPrecision(12)) + 0; // + 0: no minus zero
    found.push({ at: shown * factor, shown });
  }
  return found;
}

/**
 * Move labels as little as may be (least squares) so that they stand in their order and never overlap, inside
 * [low, high] where that has room for all; else they keep their distance and run on beyond `high`.
 * @param {{at: number, size: number}[]} labels wanted centre and size along the line
 * @param {boolean} inOrder keep the order of the input; else they are put in the order of their places
 * @returns {number[]} centres, in the order of the input
 */
export function spread(labels, low = -Infinity, high = Infinity, gap = 0, inOrder = false) {
  const order = labels.map((_, i) => i);
  if (!inOrder) order.sort((a, b) => labels[a].at - labels[b].at || a - b);
  // With the room that earlier labels take subtracted, "no overlap" is "not falling": isotonic regression, by
  // pooling neighbours that are out of order.
  let before = 0;
  /** @type {{sum: number, n: number}[]} */
  const pools = [];
  const offsets = [];
  for (const i of order) {
    const offset = before + labels[i].size / 2;
    offsets.push(offset);
    before += labels[i].size + gap;
    pools.push({ sum: labels[i].at - offset, n: 1 });
    while (pools.length > 1) {
      const b = pools[pools.length - 1];
      const a = pools[pools.length - 2];
      if (a.sum / a.n <= b.sum / b.n) break;
      pools.splice(-2, 2, { sum: a.sum + b.sum, n: a.n + b.n });
    }
  }
  const total = before - (labels.length ? gap : 0);
  const lastStart = Math.max(low, high - total); // where there is no room, `low` wins
  /** @type {number[]} */
  const centres = new Array(labels.length);
  let k = 0;
  for (const pool of pools) {
    const start = Math.min(Math.max(pool.sum / pool.n, low), lastStart);
    for (let n = 0; n < pool.n; n++, k++) centres[order[k]] = start + offsets[k];
  }
  return centres;
}

/**
 * Labels that hang over marks on a line, each with a leader down to its mark: those of the left half run to the right
 * of their mark, the others to the left. A label stands in a row above all whose box or leader it would meet.
 * @param {{at: number, size: number}[]} labels mark, and width that the label takes [px]
 * @returns {{left: number, right: number, row: number}[]} rows from 0, the lowest, up
 */
export function hang(labels, /** @type {number} */ width, gap = 0) {
  const boxes = labels.map(({ at, size }) => {
    const left = at < width / 2 ? at : at - size;
    return { left, right: left + size, row: 0 };
  });
  const order = labels.map((_, i) => i);
  const early = order.filter((i) => labels[i].at < width / 2).sort((a, b) => labels[b].at - labels[a].at);
  const late = order.filter((i) => labels[i].at >= width / 2).sort((a, b) => labels[a].at - labels[b].at);
  /** @type {number[]} */
  const placed = [];
  for (const i of [...early, ...late]) {
    const box = boxes[i];
    const met = placed.filter(
      (j) =>
        (box.left < boxes[j].right + gap && boxes[j].left < box.right + gap) ||
        (labels[j].at > box.left - gap && labels[j].at < box.right + gap),
    );
    box.row = met.length ? 1 + Math.max(...met.map((j) => boxes[j].row)) : 0;
    placed.push(i);
  }
  return boxes;
}

/** Slanting lines that fill a rectangle, as the `d` of a path. A path needs no pattern, hence no id to clash. */
export function hatch(
  /** @type {number} */ x,
  /** @type {number} */ y,
  /** @type {number} */ width,
  /** @type {number} */ height,
  gap = 7,
) {
  let d = "";
  for (let c = gap; c < width + height; c += gap) {
    // the line u + v = c in the rectangle's own axes, from its lower left to its upper right
    const [u0, v0] = c <= height ? [0, c] : [c - height, height];
    const [u1, v1] = c <= width ? [c, 0] : [width, c - width];
    d += `M${round(x + u0)} ${round(y + v0)}L${round(x + u1)} ${round(y + v1)}`;
  }
  return d;
}

/** Points on a grid that fill a rectangle, as a path of lines without length (round caps make them dots). */
export function dots(
  /** @type {number} */ x,
  /** @type {number} */ y,
  /** @type {number} */ width,
  /** @type {number} */ height,
  gap = 6,
) {
  const across = Math.floor(width / gap);
  const down = Math.floor(height / gap);
  const x0 = x + (width - (across - 1) * gap) / 2;
  const y0 = y + (height - (down - 1) * gap) / 2;
  let d = "";
  for (let j = 0; j < down; j++)
    for (let i = 0; i < across; i++) d += `M${round(x0 + i * gap)} ${round(y0 + j * gap)}h0`;
  return d;
}

/** To a hundredth, for short paths. */
export const round = (/** @type {number} */ x) => Math.round(x * 100) / 100;

/**
 * What is shown of a strip along its length. `reach` is as far as anything known reaches; things beyond the end (or,
 * on the approach, before the start) within `near` lengths are drawn to scale, others are told in words. A bar that
 * passes the end by more than four lengths is cut. `start` is 0, or negative by what is shown before the start.
 * @param {{length?: number|null, roll?: number|null, over_50ft?: number|null, factored?: number|null,
 *   abort?: {distance?: number|null}|null, air_distance?: number|null}} figures
 * @param {{distance?: number|null}[]} obstacles
 */
export function stripExtent(figures, obstacles = [], approach = false, near = 0.35) {
  const { length, roll, over_50ft, factored, air_distance } = figures;
  const bars = [roll, over_50ft, factored, air_distance].filter((x) => known(x) && x > 0);
  const has = known(length) && length > 0;
  const longest = greatest(bars, 0);
  const cutAt = has ? 5 * length : Infinity;
  const cut = longest > cutAt;
  const reach = Math.max(has ? length : 0, Math.min(longest, cutAt));
  const limit = !has ? 0 : approach ? length * near : Math.max(reach - length, length * near);
  const isNear = (/** @type {{distance?: number|null}} */ o) =>
    has && known(o.distance) && o.distance >= 0 && o.distance <= limit;
  const shown = obstacles.filter(isNear);
  const furthest = greatest(
    shown.map((o) => o.distance),
    0,
  );
  return {
    reach,
    cut,
    near: shown,
    far: obstacles.filter((o) => !isNear(o)),
    start: approach ? -furthest : 0,
    extent: approach || !has ? reach : Math.max(reach, length + furthest),
  };
}

/** Where the mark of a measure stands when the bar leaves it there, so that the marks of a list stand in one line. */
export const MARK = 0.86;

/**
 * Bar and mark of a measure on [0, 1], both to the same scale from zero (or from the least, when one is negative).
 * The mark stands at `MARK`; a bar that would run off moves the mark to the left and is never cut.
 * @param {number|null|undefined} needed @param {number|null|undefined} available
 */
export function measureScale(needed, available) {
  const low = Math.min(0, least([needed, available], 0));
  const mark = Math.max(0, greatest([available], 0));
  const high = Math.max(low + (mark - low) / MARK, greatest([needed], 0));
  if (high === low) {
    return { zero: 0, needed: known(needed) ? 0 : null, available: known(available) ? MARK : null, over: false };
  }
  const at = linear([low, high], [0, 1]);
  return {
    zero: at(0),
    needed: known(needed) ? at(needed) : null,
    available: known(available) ? at(available) : null,
    over: known(needed) && known(available) && needed > available,
  };
}

/**
 * Ground along a strip: corners of its profile.
 * @param {{length: number, slope: number}[]} segments slope [rise/run], uphill along the motion positive
 * @returns {{distance: number, height: number}[]} from the start, whose height is 0
 */
export function groundProfile(segments) {
  const corners = [{ distance: 0, height: 0 }];
  for (const { length, slope } of segments) {
    const last = corners[corners.length - 1];
    corners.push({ distance: last.distance + length, height: last.height + length * slope });
  }
  return corners;
}

/** Height on a profile by straight lines; level beyond its ends. */
export function heightAt(/** @type {{distance: number, height: number}[]} */ corners, /** @type {number} */ distance) {
  if (!corners.length) return 0;
  if (distance <= corners[0].distance) return corners[0].height;
  for (let i = 1; i < corners.length; i++) {
    const [a, b] = [corners[i - 1], corners[i]];
    if (distance <= b.distance) {
      if (b.distance === a.distance) return b.height;
      return a.height + ((distance - a.distance) / (b.distance - a.distance)) * (b.height - a.height);
    }
  }
  return corners[corners.length - 1].height;
}

/** The greatest of 1, 2, 5, 10, 20, 50 by which heights may be drawn larger than lengths and still fit `room`. */
export function exaggeration(/** @type {number} */ heights, /** @type {number} */ scale, /** @type {number} */ room) {
  return [50, 20, 10, 5, 2].find((times) => heights * scale * times <= room) ?? 1;
}

/** How full a sock stands [0 to 1] in a wind [m/s]: straight out at 15 kt (FAA AC 150/5345-27). */
export function sockFullness(/** @type {number} */ speed) {
  return Math.min(1, Math.max(0, speed / ((15 * 1852) / 3600)));
}

/** An angle [rad] brought to [-pi, pi). */
export function aroundZero(/** @type {number} */ angle) {
  const turn = 2 * Math.PI;
  return ((((angle + Math.PI) % turn) + turn) % turn) - Math.PI;
}

/** Hours and minutes of an ISO time, on the clock of `offset` [min east of Greenwich]; null where it is no time. */
export function clock(/** @type {string|null|undefined} */ iso, /** @type {number|null} */ offset = null) {
  const at = typeof iso === "string" ? Date.parse(iso) : NaN;
  if (!Number.isFinite(at)) return null;
  const shift = offset ?? offsetOf(iso) ?? 0;
  return new Date(at + shift * 60000).toISOString().slice(11, 16);
}

/** Offset of an ISO time [min east of Greenwich]; null where it has none. */
export function offsetOf(/** @type {string|null|undefined} */ iso) {
  const match = /(?:(Z)|([+-])(\d\d):?(\d\d))$/.exec(iso ?? "");
  if (!match) return null;
  return match[1] ? 0 : (match[2] === "-" ? -1 : 1) * (Number(match[3]) * 60 + Number(match[4]));
}
