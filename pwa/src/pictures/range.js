// A figure that was measured against the band in which it should lie, on a scale of its own.
import { html, nothing, svg } from "lit";

/** @typedef {import("./parts.js").Format} Format */

const [WIDE, HIGH, EDGE] = [200, 22, 6];

/**
 * @param {object} range all in SI
 * @param {number | null} range.low end of the band; null: without end
 * @param {number | null} range.high
 * @param {number | null} range.middle
 * @param {number} [range.measured]
 * @param {boolean} [range.doubtful]
 * @param {string} range.label what a reader of the screen hears
 */
export function rangePlot({ low, high, middle, measured, doubtful = false, label }) {
  const there = [low, high, middle, measured].filter((one) => typeof one === "number");
  const [least, most] = [Math.min(...there), Math.max(...there)];
  const spread = most - least || Math.abs(most) || 1;
  const at = (/** @type {number} */ value) => EDGE + ((value - least) / spread) * (WIDE - 2 * EDGE);
  const middleY = HIGH / 2;
  const from = low === null ? 0 : at(low);
  const to = high === null ? WIDE : at(high);
  return html`<svg class="range" viewBox="0 0 ${WIDE} ${HIGH}" role="img" aria-label=${label} preserveAspectRatio="none">
    ${svg`<rect class="range-band" x=${from} y=${middleY - 5} width=${Math.max(to - from, 1)} height="10" />`}
    ${middle === null ? nothing : svg`<line class="range-middle" x1=${at(middle)} x2=${at(middle)} y1=${middleY - 8} y2=${middleY + 8} />`}
    ${measured === undefined ? nothing : (doubtful ? ["range-dot", "range-doubt"] : ["range-dot"]).map((name) => svg`<line class=${name} x1=${at(measured)} x2=${at(measured)} y1=${middleY} y2=${middleY} />`)}
  </svg>`;
}
