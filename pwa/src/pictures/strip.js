// The strip drawn along its length, to scale: the take-off on it or the landing, what lies beyond, the sock, and the
// ground from the side. On a phone motion goes up, on a wide page to the right.
import { nothing, svg } from "lit";

import { known, linear, round, stripExtent, ticks } from "./geometry.js";
import { widthOf } from "./lettering.js";
import {
  both,
  boxOf,
  column,
  columnHeight,
  filled,
  line,
  marksAcross,
  orUnsaid,
  paragraphs,
  row,
  shortened,
  tell,
  tornEdge,
  unitSize,
  words,
} from "./parts.js";
import { sideView } from "./side.js";
import { sourceBars } from "./sources.js";
import { windBand } from "./sock.js";

/** @typedef {import("./parts.js").Format} Format @typedef {import("./parts.js").Size} Size
 * @typedef {import("./parts.js").Label} Label */

const MOST_OBSTACLES = 4; // in words; all are drawn

/** Take-off and landing alike. @param {any} answer @param {Format} fmt */
export function stripPicture(answer, fmt) {
  return both((size) => draw(answer, answer.question === "stops", fmt, size));
}

function draw(
  /** @type {any} */ answer,
  /** @type {boolean} */ landing,
  /** @type {Format} */ fmt,
  /** @type {Size} */ size,
) {
  const p = answer.picture;
  const obstacles = [...(p.obstacles ?? [])].sort(byClearance);
  const never = isNever(answer);
  const seen = stripExtent(p, obstacles, landing);
  if (never && known(p.length)) Object.assign(seen, { extent: Math.max(seen.extent, 1.3 * p.length), cut: true });
  const named = obstacles.slice(0, MOST_OBSTACLES);
  const marks = landing ? landingMarks(p, never, fmt) : takeOffMarks(p, never, fmt);
  const labelled = (/** @type {any} */ o) =>
    obstacleLabel(o, landing ? -o.distance : p.length + o.distance, landing, fmt);
  const near = named.filter((o) => seen.near.includes(o)).map(labelled);
  const far = named.filter((o) => !seen.near.includes(o)).map((o) => ({ ...labelled(o), at: null }));
  /** @type {Label[]} */
  const stands = [];
  const stated = p.obstacles_stated ?? (p.obstacles == null ? "unknown" : "listed");
  const where = landing ? "before" : "beyond";
  if (stated === "unknown")
    stands.push({ text: tell(fmt, "unsaid", { subject: tell(fmt, `obstacles.${where}`) }), at: null, tone: "" });
  if (stated === "none") stands.push({ text: tell(fmt, `obstacles.none_${where}`), at: null, tone: "faint" });
  if (obstacles.length > named.length) {
    stands.push({
      text: tell(fmt, "obstacles.more", { count: String(obstacles.length - named.length) }),
      at: null,
      tone: "faint",
    });
  }
  const title = tell(fmt, landing ? "strip.landing" : "strip.takeoff", { designator: String(p.designator ?? "") });
  const wind = windBand(fmt, size, p.wind, p.bearing ?? null);
  const pointing = marks.filter((m) => m.at !== null);
  const unsaid = marks.filter((m) => m.at === null);
  const plan = size.wide
    ? across(p, landing, fmt, size, seen, pointing, wind.bottom + 8)
    : upwards(p, landing, fmt, size, seen, [...pointing, ...near], landing ? [] : far, wind.bottom + 8);
  const list = paragraphs(size, 0, plan.bottom + 8, size.width, [
    ...unsaid,
    ...(size.wide ? [...near, ...far] : landing ? far : []),
    ...stands,
  ]);
  const side = sideView(p, landing, fmt, size, seen, list.bottom + 14);
  const sources = sourceBars(p, fmt, size, side.bottom + 10);
  const speeds = speedNotes(answer, landing, fmt);
  const notes = paragraphs(size, 0, sources.bottom + 8, size.width, speeds);
  const told = [
    title,
    ...wind.told,
    ...[...marks, ...near, ...far, ...stands].map((l) => l.text),
    ...side.told,
    ...sources.told,
    ...speeds.map((n) => n.text),
  ];
  return {
    height: notes.bottom + 4,
    body: [wind.body, plan.body, list.body, side.body, sources.body, notes.body],
    told,
  };
}

