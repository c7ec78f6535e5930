// Fuel as one stack, part on part, against what is aboard and what the tanks hold; and the day as a line.
import { svg } from "lit";

import { clock, greatest, known, linear, offsetOf, round, spread } from "./geometry.js";
import { widthOf } from "./lettering.js";
import { both, boxOf, column, columnHeight, filled, line, paragraphs, tell, tornEdge, words } from "./parts.js";

/** @typedef {import("./parts.js").Format} Format @typedef {import("./parts.js").Size} Size
 * @typedef {import("./parts.js").Label} Label */

/** @type {Record<string, "solid"|"plain"|"hatched"|"dots"|"pale">} */
const FILL = {
  taxi: "solid",
  climb: "pale",
  cruise: "plain",
  descent: "pale",
  contingency: "dots",
  alternate: "plain",
  reserve: "hatched",
  dip_error: "dots",
};

/** @param {any} answer @param {Format} fmt */
export function fuelPicture(answer, fmt) {
  return both((size) => draw(answer.picture, fmt, size));
}

function draw(/** @type {any} */ p, /** @type {Format} */ fmt, /** @type {Size} */ size) {
  const stack = stacked(p, fmt, size, 0);
  const way = known(p.distance)
    ? [
        {
          text: tell(fmt, known(p.bearing) ? "fuel.way" : "fuel.way.distance", {
            distance: p.distance,
            bearing: p.bearing,
          }),
        },
      ]
    : [{ text: tell(fmt, "unsaid", { subject: tell(fmt, "fuel.distance") }) }];
  const note = paragraphs(size, 0, stack.bottom + 8, size.width, way);
  const day = daylight(p.daylight, fmt, size, note.bottom + 12);
  return {
    height: day.bottom + 4,
    body: [stack.body, note.body, day.body],
    told: [tell(fmt, "fuel"), ...stack.told, ...way.map((w) => w.text), ...day.told],
  };
}

function stacked(/** @type {any} */ p, /** @type {Format} */ fmt, /** @type {Size} */ size, /** @type {number} */ top) {
  const parts = p.fuel ?? [];
  const needs = parts.filter((/** @type {any} */ f) => f.part !== "spare");
  const spare = parts.find((/** @type {any} */ f) => f.part === "spare")?.volume;
  const said = needs.filter((/** @type {any} */ f) => known(f.volume) && f.volume >= 0);
  const sum = said.reduce((/** @type {number} */ s, /** @type {any} */ f) => s + f.volume, 0);
  const complete = needs.length > 0 && said.length === needs.length;
  const aboard = known(p.aboard) ? p.aboard : complete && known(spare) ? sum + spare : null;
  /** @type {Label[]} */
  const labels = [];
  let at = 0;
  const blocks = [];
  for (const part of needs) {
    const name = tell(fmt, `fuel.${part.part}`);
    if (!known(part.volume) || part.volume <= 0) continue;
    blocks.push({ from: at, to: at + part.volume, fill: FILL[part.part] ?? "plain" });
    labels.push({
      at: at + part.volume / 2,
      text: tell(fmt, "fuel.part", { name, volume: part.volume }),
      tone: part.part === "reserve" ? "strong" : "",
    });
    at += part.volume;
  }
  const missing = known(spare) && spare < 0 ? -spare : 0;
  if (known(spare) && spare >= 0 && complete)
    labels.push({
      at: sum + spare / 2,
      text: tell(fmt, "fuel.part", { name: tell(fmt, "fuel.spare"), volume: spare }),
      tone: "strong",
    });
  if (missing && aboard !== null)
    labels.push({ at: sum, text: tell(fmt, "fuel.missing", { volume: missing }), tone: "accent" });
  if (aboard !== null) labels.push({ at: aboard, text: tell(fmt, "fuel.aboard", { volume: aboard }) });
  if (known(p.usable) && (aboard === null || Math.abs(p.usable - aboard) > 1e-6))
    labels.push({ at: p.usable, text: tell(fmt, "fuel.usable", { volume: p.usable }), tone: "faint" });
  const unsaid = needs
    .filter((/** @type {any} */ f) => !said.includes(f))
    .map((/** @type {any} */ f) => ({ text: tell(fmt, "unsaid", { subject: tell(fmt, `fuel.${f.part}`) }) }));
  if (!known(spare)) unsaid.push({ text: tell(fmt, "unsaid", { subject: tell(fmt, "fuel.spare") }) });

  if (!known(p.usable) && !complete) unsaid.unshift(...labels.splice(0).map((l) => ({ text: l.text })));
  // Tanks that hold much more than this flight carries are cut, so that the parts stay large enough to see.
  const carried = Math.max(aboard ?? 0, sum);
  const cut = known(p.usable) && carried > 0 && p.usable > 1.35 * carried;
  const most = cut ? 1.2 * carried : greatest([p.usable, aboard, sum], 0);
  const [left, right] = size.wide ? [60, 190] : [8, 88];
  const textAt = right + 26;
  const width = size.width - textAt;
  const sorted = [...labels].sort((a, b) => Number(b.at) - Number(a.at));
  const high = top + 14;
  const base = high + Math.max(size.wide ? 300 : 280, columnHeight(size, width, labels));
  const up = linear([0, most || 1], [base, high]);
  const inner = [left + 10, right - 10];
  const body = [];
  if (known(p.usable)) body.push(filled(boxOf(left, up(0), right, up(Math.min(p.usable, most))), "plain"));
  else body.push(filled(boxOf(left, base, right, high), "dotted"));
  // Parts have no scale where neither the tanks nor the whole need is known: then words alone.
  if (known(p.usable) || complete)
    for (const b of blocks)
      if (b.to > b.from) body.push(filled(boxOf(inner[0], up(b.from), inner[1], up(b.to)), b.fill));
  if (missing && aboard !== null) {
    body.push(
      svg`<rect class="pic-missing" x=${inner[0]} y=${round(up(sum))} width=${inner[1] - inner[0]} height=${round(Math.abs(up(aboard) - up(sum)))}/>`,
    );
    body.push(line(left - 6, up(aboard), right, up(aboard), "pic-line-thick"));
  } else if (aboard !== null) {
    if (complete && aboard > sum) body.push(filled(boxOf(inner[0], up(sum), inner[1], up(aboard)), "dotted"));
    body.push(line(left - 6, up(aboard), right, up(aboard), "pic-line-thick"));
  }
  if (cut) body.push(tornEdge(left, up(most), right, up(most)));
  const placed = column(
    size,
    sorted.map((l) => ({
      ...l,
      at: up(Math.min(Number(l.at), most)),
      from: known(p.usable) && Number(l.at) > p.usable ? inner[1] : right,
    })),
    { x: textAt, width, low: high - 12, high: base + 12, from: right },
  );
  const list = paragraphs(size, 0, Math.max(base, placed.high) + (unsaid.length ? 8 : 0), size.width, unsaid);
  return {
    body: [body, placed.body, list.body],
    bottom: list.bottom,
    told: [...labels.map((l) => l.text), ...unsaid.map((/** @type {any} */ u) => u.text)],
  };
}

