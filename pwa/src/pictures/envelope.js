// Mass against arm: the limits, the states of the flight and the way between them, the owner's own cap.
import { svg } from "lit";

import { greatest, known, least, linear, round, ticks } from "./geometry.js";
import { widthOf } from "./lettering.js";
import {
  both,
  boxOf,
  column,
  columnHeight,
  fillOf,
  filled,
  line,
  marksAcross,
  paragraphs,
  shortened,
  tell,
  unitName,
  unitSize,
  words,
} from "./parts.js";

/** @typedef {import("./parts.js").Format} Format @typedef {import("./parts.js").Size} Size
 * @typedef {import("./parts.js").Label} Label */

/** The states between which the aeroplane moves while it burns its fuel, in their order. */
const WAY = ["ramp", "takeoff", "waypoint", "tank_empty", "landing"];

/** @param {any} answer @param {Format} fmt */
export function envelopePicture(answer, fmt) {
  return both((size) => draw(answer.picture, fmt, size));
}

function draw(/** @type {any} */ p, /** @type {Format} */ fmt, /** @type {Size} */ size) {
  // A limit of which a corner is not known is no limit to draw.
  const whole = (p.vertices ?? []).every((/** @type {any} */ v) => known(v.mass) && known(v.arm));
  const vertices = whole ? (p.vertices ?? []) : [];
  const states = p.states ?? [];
  const shown = states.filter((/** @type {any} */ s) => known(s.mass) && known(s.arm));
  const labels = labelsOf(p, shown, fmt, size);
  const unsaid = states
    .filter((/** @type {any} */ s) => !shown.includes(s))
    .map((/** @type {any} */ s) => ({ text: tell(fmt, "unsaid", { subject: stateName(s, fmt) }) }));
  if (!vertices.length) unsaid.unshift({ text: tell(fmt, "unsaid", { subject: tell(fmt, "envelope.limits") }) });
  const title = tell(fmt, "envelope");

  const points = [...vertices, ...shown];
  const reaches = (/** @type {number} */ sign) =>
    points.map((/** @type {any} */ s) => s.arm + sign * (known(s.spread) ? s.spread : 0));
  const arms = padded(least(reaches(-1)), greatest(reaches(1)), 0.04);
  const masses = padded(
    least(points.map((v) => v.mass)),
    greatest([...points.map((v) => v.mass), p.cap, p.takeoff_limit]),
    0.05,
  );
  const massMarks = ticks(masses[0], masses[1], 5, unitSize(fmt, "mass"));
  const figures = Math.max(0, ...massMarks.map((m) => widthOf(String(m.shown), size.font)));
  const left = Math.max(44, figures + 14);
  const right = size.wide ? 390 : 190;
  const textAt = right + 22;
  const width = size.width - textAt;
  const high = size.line + 10;
  const base = high + Math.max(size.wide ? 330 : 280, columnHeight(size, width, labels) - 10);
  const across = linear(arms, [left, right]);
  const up = linear(masses, [base, high]);
  const drawable = points.length > 0;

  const scales = drawable ? [massScale(massMarks, up, left, size), armScale(arms, across, base, fmt, size)] : [];
  const limits = [
    vertices.length > 1
      ? svg`<path class="pic-fill-plain" d="${vertices
          .map(
            (/** @type {any} */ v, /** @type {number} */ i) =>
              `${i ? "L" : "M"}${round(across(v.arm))} ${round(up(v.mass))}`,
          )
          .join("")}z"/>`
      : [],
    known(p.takeoff_limit) && drawable
      ? line(left, up(p.takeoff_limit), right, up(p.takeoff_limit), "pic-line-thick")
      : [],
    known(p.cap) && drawable ? line(left, up(p.cap), right, up(p.cap), "pic-line-thick pic-dashed") : [],
  ];
  const way = shown
    .filter((/** @type {any} */ s) => WAY.includes(s.state))
    .sort((/** @type {any} */ a, /** @type {any} */ b) => b.mass - a.mass);
  const path =
    way.length > 1
      ? svg`<path class="pic-line" d="${way
          .map(
            (/** @type {any} */ s, /** @type {number} */ i) =>
              `${i ? "L" : "M"}${round(across(s.arm))} ${round(up(s.mass))}`,
          )
          .join("")}"/>`
      : [];
  // Where states lie on one another the worst is on top.
  const rank = ["yes", "tight", "can't say", "no"];
  const worstLast = [...shown].sort((a, b) => rank.indexOf(a.verdict) - rank.indexOf(b.verdict));
  const dots = worstLast.map((/** @type {any} */ s) =>
    dot(
      across(s.arm),
      up(s.mass),
      s.verdict,
      known(s.spread) ? [across(s.arm - s.spread), across(s.arm + s.spread)] : null,
    ),
  );
  const placed = drawable
    ? column(
        size,
        labels.map((l) => ({
          ...l,
          at: l.at === null ? null : up(l.at),
          from: l.from === undefined ? right : across(l.from) + 8,
        })),
        { x: textAt, width, low: 0, high: base + 2, from: right },
      )
    : { body: [], high: high };
  const frame = drawable ? filled(boxOf(left, high, right, base), "pale") : [];
  const list = paragraphs(
    size,
    0,
    (drawable ? Math.max(base + 2 * size.line + 14, placed.high) : 0) + 8,
    size.width,
    unsaid,
  );
  const head = drawable
    ? words(size, 0, size.line / 2, tell(fmt, "envelope.mass", { unit: unitName(fmt, "mass") }), { tone: "faint" })
    : [];
  return {
    height: list.bottom + 4,
    body: [head, frame, limits, scales, placed.body, path, dots, list.body],
    told: [title, ...labels.map((l) => l.text), ...unsaid.map((/** @type {any} */ u) => u.text)],
  };
}

