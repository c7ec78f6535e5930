// The small picture of every measure: a bar of what is needed against a mark at what is available, to one scale.
import { html, nothing, svg } from "lit";

import { MARK, known, measureScale } from "./geometry.js";
import { tell, tornEdge } from "./parts.js";

const percent = (/** @type {number} */ x) => `${Math.round(x * 10000) / 100}%`;

/**
 * As wide as its place, 24 px high. Past the mark the bar has a greater height and the accent; what can't be said is a
 * dotted outline. A "no" without a figure for what is needed is a need without end (no acceleration, no way ahead):
 * its bar runs off. A rule that is kept or broken has no figures, and no bar. Words beside it are the caller's.
 * @param {{ needed: number|null, available: number|null, dimension: string, verdict?: string }} measure
 * @param {import("./parts.js").Format} fmt
 */
export function measureBar(measure, fmt) {
  const { needed, available, dimension, verdict } = measure;
  const at = measureScale(needed, available);
  const mark = at.available ?? MARK;
  const endless = verdict === "no" && !known(needed) && known(available);
  const rule = !known(needed) && !known(available) && (verdict === "no" || verdict === "yes" || verdict === "tight");
  const unsaid = !endless && !rule && (at.needed === null || at.available === null);
  const told = rule
    ? fmt.say({ text: `verdict.${verdict}` })
    : endless
      ? tell(fmt, "measure.endless", { available: fmt.q(available, dimension) })
      : describe(fmt, needed, available, dimension);
  return html`<svg class="pic-measure" role="img" aria-label=${told}>
    <rect class="pic-measure-base" x=${percent(at.zero)} y="19" width=${percent(Math.max(0, mark - at.zero))} height="1.5" />
    ${unsaid ? svg`<rect class="pic-fill-dotted" x="0.5%" y="6" width=${percent(Math.max(0, mark - 0.015))} height="12"/>` : nothing}
    ${!unsaid && !rule ? stretch(at.zero, at.over || endless ? mark : (at.needed ?? mark), "pic-measure-bar", 6, 12) : nothing}
    ${at.over || endless ? stretch(mark, endless ? 1 : (at.needed ?? mark), "pic-measure-over", 3, 18) : nothing}
    ${endless ? svg`<svg class="pic-measure-mark" x="100%" y="0" width="1" height="24">${tornEdge(3, 1, 3, 23)[0]}</svg>` : nothing}
    ${
      at.available === null
        ? nothing
        : svg`<svg class="pic-measure-mark" x=${percent(at.available)} y="0" width="1" height="24">
          <rect class="pic-measure-tick" x=${at.available > 0.5 ? -5 : 0} y="1" width="5" height="22"/></svg>`
    }
  </svg>`;
}

function stretch(
  /** @type {number} */ a,
  /** @type {number} */ b,
  /** @type {string} */ kind,
  /** @type {number} */ y,
  /** @type {number} */ height,
) {
  return svg`<rect class=${kind} x=${percent(Math.min(a, b))} y=${y} width=${percent(Math.abs(b - a))} height=${height}/>`;
}

function describe(
  /** @type {import("./parts.js").Format} */ fmt,
  /** @type {number|null} */ needed,
  /** @type {number|null} */ available,
  /** @type {string} */ dimension,
) {
  const told = (/** @type {number|null} */ x) => (known(x) ? fmt.q(x, dimension) : tell(fmt, "cant_say"));
  const text = tell(fmt, "measure", { needed: told(needed), available: told(available) });
  const over = known(needed) && known(available) && needed > available;
  return over ? `${text}. ${tell(fmt, "measure.over", { over: fmt.q(needed - available, dimension) })}` : text;
}
