// The way out: what is flown against what is needed, over what stands in the way; and the valley from above.
import { svg } from "lit";

import { exaggeration, greatest, hang, known, linear, round } from "./geometry.js";
import { widthOf, wrap } from "./lettering.js";
import {
  both,
  boxOf,
  filled,
  isBold,
  line,
  marksAcross,
  orUnsaid,
  paragraphs,
  shortened,
  tell,
  unitSize,
  words,
} from "./parts.js";

/** @typedef {import("./parts.js").Format} Format @typedef {import("./parts.js").Size} Size */

const MOST_NAMED = 4;
/** Shown of the way out where nothing stands on it: one nautical mile. [m] */
const ALONE = 1852;

/** @param {any} answer @param {Format} fmt */
export function climbPicture(answer, fmt) {
  return both((size) => draw(answer.picture, fmt, size));
}

function draw(/** @type {any} */ p, /** @type {Format} */ fmt, /** @type {Size} */ size) {
  const short = known(p.gradient) && known(p.needed) && p.gradient < p.needed;
  const head = [
    {
      text: orUnsaid(fmt, p.gradient, "climb.flown", { gradient: p.gradient }, "climb.flown.name"),
      tone: short ? "accent" : "strong",
    },
    { text: orUnsaid(fmt, p.needed, "climb.needed", { needed: p.needed }, "climb.needed.name"), tone: "" },
    ...(p.speed_indicated === undefined
      ? []
      : [
          {
            text: orUnsaid(fmt, p.speed_indicated, "climb.speed", { speed: p.speed_indicated }, "climb.speed.name"),
            tone: "",
          },
        ]),
  ];
  const stated = p.obstacles_stated ?? (p.obstacles == null ? "unknown" : "listed");
  if (stated === "unknown")
    head.push({ text: tell(fmt, "unsaid", { subject: tell(fmt, "obstacles.beyond") }), tone: "" });
  if (stated === "none") head.push({ text: tell(fmt, "obstacles.none_beyond"), tone: "faint" });
  const top = paragraphs(size, 0, 0, size.width, /** @type {any} */ (head));
  const side = fromTheSide(p, fmt, size, top.bottom + 8);
  const plan = p.valley ? valley(p.valley, fmt, size, side.bottom + 18) : { body: [], bottom: side.bottom, told: [] };
  return {
    height: plan.bottom + 4,
    body: [top.body, side.body, plan.body],
    told: [tell(fmt, "climb"), ...head.map((h) => h.text), ...side.told, ...plan.told],
  };
}

