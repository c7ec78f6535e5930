// The strip drawn along its length, to scale: the take-off on it or the landing, what lies beyond, the sock, and the
// ground from the side. On a phone motion goes up, on a wide page to the right.
import { nothing, svg } from "lit";

import { known, linear, round, stripExtent, ticks } from "./geometry.js";
import {
  both, boxOf, column, columnHeight, filled, line, orUnsaid, paragraphs, row, shortened, tell, unitSize, words,
} from "./parts.js";
import { sideView } from "./side.js";
import { sourceBars } from "./sources.js";
import { windBand } from "./sock.js";

/** @typedef {import("./parts.js").Format} Format @typedef {import("./parts.js").Size} Size
 * @typedef {import("./parts.js").Label} Label */

const MOST_OBSTACLES = 4; // in words; all are drawn

/** Take-off and landing alike. @param {any} answer @param {Format} fmt */
export function stripPicture(answer, fmt) {
  const p = answer.picture;
  const landing = answer.question === "stops";
  return both((size) => draw(p, landing, fmt, size));
}

function draw(/** @type {any} */ p, /** @type {boolean} */ landing, /** @type {Format} */ fmt, /** @type {Size} */ size) {
  const obstacles = [...(p.obstacles ?? [])].sort(byClearance);
  const seen = stripExtent(p, obstacles);
  const named = obstacles.slice(0, MOST_OBSTACLES);
  const marks = landing ? landingMarks(p, fmt) : takeOffMarks(p, fmt);
  const nearLabels = named.filter((o) => seen.near.includes(o)).map((o) => obstacleLabel(o, p.length, fmt));
  const beyond = named.filter((o) => !seen.near.includes(o)).map((o) => obstacleLabel(o, p.length, fmt));
  if (p.obstacles == null) beyond.push({ text: tell(fmt, "unsaid", { subject: tell(fmt, "obstacles") }), at: null });
  if (obstacles.length > named.length) {
    const count = String(obstacles.length - named.length);
    beyond.push({ text: tell(fmt, "more_obstacles", { count }), at: null, tone: "faint" });
  }
  const title = tell(fmt, landing ? "strip.landing" : "strip.takeoff", { designator: String(p.designator ?? "") });
  const wind = windBand(fmt, size, p.wind, p.bearing ?? null);
  const pointing = marks.filter((m) => m.at !== null);
  const unsaid = marks.filter((m) => m.at === null);
  const drawn = size.wide
    ? across(p, landing, fmt, size, seen, pointing, [...nearLabels, ...beyond], wind.bottom + 12)
    : upwards(p, landing, fmt, size, seen, [...pointing, ...nearLabels], beyond, wind.bottom + 12);
  const list = paragraphs(size, 0, drawn.bottom + (unsaid.length ? 6 : 0), size.width, unsaid);
  const plan = { body: [drawn.body, list.body], bottom: list.bottom };
  const side = sideView(p, landing, fmt, size, seen, plan.bottom + 14);
  const sources = sourceBars(p, fmt, size, side.bottom + 10);
  const notes = paragraphs(size, 0, sources.bottom + 8, size.width, speedNotes(p, landing, fmt));
  const told = [title, ...wind.told, ...[...marks, ...nearLabels, ...beyond].map((l) => l.text), ...side.told, ...sources.told,
    ...speedNotes(p, landing, fmt).map((n) => n.text)];
  return { height: notes.bottom + 4, body: [wind.body, plan.body, side.body, sources.body, notes.body], told };
}

/** What is not known first, then what is cleared by least. */
function byClearance(/** @type {any} */ a, /** @type {any} */ b) {
  const rank = (/** @type {any} */ o) => (known(o.clearance) ? o.clearance : -Infinity);
  return rank(a) === rank(b) ? 0 : rank(a) - rank(b);
}

/** @returns {Label} */
function obstacleLabel(/** @type {any} */ o, /** @type {unknown} */ length, /** @type {Format} */ fmt) {
  const where = tell(fmt, known(o.distance) ? "obstacle" : "obstacle.nowhere",
    { name: shortened(o.name), height: o.height, distance: o.distance });
  const how = !known(o.clearance)
    ? tell(fmt, "obstacle.unsaid")
    : tell(fmt, o.clearance >= 0 ? "obstacle.over" : "obstacle.under", { clearance: Math.abs(o.clearance) });
  const bad = known(o.clearance) && o.clearance < 0;
  return { text: `${where} ${how}`, at: known(o.distance) && known(length) ? length + o.distance : null, tone: bad ? "accent" : "faint" };
}

