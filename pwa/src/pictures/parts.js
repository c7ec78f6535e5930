// What all pictures are made of: the frame with its description, words, labels with their leaders, bars and fills.
// Every picture is drawn twice, for a phone and for a wide page; a container query in pictures.css shows one. Text is
// never smaller than 18 px: a phone's drawing is as wide as the narrowest phone's column and only ever grows.
import { html, nothing, svg } from "lit";

import { dots, hatch, known, round, spread, ticks } from "./geometry.js";
import { widthOf, wrap } from "./lettering.js";

/**
 * @typedef {{ wide: boolean, width: number, font: number, line: number }} Size
 * @typedef {"strong"|"accent"|"faint"|"reversed"|""} Tone
 * @typedef {{ text: string, at: number|null, tone?: Tone, from?: number }} Label `at`: where it points to; null: nowhere
 * @typedef {{ q: (value: number, dimension: string) => string, unit: (dimension: string) => any,
 *   say: (message: { text: string, values?: Record<string, any> }) => string }} Format
 * @typedef {{ height: number, body: unknown, told: string[] }} Drawing `told`: the picture in words, for who can't see it
 */

/** @type {Size} */
const NARROW = { wide: false, width: 320, font: 18, line: 22 };
/** @type {Size} */
export const WIDE = { wide: true, width: 720, font: 20, line: 25 };

/** A text of the catalogue by its id, without the "picture." that all of ours begin with. */
export const tell = (
  /** @type {Format} */ fmt,
  /** @type {string} */ id,
  /** @type {Record<string, any>} */ values = {},
) => fmt.say({ text: `picture.${id}`, values });

/** The text where the figure is known, else "…: can't say". */
export const orUnsaid = (
  /** @type {Format} */ fmt,
  /** @type {unknown} */ figure,
  /** @type {string} */ id,
  /** @type {Record<string, any>} */ values,
  /** @type {string} */ subject,
) => (known(figure) ? tell(fmt, id, values) : tell(fmt, "unsaid", { subject: tell(fmt, subject) }));

/** A name somebody typed, short enough for a label; the whole of it stands in the lists. */
export function shortened(/** @type {unknown} */ name, most = 30) {
  const text = String(name ?? "").trim();
  const letters = [...text];
  return letters.length <= most
    ? text
    : `${letters
        .slice(0, most - 1)
        .join("")
        .trimEnd()}…`;
}

/**
 * Both drawings of one picture.
 * @param {(size: Size) => Drawing} draw
 */
export function both(draw) {
  return html`<div class="pictures">${[NARROW, WIDE].map((size) => frame(size, draw(size)))}</div>`;
}

function frame(/** @type {Size} */ size, /** @type {Drawing} */ { height, body, told }) {
  return html`<svg
    class=${size.wide ? "picture picture-wide" : "picture picture-narrow"}
    viewBox="0 0 ${size.width} ${round(Math.max(1, height))}"
    role="img"
    aria-label=${told.filter(Boolean).join(". ").replaceAll("\n", ", ")}
  >
    ${body}
  </svg>`;
}

/**
 * Lines of text; `y` is the middle of the first line. A line that would run out of the picture is moved back into it.
 * @param {Size} size @param {number} x @param {number} y @param {string|string[]} lines
 * @param {{ tone?: Tone, anchor?: "start"|"middle"|"end" }} [how]
 */
export function words(size, x, y, lines, how = {}) {
  const { tone = "", anchor = "start" } = how;
  const list = Array.isArray(lines) ? lines : [lines];
  return list.map((line, i) => {
    const wide = widthOf(line, size.font, isBold(tone));
    const before = anchor === "end" ? wide : anchor === "middle" ? wide / 2 : 0;
    const at = Math.max(before, Math.min(x, size.width - wide + before));
    return svg`<text class="pic-text ${tone && `pic-text-${tone}`}" font-size=${size.font} x=${round(at)}
      y=${round(y + i * size.line + size.font * 0.35)} text-anchor=${anchor}>${line}</text>`;
  });
}

/**
 * Marks along a line that lies, as many as leave room between their figures.
 * @param {Size} size @param {number} low @param {number} high @param {(x: number) => number} across
 * @param {number} most @param {number} factor
 */