/** Labels at the mass [kg] and arm (`from`) [m] that they point to. @returns {Label[]} */
function labelsOf(
  /** @type {any} */ p,
  /** @type {any[]} */ shown,
  /** @type {Format} */ fmt,
  /** @type {Size} */ size,
) {
  /** @type {Label[]} */
  const labels = [];
  if (known(p.takeoff_limit))
    labels.push({ at: p.takeoff_limit, text: tell(fmt, "envelope.takeoff_limit", { mass: p.takeoff_limit }) });
  if (known(p.cap)) labels.push({ at: p.cap, text: tell(fmt, "envelope.cap", { mass: p.cap }) });
  const states = [...shown]
    .sort((a, b) => b.mass - a.mass)
    .map((s) => {
      const name = stateName(s, fmt);
      const text = size.wide ? tell(fmt, "envelope.state", { name, mass: s.mass, arm: s.arm }) : name;
      const bad = s.verdict !== "yes";
      const verdict = fmt.say({ text: `verdict.${s.verdict}` });
      return {
        at: s.mass,
        from: s.arm,
        tone: /** @type {import("./parts.js").Tone} */ (s.verdict === "no" ? "accent" : bad ? "strong" : ""),
        text: bad ? tell(fmt, "envelope.judged", { state: text, verdict }) : text,
      };
    });
  return [...labels, ...states].sort((a, b) => Number(b.at) - Number(a.at));
}

/** The name of a state: words of the catalogue with its tank, waypoint or person in them; else as it was given. */
function stateName(/** @type {any} */ s, /** @type {Format} */ fmt) {
  const id = `state.${s.state}`;
  const values = Object.fromEntries(
    Object.entries(s.values ?? {}).map(([key, value]) => [
      key,
      typeof value === "string" ? shortened(value, 24) : value,
    ]),
  );
  const name = fmt.say({ text: id, values });
  return name === id ? shortened(s.state) : name;
}

/** @returns {[number, number]} */
function padded(/** @type {number} */ low, /** @type {number} */ high, /** @type {number} */ by) {
  const room = (high - low) * by || Math.max(1e-3, Math.abs(high) * by);
  return [low - room, high + room];
}

function massScale(
  /** @type {{ at: number, shown: number }[]} */ marks,
  /** @type {(x: number) => number} */ up,
  /** @type {number} */ left,
  /** @type {Size} */ size,
) {
  return marks.map(({ at, shown }) => [
    line(left - 7, up(at), left, up(at)),
    words(size, left - 11, up(at), String(shown), { tone: "faint", anchor: "end" }),
  ]);
}

function armScale(
  /** @type {[number, number]} */ arms,
  /** @type {(x: number) => number} */ across,
  /** @type {number} */ base,
  /** @type {Format} */ fmt,
  /** @type {Size} */ size,
) {
  const marks = marksAcross(size, arms[0], arms[1], across, 5, unitSize(fmt, "arm"));
  return [
    marks.map(({ at, shown }) => [
      line(across(at), base, across(at), base + 7),
      words(size, across(at), base + 10 + size.line / 2, String(shown), { tone: "faint", anchor: "middle" }),
    ]),
    words(size, 0, base + 12 + size.line * 1.5, tell(fmt, "envelope.arm", { unit: unitName(fmt, "arm") }), {
      tone: "faint",
    }),
  ];
}

/** A state: filled as its verdict is told, with the uncertainty of its arm as whiskers. */
function dot(
  /** @type {number} */ x,
  /** @type {number} */ y,
  /** @type {string} */ verdict,
  /** @type {[number, number]|null} */ whiskers,
) {
  const fill = verdict === "no" ? "accent" : fillOf(verdict);
  const r = verdict === "no" ? 7.5 : 6.5;
  return [
    whiskers && whiskers[1] - whiskers[0] > 1
      ? [
          line(whiskers[0], y, whiskers[1], y),
          line(whiskers[0], y - 5, whiskers[0], y + 5),
          line(whiskers[1], y - 5, whiskers[1], y + 5),
        ]
      : [],
    fill === "dotted" ? svg`<circle class="pic-backing" cx=${round(x)} cy=${round(y)} r=${r}/>` : [],
    svg`<circle class="pic-fill-${fill}" cx=${round(x)} cy=${round(y)} r=${r}/>`,
    fill === "hatched"
      ? svg`<path class="pic-hatch" d="M${round(x - 5)} ${round(y + 3)}L${round(x + 3)} ${round(y - 5)}M${round(x - 3)} ${round(y + 5)}L${round(x + 5)} ${round(y - 3)}"/>`
      : [],
  ];
}