/** The day from departure to sunset, with the latest arrival. */
function daylight(
  /** @type {any} */ day,
  /** @type {Format} */ fmt,
  /** @type {Size} */ size,
  /** @type {number} */ top,
) {
  if (!day) {
    const list = paragraphs(size, 0, top, size.width, [{ text: tell(fmt, "unsaid", { subject: tell(fmt, "day") }) }]);
    return { ...list, told: [tell(fmt, "unsaid", { subject: tell(fmt, "day") })] };
  }
  const offset = offsetOf(day.departure) ?? offsetOf(day.arrival);
  const names = ["departure", "arrival", "latest", "sunset"];
  const times = names.map((name) => {
    const at = typeof day[name] === "string" ? Date.parse(day[name]) : NaN;
    return { name, at: Number.isFinite(at) ? at : null, time: clock(day[name], offset) };
  });
  const late = known(times[1].at) && known(times[2].at) && times[1].at > times[2].at;
  const labels = times.map(({ name, at, time }) => ({
    name,
    at,
    tone: /** @type {import("./parts.js").Tone} */ (name === "arrival" ? (late ? "accent" : "strong") : ""),
    text:
      time === null
        ? tell(fmt, "unsaid", { subject: tell(fmt, `day.${name}.name`) })
        : tell(fmt, `day.${name}`, { time }),
  }));
  const placed = labels.filter((l) => l.at !== null);
  const unsaid = labels.filter((l) => l.at === null);
  const told = labels.map((l) => l.text);
  if (!placed.length) {
    const list = paragraphs(size, 0, top, size.width, unsaid);
    return { ...list, told };
  }
  const values = placed.map((l) => Number(l.at));
  const span = Math.max(...values) - Math.min(...values) || 3600000;
  const across = linear([Math.min(...values) - span * 0.03, Math.max(...values) + span * 0.08], [0, size.width]);
  const y = top + size.line + 22;
  const at = Object.fromEntries(times.map((t) => [t.name, t.at === null ? null : across(t.at)]));
  /** @type {unknown[]} */
  const body = [line(0, y, size.width, y)];
  if (at.sunset !== null) body.push(filled(boxOf(at.sunset, y - 8, size.width, y + 8), "solid"));
  if (at.latest !== null && at.sunset !== null && at.sunset > at.latest)
    body.push(filled(boxOf(at.latest, y - 8, at.sunset, y + 8), "hatched"));
  if (at.departure !== null && at.arrival !== null)
    body.push(filled(boxOf(at.departure, y - 4, at.arrival, y + 4), late ? "accent" : "solid"));
  const above = put(
    placed.filter((l) => l.name === "departure" || l.name === "arrival"),
    across,
    y,
    -1,
    size,
  );
  const below = put(
    placed.filter((l) => l.name === "latest" || l.name === "sunset"),
    across,
    y,
    1,
    size,
  );
  const list = paragraphs(
    size,
    0,
    y + (times[2].at === null && times[3].at === null ? 12 : size.line + 26),
    size.width,
    unsaid,
  );
  return { body: [body, above, below, list.body], bottom: list.bottom, told };
}

/** Labels above (-1) or below (1) the line of the day. */
function put(
  /** @type {any[]} */ labels,
  /** @type {(x: number) => number} */ across,
  /** @type {number} */ y,
  /** @type {number} */ side,
  /** @type {Size} */ size,
) {
  const set = labels.map((l) => ({ ...l, at: across(l.at), size: widthOf(l.text, size.font, true) }));
  const centres = spread(set, 0, size.width, 12);
  return set.map((l, i) => [
    svg`<path class="pic-leader ${l.tone === "accent" ? "pic-line-accent" : ""}" d="M${round(l.at)} ${y + side * 4}V${y + side * 10}L${round(centres[i])} ${y + side * 16}"/>`,
    words(size, centres[i], y + side * (18 + size.line / 2), l.text, { anchor: "middle", tone: l.tone }),
  ]);
}