/** What can't be said first, then what is cleared by least, then what is nearest. */
function byClearance(/** @type {any} */ a, /** @type {any} */ b) {
  const rank = (/** @type {any} */ o) => (known(o.clearance) ? o.clearance : o.clearance === null ? -1e9 : 1e9);
  return rank(a) - rank(b) || (known(a.distance) ? a.distance : -1) - (known(b.distance) ? b.distance : -1);
}

/** A thing that stands up; how far it is cleared only where the answer knows of that. @returns {Label} */
function obstacleLabel(
  /** @type {any} */ o,
  /** @type {number} */ at,
  /** @type {boolean} */ landing,
  /** @type {Format} */ fmt,
) {
  const what = !known(o.distance) ? "obstacle.nowhere" : landing ? "obstacle.before" : "obstacle";
  const thing = known(o.height)
    ? tell(fmt, "obstacle.high", { name: shortened(o.name), height: o.height })
    : shortened(o.name);
  const where = tell(fmt, what, { thing, distance: o.distance });
  if (o.clearance === undefined) return { text: where, at: known(at) ? at : null, tone: "faint" };
  const under = known(o.clearance) && o.clearance < 0;
  const how = !known(o.clearance)
    ? tell(fmt, "cant_say")
    : tell(fmt, under ? "obstacle.under" : "obstacle.over", { clearance: Math.abs(o.clearance) });
  return {
    text: tell(fmt, "obstacle.judged", { where, how }),
    at: known(at) ? at : null,
    tone: under ? "accent" : "faint",
  };
}

/** Is the distance without end: a "no" that has no figure? */
function isNever(/** @type {any} */ answer) {
  return (answer.measures ?? []).some(
    (/** @type {any} */ m) => /^(takeoff|landing)_distance$/.test(m.name) && m.verdict === "no" && !known(m.needed),
  );
}

/** Labels of the take-off; `at` is a distance along the strip [m]. @returns {Label[]} */
function takeOffMarks(/** @type {any} */ p, /** @type {boolean} */ never, /** @type {Format} */ fmt) {
  /** @type {Label[]} */
  const marks = [];
  if (p.abort && known(p.abort.distance)) {
    const { distance, indicated, rule } = p.abort;
    marks.push({
      at: distance,
      tone: "accent",
      text: known(indicated)
        ? tell(fmt, "abort.speed", { distance, speed: indicated })
        : tell(fmt, rule === "tail_up" ? "abort.tail_up" : "abort.airborne", { distance }),
    });
  } else marks.push({ at: null, text: tell(fmt, "unsaid", { subject: tell(fmt, "abort") }) });
  marks.push({
    at: p.roll,
    text: orUnsaid(fmt, p.roll, "lift_off", { roll: p.roll }, "lift_off.name"),
    tone: "strong",
  });
  marks.push({
    at: p.over_50ft,
    text: orUnsaid(fmt, p.over_50ft, "over_50ft", { distance: p.over_50ft }, "over_50ft.name"),
  });
  return finish(p, fmt, never ? "never.takeoff" : "", marks);
}

/** Labels of the landing. @returns {Label[]} */
function landingMarks(/** @type {any} */ p, /** @type {boolean} */ never, /** @type {Format} */ fmt) {
  return finish(p, fmt, never ? "never.landing" : "", [
    { at: 0, text: tell(fmt, "threshold") },
    {
      at: p.air_distance,
      text: orUnsaid(fmt, p.air_distance, "touchdown", { distance: p.air_distance }, "touchdown.name"),
    },
    {
      at: p.over_50ft,
      text: orUnsaid(fmt, p.over_50ft, "stop", { distance: p.over_50ft }, "stop.name"),
      tone: "strong",
    },
  ]);
}

/** The marks that both have: with the factor, and the far end. */
function finish(
  /** @type {any} */ p,
  /** @type {Format} */ fmt,
  /** @type {string} */ never,
  /** @type {Label[]} */ marks,
) {
  if (never) {
    const ahead = known(p.length) ? 1.3 * p.length : null;
    const found = marks.filter((m) => known(m.at));
    found.push({ at: ahead, tone: "accent", text: tell(fmt, never) });
    found.push({ at: p.length, text: orUnsaid(fmt, p.length, "far_end", { length: p.length }, "far_end.name") });
    return found.map((m) => (known(m.at) ? m : { ...m, at: null }));
  }
  const over = known(p.factored) && known(p.length) ? p.factored - p.length : 0;
  const values = { factored: p.factored, factor: p.factor };
  const wants = orUnsaid(fmt, p.factored, known(p.factor) ? "factored" : "wanted", values, "factored.name");
  marks.push(
    over > 0
      ? { at: p.factored, tone: "accent", text: `${wants}\n${tell(fmt, "past_end", { over })}` }
      : { at: p.factored, text: wants },
  );
  marks.push({ at: p.length, text: orUnsaid(fmt, p.length, "far_end", { length: p.length }, "far_end.name") });
  return marks.map((m) => (known(m.at) ? m : { text: m.text, at: null }));
}