/** Labels of the take-off; `at` is a distance along the strip [m]. @returns {Label[]} */
function takeOffMarks(/** @type {any} */ p, /** @type {Format} */ fmt) {
  /** @type {Label[]} */
  const marks = [];
  if (p.abort && known(p.abort.distance)) {
    const { distance, indicated, rule } = p.abort;
    marks.push({
      at: distance, tone: "accent",
      text: known(indicated)
        ? tell(fmt, "abort.speed", { distance, speed: indicated })
        : tell(fmt, rule === "tail_up" ? "abort.tail_up" : "abort.airborne", { distance }),
    });
  } else marks.push({ at: null, text: tell(fmt, "unsaid", { subject: tell(fmt, "abort") }) });
  marks.push({ at: p.roll, text: orUnsaid(fmt, p.roll, "lift_off", { roll: p.roll }, "lift_off.name"), tone: "strong" });
  marks.push({ at: p.over_50ft, text: orUnsaid(fmt, p.over_50ft, "over_50ft", { distance: p.over_50ft }, "over_50ft.name") });
  return finish(p, fmt, marks);
}

/** Labels of the landing. @returns {Label[]} */
function landingMarks(/** @type {any} */ p, /** @type {Format} */ fmt) {
  return finish(p, fmt, [
    { at: 0, text: tell(fmt, "threshold") },
    { at: p.air_distance, text: orUnsaid(fmt, p.air_distance, "touchdown", { distance: p.air_distance }, "touchdown.name") },
    { at: p.over_50ft, text: orUnsaid(fmt, p.over_50ft, "stop", { distance: p.over_50ft }, "stop.name"), tone: "strong" },
  ]);
}

/** The marks that both have: with the factor, and the far end. */
function finish(/** @type {any} */ p, /** @type {Format} */ fmt, /** @type {Label[]} */ marks) {
  const over = known(p.factored) && known(p.length) ? p.factored - p.length : 0;
  const values = { factored: p.factored, factor: p.factor };
  const wants = orUnsaid(fmt, p.factored, known(p.factor) ? "factored" : "wanted", values, "factored.name");
  marks.push(over > 0
    ? { at: p.factored, tone: "accent", text: `${wants}\n${tell(fmt, "past_end", { over })}` }
    : { at: p.factored, text: wants });
  marks.push({ at: p.length, text: orUnsaid(fmt, p.length, "far_end", { length: p.length }, "far_end.name") });
  return marks.map((m) => (known(m.at) ? m : { ...m, at: null, tone: "faint" }));
}

/** @returns {{ text: string, tone?: import("./parts.js").Tone }[]} */
function speedNotes(/** @type {any} */ p, /** @type {boolean} */ landing, /** @type {Format} */ fmt) {
  /** @type {{ text: string, tone?: import("./parts.js").Tone }[]} */
  const notes = [];
  if (landing) {
    notes.push({ text: orUnsaid(fmt, p.approach_indicated, "approach_speed", { speed: p.approach_indicated }, "approach_speed.name") });
    const around = p.go_around;
    if (!known(around?.gradient) || !known(around?.needed)) notes.push({ text: tell(fmt, "unsaid", { subject: tell(fmt, "go_around.name") }) });
    else notes.push({ text: tell(fmt, "go_around", around), tone: around.gradient < around.needed ? "accent" : "" });
  } else {
    notes.push({ text: orUnsaid(fmt, p.lift_off_indicated, "lift_off_speed", { speed: p.lift_off_indicated }, "lift_off_speed.name") });
  }
  return notes;
}