function fromTheSide(
  /** @type {any} */ p,
  /** @type {Format} */ fmt,
  /** @type {Size} */ size,
  /** @type {number} */ top,
) {
  const obstacles = [...(p.obstacles ?? [])].sort((a, b) => rank(a) - rank(b));
  // Things stand so far beyond the end; the path begins where the aeroplane does, at the start of the strip.
  const strip = known(p.strip_length) ? p.strip_length : 0;
  const placeOf = (/** @type {any} */ o) => strip + o.distance;
  const standing = obstacles.filter((o) => known(o.distance) && known(o.height) && o.distance >= 0);
  const points = (p.points ?? []).filter((/** @type {any} */ q) => known(q.distance) && known(q.height));
  const flat = known(p.gradient) || known(p.needed) ? ALONE : 0;
  const reach =
    greatest([...standing.map((o) => placeOf(o) * 1.06), ...points.map((/** @type {any} */ q) => q.distance)], 0) ||
    flat;
  const named = labelsFor(obstacles, fmt);
  const told = named.map((n) => n.text);
  if (!(reach > 0)) {
    const list = paragraphs(size, 0, top, size.width, named);
    return { ...list, told };
  }
  const flown =
    points.length > 1
      ? points
      : known(p.gradient)
        ? [
            { distance: 0, height: 0 },
            { distance: reach, height: p.gradient * reach },
          ]
        : [];
  // What is needed is counted from where the climb begins.
  const from = points.length > 2 && points[1].distance < reach ? points[1] : { distance: 0, height: 0 };
  const wanted = known(p.needed)
    ? [from, { distance: reach, height: from.height + p.needed * (reach - from.distance) }]
    : [];
  const all = [0, ...flown, ...wanted].map((q) => (typeof q === "number" ? q : q.height));
  const tops = standing.flatMap((o) => [o.height, o.needed_height]).filter(known);
  const [low, high] = [Math.min(0, ...all), Math.max(...all, ...tops)];
  const across = linear([0, reach], [2, size.width - 2]);
  const scale = (size.width - 4) / reach;
  const room = size.wide ? 200 : 150;
  const times = exaggeration(high - low, scale, room);
  const drawn = Math.min((high - low) * scale * times, room * 1.5);

  // labels first: they hang above, in as many rows as they need
  const wrapped = named
    .filter((n) => n.at !== null)
    .map((n) => {
      const at = across(placeOf(n.obstacle));
      const lines = wrap(n.text, Math.min(300, Math.max(at, size.width - at)), size.font, isBold(n.tone));
      return { ...n, lines, at, size: Math.max(...lines.map((l) => widthOf(l, size.font, isBold(n.tone)))) };
    });
  const boxes = hang(wrapped, size.width, 10);
  const set = wrapped.map((n, i) => ({ ...n, left: boxes[i].left }));
  const row = boxes.map((b) => b.row);
  const depth = row.map(
    (r) => Math.max(...set.filter((_, i) => row[i] === r).map((s) => s.lines.length)) * size.line + 6,
  );
  const above = (/** @type {number} */ r) =>
    row.reduce((sum, other, i) => (other > r && row.indexOf(other) === i ? sum + depth[i] : sum), 0);
  const heights = row.map((r) => top + above(r));
  const labelsEnd = row.length ? Math.max(...heights.map((h, i) => h + depth[i])) : top;
  const ceiling = labelsEnd + 10;
  const base = ceiling + drawn;
  const up = linear([low, high === low ? low + 1 : high], [base, ceiling]);
  const path = (/** @type {any[]} */ way) =>
    way.map((q, i) => `${i ? "L" : "M"}${round(across(q.distance))} ${round(up(q.height))}`).join("");

  const body = [];
  set.forEach((n, i) => {
    const o = n.obstacle;
    body.push(svg`<path class="pic-leader ${n.tone === "accent" ? "pic-line-accent" : "pic-line-faint"}"
      d="M${round(n.at)} ${round(up(o.height) - 2)}V${round(heights[i] + n.lines.length * size.line)}"/>`);
  });
  for (const o of standing) {
    const [x, foot, tip] = [across(placeOf(o)), Math.max(up(0), up(o.height)), up(o.height)];
    const half = Math.min(14, Math.max(4, (foot - tip) * 0.2));
    body.push(
      svg`<path class="pic-peak" d="M${round(x)} ${round(tip)}L${round(x + half)} ${round(foot)}H${round(x - half)}z"/>`,
    );
    if (known(o.needed_height))
      body.push(
        line(
          x - 11,
          up(o.needed_height),
          x + 11,
          up(o.needed_height),
          rank(o) < 0 && known(o.clearance) ? "pic-line-accent pic-line-thick" : "",
        ),
      );
  }
  body.push(line(across(0), up(0), across(reach), up(0)));
  body.push(line(across(0), up(0), across(strip || reach), up(0), "pic-line-strip"));
  if (wanted.length) body.push(svg`<path class="pic-line pic-dashed" d=${path(wanted)}/>`);
  if (flown.length) body.push(svg`<path class="pic-line pic-line-heavy" d=${path(flown)}/>`);
  set.forEach((n, i) => body.push(words(size, n.left, heights[i] + size.line / 2, n.lines, { tone: n.tone })));
  const marks = marksAcross(size, 0, reach, across, 5, unitSize(fmt, "length"));
  const scaleY = Math.max(up(0), base);
  const along = marks
    .filter((m) => across(m.at) < size.width - 24)
    .map(({ at, shown }, i) => [
      line(across(at), scaleY, across(at), scaleY + 7),
      words(size, i ? across(at) : 0, scaleY + 10 + size.line / 2, i ? String(shown) : fmt.q(0, "length"), {
        tone: "faint",
        anchor: i ? "middle" : "start",
      }),
    ]);
  const key = paragraphs(size, 0, scaleY + 12 + size.line, size.width, [
    { text: tell(fmt, times > 1 ? "side.times" : "side.true", { times: String(times) }), tone: "faint" },
    ...(standing.some((o) => known(o.needed_height))
      ? [{ text: tell(fmt, "climb.key.bar"), tone: /** @type {"faint"} */ ("faint") }]
      : []),
    ...named.filter((n) => n.at === null),
  ]);
  return { body: [body, along, key.body], bottom: key.bottom, told };
}