/** @returns {{ text: string, tone?: import("./parts.js").Tone }[]} */
function speedNotes(/** @type {any} */ answer, /** @type {boolean} */ landing, /** @type {Format} */ fmt) {
  /** @type {{ text: string, tone?: import("./parts.js").Tone }[]} */
  const notes = [];
  const p = answer.picture;
  if (landing) {
    notes.push({
      text: orUnsaid(
        fmt,
        p.approach_indicated,
        "approach_speed",
        { speed: p.approach_indicated },
        "approach_speed.name",
      ),
    });
    const around = p.go_around;
    // Where nobody may go around there is no such measure, and the answer's notes say where one is committed.
    const asked = around || (answer.measures ?? []).some((/** @type {any} */ m) => m.name === "go_around");
    if (!asked) return notes;
    if (!known(around?.gradient) || !known(around?.needed))
      notes.push({ text: tell(fmt, "unsaid", { subject: tell(fmt, "go_around.name") }) });
    else notes.push({ text: tell(fmt, "go_around", around), tone: around.gradient < around.needed ? "accent" : "" });
  } else {
    notes.push({
      text: orUnsaid(
        fmt,
        p.lift_off_indicated,
        "lift_off_speed",
        { speed: p.lift_off_indicated },
        "lift_off_speed.name",
      ),
    });
  }
  return notes;
}

/** Upright, for a phone. */
function upwards(
  /** @type {any} */ p,
  /** @type {boolean} */ landing,
  /** @type {Format} */ fmt,
  /** @type {Size} */ size,
  /** @type {any} */ seen,
  /** @type {Label[]} */ labels,
  /** @type {Label[]} */ beyond,
  /** @type {number} */ top,
) {
  const marked = ticks(0, seen.reach, 5, unitSize(fmt, "length"));
  const left = Math.max(66, 17 + Math.max(0, ...marked.map((m) => widthOf(String(m.shown), size.font))));
  const [right, textAt] = [left + 52, left + 76];
  const width = size.width - textAt;
  const further = beyond.length > 0 && seen.far.length > 0;
  const head = paragraphs(size, further ? 22 : 0, top, size.width - (further ? 22 : 0), beyond, 4);
  const room = Math.max(300, columnHeight(size, width, labels));
  const high = head.bottom + (beyond.length ? 26 : 16);
  const base = high + room;
  const along = linear([seen.start, seen.extent || 1], [base, high]);
  const cross = (/** @type {number} */ c) => left + c * (right - left);
  // Upwards is further on: of two labels at one height the further one stands above.
  const pointed = [...labels]
    .sort((a, b) => Number(b.at) - Number(a.at))
    .map((l) => ({
      ...l,
      at: along(Math.min(Number(l.at), seen.extent)),
      from: outside(p, Number(l.at)) ? right - 10 : right,
    }));
  const beside = column(size, pointed, { x: textAt, width, low: high - 10, high: base + 12, from: right });
  const scale = marked.map(({ at, shown }, i) => [
    line(left - 8, along(at), left, along(at)),
    words(size, left - 13, along(at), i ? String(shown) : fmt.q(0, "length"), { tone: "faint", anchor: "end" }),
  ]);
  const drawn = onStrip(p, landing, seen, {
    strip: (a, b, c0, c1) => boxOf(cross(c0), along(a), cross(c1), along(b)),
    across: (at, from, to, kind) => line(cross(from), along(at), cross(to), along(at), kind),
    peak: (at, c, height) => peak(cross(c), along(at) + height / 2, height),
    torn: (at) => tornEdge(cross(0.22), along(at), cross(0.78), along(at)),
  });
  const furtherOn = further ? peak(9, top + size.line * 0.5 + 8, 16) : nothing;
  return { body: [head.body, furtherOn, scale, drawn, beside.body], bottom: Math.max(base + 12, beside.high) };
}

/** Beyond the strip, where only the bar or nothing is beside the place. */
const outside = (/** @type {any} */ p, /** @type {number} */ at) => at < 0 || (known(p.length) && at > p.length);