export function marksAcross(size, low, high, across, most, factor) {
  for (let n = most; n > 0; n--) {
    const marks = ticks(low, high, n, factor);
    const widths = marks.map((m) => widthOf(String(m.shown), size.font) + 10);
    const clear = marks.every(
      (m, i) =>
        i === 0 || across(m.at) - across(marks[i - 1].at) > (widths[i] + widths[i - 1]) / 2 + (i === 1 ? UNIT_ROOM : 0),
    );
    if (clear) return marks;
  }
  return [];
}
/** The first figure has its unit with it. [px] */
const UNIT_ROOM = 16;

/** Is it set in bold? */
export const isBold = (/** @type {Tone|undefined} */ tone) => tone === "strong" || tone === "accent";

/**
 * A paragraph from `top` down.
 * @returns {{ body: unknown, bottom: number }}
 */
export function paragraph(
  /** @type {Size} */ size,
  /** @type {number} */ x,
  /** @type {number} */ top,
  /** @type {number} */ width,
  /** @type {string} */ text,
  /** @type {Tone} */ tone = "",
  most = Infinity,
) {
  const lines = wrap(text, width, size.font, isBold(tone), most);
  return { body: words(size, x, top + size.line / 2, lines, { tone }), bottom: top + lines.length * size.line };
}

/** Paragraphs one under the other. @param {{ text: string, tone?: Tone }[]} texts */
export function paragraphs(
  /** @type {Size} */ size,
  /** @type {number} */ x,
  /** @type {number} */ top,
  /** @type {number} */ width,
  texts,
  gap = 2,
) {
  let y = top;
  const body = texts.map(({ text, tone }) => {
    const p = paragraph(size, x, y, width, text, tone);
    y = p.bottom + gap;
    return p.body;
  });
  return { body, bottom: texts.length ? y - gap : top };
}

/** Height that a column of labels takes at least. @param {Label[]} labels */
export function columnHeight(/** @type {Size} */ size, /** @type {number} */ width, labels) {
  return labels.reduce((sum, l) => sum + wrap(l.text, width, size.font, isBold(l.tone)).length * size.line + GAP, 0);
}
const GAP = 5;

/**
 * Labels in a column at `x`, each as near as may be to the height that it points to, with a leader from `from`.
 * @param {Size} size @param {Label[]} labels
 * @param {{ x: number, width: number, low: number, high: number, from: number }} place
 * @returns {{ body: unknown, low: number, high: number }}
 */
export function column(size, labels, place) {
  const { x, width, low, high, from } = place;
  const order = [...labels].sort((a, b) => (a.at ?? Infinity) - (b.at ?? Infinity));
  const set = order.map((label) => {
    const lines = wrap(label.text, width, size.font, isBold(label.tone));
    return { ...label, lines, size: lines.length * size.line };
  });
  // A label that points at a height has its first line there.
  const centres = spread(
    set.map((l) => ({ size: l.size, at: l.at === null ? high + 1e6 : l.at + (l.size - size.line) / 2 })),
    low,
    high,
    GAP,
    true,
  );
  const tops = centres.map((c, i) => c - set[i].size / 2);
  const body = set.map((label, i) => {
    const y = tops[i] + size.line / 2;
    const leader =
      label.at === null
        ? nothing
        : svg`<path class="pic-leader ${label.tone === "accent" ? "pic-line-accent" : ""}"
          d="M${round(label.from ?? from)} ${round(label.at)}L${round(x - 12)} ${round(y)}H${round(x - 5)}"/>`;
    return [leader, words(size, x, y, label.lines, { tone: label.tone })];
  });
  return {
    body,
    low: Math.min(low, ...tops),
    high: Math.max(high, ...tops.map((t, i) => t + set[i].size)),
  };
}

/**
 * Labels in a row below `top`, each as near as may be to the place along the line that it points to.
 * @param {Size} size @param {Label[]} labels
 * @param {{ top: number, low: number, high: number, from: number }} place `from`: where the leaders begin
 * @returns {{ body: unknown, bottom: number }}
 */
