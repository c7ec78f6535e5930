// A measure drawn to scale: what is needed as a bar, what is available as a mark. The figures stand beside it in words.
import { html, nothing, svg } from "lit";

/** Where the mark stands as long as the bar does not pass the right end. [% of the width] */
const MARK = 84;

/**
 * @param {{ needed: number | null, available: number | null, verdict?: string }} measure SI
 */
export function measureBar({ needed, available, verdict }) {
  if (needed === null || available === null || needed === undefined || available === undefined) {
    return html`<svg class="bar" viewBox="0 0 100 10" preserveAspectRatio="none" aria-hidden="true">
      <line class="bar-unknown" x1="0" x2="100" y1="8" y2="8" vector-effect="non-scaling-stroke" />
    </svg>`;
  }
  const [wanted, has] = [Math.max(0, needed), Math.max(0, available)];
  const scale = Math.min(has > 0 ? MARK / has : Infinity, wanted > 0 ? 99 / wanted : Infinity);
  const [length, mark] = Number.isFinite(scale) ? [wanted * scale, has * scale] : [0, MARK];
  const beyond = length - mark;
  return html`<svg class="bar" viewBox="0 0 100 10" preserveAspectRatio="none" aria-hidden="true">
    <rect class="bar-needed" x="0" y="1.5" width=${Math.min(length, mark)} height="5" />
    ${beyond > 0 ? svg`<rect class="bar-beyond" x=${mark} y="1.5" width=${beyond} height="5" />` : nothing}
    <line class="bar-ground" x1="0" x2=${mark} y1="8.5" y2="8.5" vector-effect="non-scaling-stroke" />
    <line class="bar-mark ${verdict === "no" ? "bar-mark-no" : ""}" x1=${mark} x2=${mark} y1="0" y2="10" vector-effect="non-scaling-stroke" />
  </svg>`;
}