/** Upright, for a phone. */
function upwards(/** @type {any} */ p, /** @type {boolean} */ landing, /** @type {Format} */ fmt, /** @type {Size} */ size,
  /** @type {any} */ seen, /** @type {Label[]} */ labels, /** @type {Label[]} */ beyond, /** @type {number} */ top) {
  const [left, right, textAt] = [66, 118, 142];
  const width = size.width - textAt;
  const head = paragraphs(size, 22, top, size.width - 22, beyond.map(({ text, tone }) => ({ text, tone })), 4);
  const room = Math.max(340, columnHeight(size, width, labels));
  const high = head.bottom + (beyond.length ? 26 : 16);
  const base = high + room;
  const along = linear([0, seen.extent || 1], [base, high]);
  const pointed = [...labels].sort((a, b) => (b.at ?? -1) - (a.at ?? -1)).map((l) =>
    l.at === null ? l : { ...l, at: along(Math.min(Number(l.at), seen.extent)), from: known(p.length) && Number(l.at) > p.length ? right - 10 : right });
  const column_ = column(size, pointed, { x: textAt, width, low: high - 10, high: base + 12, from: right });
  const scale = ticks(0, seen.reach, 5, unitSize(fmt, "length")).map(({ at, shown }, i) => [
    line(left - 8, along(at), left, along(at)),
    words(size, left - 13, along(at), i ? String(shown) : fmt.q(0, "length"), { tone: "faint", anchor: "end" }),
  ]);
  const drawn = onStrip(p, landing, seen, {
    strip: (a, b, c0, c1) => boxOf(left + c0 * (right - left), along(a), left + c1 * (right - left), along(b)),
    across: (at, from, to, kind) => line(left + from * (right - left), along(at), left + to * (right - left), along(at), kind),
    peak: (at, c, height) => peak(left + c * (right - left), along(at) + height / 2, height),
    torn: (at) => torn(left + 0.22 * (right - left), along(at), left + 0.78 * (right - left), along(at)),
  });
  const furtherOn = beyond.length && seen.far.length ? peak(9, top + size.line * 0.5 + 8, 16) : nothing;
  return { body: [head.body, furtherOn, scale, drawn, column_.body], bottom: Math.max(base + 12, column_.high) };
}

/** Lying, for a wide page. */
function across(/** @type {any} */ p, /** @type {boolean} */ landing, /** @type {Format} */ fmt, /** @type {Size} */ size,
  /** @type {any} */ seen, /** @type {Label[]} */ marks, /** @type {Label[]} */ obstacles, /** @type {number} */ top) {
  const [high, low] = [top + 30, top + 86];
  const along = linear([0, seen.extent || 1], [24, size.width - 24]);
  const scale = ticks(0, seen.reach, 6, unitSize(fmt, "length")).map(({ at, shown }, i) => [
    line(along(at), high - 8, along(at), high),
    words(size, along(at), top + 10, i ? String(shown) : fmt.q(0, "length"), { tone: "faint", anchor: "middle" }),
  ]);
  const drawn = onStrip(p, landing, seen, {
    strip: (a, b, c0, c1) => boxOf(along(a), high + c0 * (low - high), along(b), high + c1 * (low - high)),
    across: (at, from, to, kind) => line(along(at), high + from * (low - high), along(at), high + to * (low - high), kind),
    peak: (at, c, height) => peak(along(at), high + c * (low - high) + height / 2, height),
    torn: (at) => torn(along(at), high + 0.22 * (low - high), along(at), high + 0.78 * (low - high)),
  });
  const labels = row(size, marks.map((l) => ({ ...l, at: l.at === null ? null : along(Math.min(l.at, seen.extent)) })),
    { top: low + 34, low: 0, high: size.width, from: low });
  const list = paragraphs(size, 0, labels.bottom + 10, size.width, obstacles.map(({ text, tone }) => ({ text, tone })), 2);
  return { body: [scale, drawn, labels.body, list.body], bottom: list.bottom };
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
    if (known(a) && known(b) && b > a) parts.push(filled(stroke.strip(Math.min(a, seen.extent), Math.min(b, seen.extent), 0.22, 0.78), fill));
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
  if (seen.cut) parts.push(stroke.torn(seen.extent));
  seen.near.forEach((/** @type {any} */ o) => {
    const height = Math.min(26, Math.max(12, known(o.height) ? o.height : 12));
    parts.push(stroke.peak(p.length + o.distance, over ? 0.9 : 0.5, height));
  });
  if (known(p.abort?.distance)) parts.push(stroke.across(p.abort.distance, 0, 1, "pic-line-accent pic-line-thick"));
  return parts;
}

/** Something that stands up, seen from anywhere; `y` is its foot. */
export const peak = (/** @type {number} */ x, /** @type {number} */ y, /** @type {number} */ height) =>
  svg`<path class="pic-peak" d="M${round(x)} ${round(y - height)}l${round(height * 0.42)} ${round(height)}h${round(-height * 0.84)}z"/>`;

/** The torn edge of a bar that goes on. */
function torn(/** @type {number} */ x0, /** @type {number} */ y0, /** @type {number} */ x1, /** @type {number} */ y1) {
  const n = 6;
  const upright = Math.abs(y1 - y0) > Math.abs(x1 - x0);
  let d = `M${round(x0)} ${round(y0)}`;
  for (let i = 1; i <= n; i++) {
    const t = i / n;
    const out = i % 2 && i < n ? 6 : 0;
    d += `L${round(x0 + (x1 - x0) * t + (upright ? -out : 0))} ${round(y0 + (y1 - y0) * t + (upright ? 0 : out))}`;
  }
  return svg`<path class="pic-torn" d=${d}/>`;
}
