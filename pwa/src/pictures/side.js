// The strip from the side: its slopes, the way through the air near it, and what stands beyond the end.
import { nothing, svg } from "lit";

import { exaggeration, groundProfile, heightAt, known, linear, round, spread } from "./geometry.js";
import { widthOf } from "./lettering.js";
import { paragraph, tell, words } from "./parts.js";

/** @typedef {import("./parts.js").Format} Format @typedef {import("./parts.js").Size} Size */

const FIFTY_FEET = 15.24; // m
const ROOM = 84;

/**
 * @param {any} p @param {boolean} landing @param {Format} fmt @param {Size} size @param {any} seen
 * @returns {{ body: unknown, bottom: number, told: string[] }}
 */
export function sideView(p, landing, fmt, size, seen, top = 0) {
  const segments = (p.segments ?? []).filter((/** @type {any} */ s) => known(s.length) && known(s.slope));
  if (!segments.length) {
    const text = tell(fmt, "unsaid", { subject: tell(fmt, "slope") });
    const note = paragraph(size, 0, top, size.width, text);
    return { ...note, told: [text] };
  }
  const ground = groundProfile(segments);
  const end = ground[ground.length - 1];
  const air = cutOff(wayThroughAir(p, landing, ground), Math.max(seen.extent, end.distance));
  const foot = landing ? ground[0] : end;
  const stands = seen.near
    .filter((/** @type {any} */ o) => known(o.height))
    .map((/** @type {any} */ o) => ({
      distance: landing ? -o.distance : end.distance + o.distance,
      foot: foot.height,
      height: o.height,
    }));
  const across = linear(
    [seen.start, Math.max(seen.extent, end.distance)],
    size.wide ? [24, size.width - 24] : [4, size.width - 4],
  );
  const heights = [
    ...ground.map((g) => g.height),
    ...air.map((a) => a.height),
    ...stands.map((/** @type {any} */ s) => s.foot + s.height),
  ];
  const [low, high] = [Math.min(...heights), Math.max(...heights)];
  const times = exaggeration(high - low, across(1) - across(0), ROOM);
  const drawnHeight = (high - low) * (across(1) - across(0)) * times;
  const text = paragraph(
    size,
    0,
    top,
    size.width,
    tell(fmt, times > 1 ? "side.times" : "side.true", { times: String(times) }),
    "faint",
  );
  const base = text.bottom + 8 + Math.min(drawnHeight, ROOM * 1.6);
  const up = linear(
    [low, low + 1],
    [base, base - (drawnHeight > 0 ? Math.min(drawnHeight, ROOM * 1.6) / (high - low) : 0)],
  );
  const path = (/** @type {{distance: number, height: number}[]} */ points) =>
    points.map((q, i) => `${i ? "L" : "M"}${round(across(q.distance))} ${round(up(q.height))}`).join("");
  const body = [
    svg`<path class="pic-ground" d="${path(ground)}V${round(base + 8)}H${round(across(0))}z"/>`,
    svg`<path class="pic-line pic-line-thick" d=${path(ground)}/>`,
    segments.slice(1).map((/** @type {any} */ _, /** @type {number} */ i) => {
      const corner = ground[i + 1];
      return svg`<path class="pic-line" d="M${round(across(corner.distance))} ${round(up(corner.height))}V${round(base + 8)}"/>`;
    }),
    stands.map((/** @type {any} */ s) => {
      const [x, foot, tip] = [across(s.distance), up(s.foot), up(s.foot + s.height)];
      return svg`<path class="pic-peak" d="M${round(x)} ${round(tip)}L${round(x + 4)} ${round(foot)}H${round(x - 4)}z"/>`;
    }),
    air.length > 1 ? svg`<path class="pic-line pic-dashed" d=${path(air)}/>` : nothing,
  ];
  const labels = slopeLabels(segments, ground, across, fmt, size, base + 8);
  return { body: [text.body, body, labels.body], bottom: labels.bottom, told: labels.told };
}

/** From lift-off to 50 ft above it, or from 50 ft above the threshold to the ground: straight, as far as both are known. */
function wayThroughAir(/** @type {any} */ p, /** @type {boolean} */ landing, /** @type {any[]} */ ground) {
  if (landing) {
    if (!known(p.air_distance)) return [];
    return [
      { distance: 0, height: heightAt(ground, 0) + FIFTY_FEET },
      { distance: p.air_distance, height: heightAt(ground, p.air_distance) },
    ];
  }
  if (!known(p.roll) || !known(p.over_50ft)) return [];
  const from = heightAt(ground, p.roll);
  return [
    { distance: p.roll, height: from },
    { distance: p.over_50ft, height: from + FIFTY_FEET },
  ];
}

/** A straight way, no further than `limit`. */
function cutOff(/** @type {{distance: number, height: number}[]} */ way, /** @type {number} */ limit) {
  if (way.length < 2 || way[1].distance <= limit) return way;
  return way[0].distance >= limit ? [] : [way[0], { distance: limit, height: heightAt(way, limit) }];
}

/** The slopes in words under the ground; where there is no room for all, the steepest. */
function slopeLabels(
  /** @type {any[]} */ segments,
  /** @type {any[]} */ ground,
  /** @type {(x: number) => number} */ across,
  /** @type {Format} */ fmt,
  /** @type {Size} */ size,
  /** @type {number} */ top,
) {
  const all = segments.map((s, i) => {
    const text =
      Math.abs(s.slope) < 5e-4
        ? tell(fmt, "slope.level")
        : tell(fmt, s.slope > 0 ? "slope.up" : "slope.down", { slope: Math.abs(s.slope) });
    return {
      text,
      steep: Math.abs(s.slope),
      at: across((ground[i].distance + ground[i + 1].distance) / 2),
      size: widthOf(text, size.font),
    };
  });
  const gap = 12;
  let shown = all;
  while (shown.length > 1 && shown.reduce((sum, l) => sum + l.size + gap, -gap) > size.width) {
    const least = Math.min(...shown.map((l) => l.steep));
    const drop = shown.findIndex((l) => l.steep === least);
    shown = shown.filter((_, i) => i !== drop);
  }
  const centres = spread(shown, 0, size.width, gap);
  return {
    body: shown.map((l, i) =>
      words(size, centres[i], top + 6 + size.line / 2, l.text, { anchor: "middle", tone: "faint" }),
    ),
    bottom: top + 8 + size.line,
    told: all.map((l) => l.text),
  };
}