/** Lying, for a wide page. */
function across(
  /** @type {any} */ p,
  /** @type {boolean} */ landing,
  /** @type {Format} */ fmt,
  /** @type {Size} */ size,
  /** @type {any} */ seen,
  /** @type {Label[]} */ marks,
  /** @type {number} */ top,
) {
  const [high, low] = [top + 30, top + 86];
  const along = linear([seen.start, seen.extent || 1], [24, size.width - 24]);
  const cross = (/** @type {number} */ c) => high + c * (low - high);
  const marked = marksAcross(size, 0, seen.reach, along, 6, unitSize(fmt, "length"));
  const scale = marked.map(({ at, shown }, i) => [
    line(along(at), high - 8, along(at), high),
    words(size, along(at), top + 10, i ? String(shown) : fmt.q(0, "length"), { tone: "faint", anchor: "middle" }),
  ]);
  const drawn = onStrip(p, landing, seen, {
    strip: (a, b, c0, c1) => boxOf(along(a), cross(c0), along(b), cross(c1)),
    across: (at, from, to, kind) => line(along(at), cross(from), along(at), cross(to), kind),
    peak: (at, c, height) => peak(along(at), cross(c) + height / 2, height),
    torn: (at) => tornEdge(along(at), cross(0.22), along(at), cross(0.78)),
  });
  const pointed = [...marks]
    .sort((a, b) => Number(a.at) - Number(b.at))
    .map((l) => ({ ...l, at: along(Math.min(Number(l.at), seen.extent)) }));
  const labels = row(size, pointed, { top: low + 34, low: 0, high: size.width, from: low });
  return { body: [scale, drawn, labels.body], bottom: labels.bottom };
}

/**
 * Strip, bars, abort line and things beyond, through the four strokes of one way to lie.
 * @param {any} p @param {boolean} landing @param {any} seen
 * @param {{ strip: (a: number, b: number, c0: number, c1: number) => import("./parts.js").Box,
 *   across: (at: number, from: number, to: number, kind?: string) => unknown,
 *   peak: (at: number, c: number, height: number) => unknown, torn: (at: number) => unknown }} stroke
 */
function onStrip(p, landing, seen, stroke) {
  const parts = [];
  const end = known(p.length) ? p.length : seen.extent || 1;
  parts.push(filled(stroke.strip(0, end, 0, 1), known(p.length) ? "plain" : "dotted"));
  const bar = (/** @type {number|null} */ a, /** @type {number|null} */ b, /** @type {any} */ fill) => {
    if (known(a) && known(b) && b > a)
      parts.push(filled(stroke.strip(Math.min(a, seen.extent), Math.min(b, seen.extent), 0.22, 0.78), fill));
  };
  const whole = p.over_50ft;
  if (landing) {
    bar(0, p.air_distance, "plain");
    bar(known(p.air_distance) ? p.air_distance : null, whole, "solid");
    if (!known(p.air_distance)) bar(0, whole, "plain");
  } else {
    bar(0, p.roll, "solid");
    bar(known(p.roll) ? p.roll : 0, whole, "plain");
  }
  bar(known(whole) ? whole : known(p.factored) ? 0 : null, p.factored, "dots");
  const over = known(p.length) && known(p.factored) && p.factored > p.length;
  if (over) parts.push(stroke.across(p.length, -0.12, 1.12, "pic-line-thick"));
  if (seen.cut && !known(whole) && known(p.length)) {
    parts.push(filled(stroke.strip(known(p.roll) ? p.roll : 0, seen.extent, 0.22, 0.78), "accent-hatched"));
    parts.push(stroke.across(p.length, -0.12, 1.12, "pic-line-thick"));
  }
  if (seen.cut) parts.push(stroke.torn(seen.extent));
  seen.near.forEach((/** @type {any} */ o) => {
    const height = Math.min(26, Math.max(12, known(o.height) ? o.height : 12));
    parts.push(stroke.peak(landing ? -o.distance : p.length + o.distance, over && !landing ? 0.9 : 0.5, height));
  });
  if (known(p.abort?.distance)) parts.push(stroke.across(p.abort.distance, 0, 1, "pic-line-accent pic-line-thick"));
  return parts;
}

/** Something that stands up, seen from anywhere; `y` is its foot. */
export const peak = (/** @type {number} */ x, /** @type {number} */ y, /** @type {number} */ height) =>
  svg`<path class="pic-peak" d="M${round(x)} ${round(y - height)}l${round(height * 0.42)} ${round(height)}h${round(-height * 0.84)}z"/>`;