/** How far an obstacle is cleared beyond what is asked; what is not known comes first. */
function rank(/** @type {any} */ o) {
  return known(o.clearance) ? o.clearance - asked(o) : -Infinity;
}

/** By how much an obstacle is to be cleared. */
const asked = (/** @type {any} */ o) => (known(o.needed_height) && known(o.height) ? o.needed_height - o.height : 0);

/** @returns {{ text: string, at: number|null, tone: import("./parts.js").Tone, obstacle: any }[]} */
function labelsFor(/** @type {any[]} */ obstacles, /** @type {Format} */ fmt) {
  const named = obstacles.slice(0, MOST_NAMED).map((o) => {
    const short = known(o.clearance) && rank(o) < 0;
    const how = !known(o.clearance)
      ? tell(fmt, "cant_say")
      : o.clearance < 0
        ? tell(fmt, "obstacle.under", { clearance: -o.clearance })
        : tell(fmt, short ? "obstacle.close" : "obstacle.over", { clearance: o.clearance, asked: asked(o) });
    const can = known(o.distance) && known(o.height) && o.distance >= 0;
    /** @type {import("./parts.js").Tone} */
    const tone = short ? "accent" : "";
    return {
      text: tell(fmt, "obstacle.judged", { where: shortened(o.name), how }),
      at: can ? o.distance : null,
      tone,
      obstacle: o,
    };
  });
  if (obstacles.length > MOST_NAMED) {
    const text = tell(fmt, "obstacles.more", { count: String(obstacles.length - MOST_NAMED) });
    return [...named, { text, at: null, tone: "faint", obstacle: null }];
  }
  return named;
}

/** Two walls, and the half circle that a turn back takes between them. */
function valley(/** @type {any} */ v, /** @type {Format} */ fmt, /** @type {Size} */ size, /** @type {number} */ top) {
  const tight = known(v.width) && known(v.needed) && v.needed > v.width;
  const text =
    !known(v.width) || !known(v.needed)
      ? { text: tell(fmt, "unsaid", { subject: tell(fmt, "valley.name") }), tone: "" }
      : { text: tell(fmt, "valley", { width: v.width, needed: v.needed }), tone: tight ? "accent" : "" };
  const head = paragraphs(size, 0, top, size.width, [/** @type {any} */ (text)]);
  if (text.text && !(known(v.width) && known(v.needed))) return { ...head, told: [text.text] };
  const reach = Math.max(v.width, v.needed);
  const wall = 26;
  const room = Math.min(size.width - 2 * wall - 8, 300);
  const k = room / reach;
  const left = (size.width - v.width * k) / 2;
  const [high, tall] = [head.bottom + 10, Math.max(60, (v.needed * k) / 2 + 40)];
  const turnLeft = tight ? (size.width - v.needed * k) / 2 : left + (v.width * k - v.needed * k) / 2;
  const radius = (v.needed * k) / 2;
  const foot = high + tall;
  const bend = high + radius + 8;
  const body = [
    filled(boxOf(left - wall, high, left, foot), "hatched"),
    filled(boxOf(left + v.width * k, high, left + v.width * k + wall, foot), "hatched"),
    svg`<path class="pic-line pic-line-heavy ${tight ? "pic-line-accent" : ""}"
      d="M${round(turnLeft + 2 * radius)} ${round(foot)}V${round(bend)}A${round(radius)} ${round(radius)} 0 0 0 ${round(turnLeft)} ${round(bend)}V${round(foot - 10)}"/>`,
    svg`<path class="${tight ? "pic-fill-accent" : "pic-fill-solid"}" d="M${round(turnLeft)} ${round(foot)}l-6 -12h12z"/>`,
  ];
  return { body: [head.body, body], bottom: foot + 2, told: [text.text] };
}