export function row(size, labels, place) {
  const { top, low, high, from } = place;
  const gap = 16;
  const share = (high - low - gap * (labels.length - 1)) / Math.max(1, labels.length);
  const wanted = Math.max(share, 150);
  const measure = (/** @type {number} */ width) =>
    labels.map((label) => {
      const lines = wrap(label.text, width, size.font, isBold(label.tone));
      return { ...label, lines, size: Math.max(...lines.map((l) => widthOf(l, size.font, isBold(label.tone)))) };
    });
  let set = measure(wanted);
  if (set.reduce((sum, l) => sum + l.size + gap, -gap) > high - low) set = measure(share);
  const centres = spread(
    set.map((l) => ({ size: l.size, at: l.at ?? high + 1e6 })),
    low,
    high,
    gap,
  );
  const body = set.map((label, i) => [
    label.at === null
      ? nothing
      : svg`<path class="pic-leader ${label.tone === "accent" ? "pic-line-accent" : ""}"
          d="M${round(label.at)} ${round(label.from ?? from)}L${round(centres[i])} ${round(top - 10)}V${round(top - 4)}"/>`,
    words(size, centres[i], top + size.line / 2, label.lines, { tone: label.tone, anchor: "middle" }),
  ]);
  const most = Math.max(0, ...set.map((l) => l.lines.length));
  return { body, bottom: top + most * size.line };
}

/** @typedef {{ x: number, y: number, width: number, height: number }} Box */

/** A rectangle by its corners in any order. @returns {Box} */
export const boxOf = (
  /** @type {number} */ x0,
  /** @type {number} */ y0,
  /** @type {number} */ x1,
  /** @type {number} */ y1,
) => ({ x: Math.min(x0, x1), y: Math.min(y0, y1), width: Math.abs(x1 - x0), height: Math.abs(y1 - y0) });

/**
 * A rectangle filled in one of the ways that tell verdicts and kinds apart without colour.
 * @param {Box} box @param {"solid"|"plain"|"hatched"|"dots"|"dotted"|"accent"|"accent-hatched"|"pale"} fill
 */
export function filled({ x, y, width, height }, fill) {
  const at = svg`<rect class="pic-fill-${fill}" x=${round(x)} y=${round(y)} width=${round(width)} height=${round(height)}/>`;
  if (fill === "hatched" || fill === "accent-hatched") {
    return [
      at,
      svg`<path class="pic-hatch ${fill === "hatched" ? "" : "pic-line-accent"}" d=${hatch(x, y, width, height)}/>`,
    ];
  }
  if (fill === "dots") return [at, svg`<path class="pic-dots" d=${dots(x, y, width, height)}/>`];
  return at;
}

/** The fill that tells a verdict. @param {string} verdict @returns {"solid"|"dotted"|"hatched"|"plain"} */
export const fillOf = (verdict) =>
  verdict === "no" ? "solid" : verdict === "tight" ? "hatched" : verdict === "yes" ? "plain" : "dotted";

/** A line. */
export const line = (
  /** @type {number} */ x0,
  /** @type {number} */ y0,
  /** @type {number} */ x1,
  /** @type {number} */ y1,
  kind = "",
) => svg`<path class="pic-line ${kind}" d="M${round(x0)} ${round(y0)}L${round(x1)} ${round(y1)}"/>`;

/** The torn edge of something that goes on: two zigzags with nothing between them. */
export function tornEdge(
  /** @type {number} */ x0,
  /** @type {number} */ y0,
  /** @type {number} */ x1,
  /** @type {number} */ y1,
) {
  const teeth = 8;
  const upright = Math.abs(y1 - y0) > Math.abs(x1 - x0);
  let d = "";
  for (let i = 0; i <= teeth; i++) {
    const [t, out] = [i / teeth, i % 2 ? 7 : 0];
    d += `${i ? "L" : "M"}${round(x0 + (x1 - x0) * t - (upright ? out : 0))} ${round(y0 + (y1 - y0) * t + (upright ? 0 : out))}`;
  }
  return [svg`<path class="pic-torn" d=${d}/>`, svg`<path class="pic-line" d=${d}/>`];
}

export { unitName, unitSize } from "./units.js";
