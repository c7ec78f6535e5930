// A code that a camera reads, drawn: dark on white in every mode, with the quiet edge that cameras need.
import { html, svg } from "lit";
import encode from "qr";

/** Drawn codes by their text; there are few, and a screen is drawn often. @type {Map<string, { size: number, path: string }>} */
const drawn = new Map();
const EDGE = 4;

/** The little squares of a code, row by row; true is dark. @param {string} text */
export const squaresOf = (text) => encode(text, "raw", { ecc: "low", border: EDGE });

/** @param {string} text */
function shape(text) {
  const known = drawn.get(text);
  if (known) return known;
  const rows = squaresOf(text);
  const path = rows.flatMap((row, y) => row.flatMap((dark, x) => (dark ? [`M${x} ${y}h1v1h-1z`] : []))).join("");
  if (drawn.size > 40) drawn.clear();
  const found = { size: rows.length, path };
  drawn.set(text, found);
  return found;
}

/** @param {string} text @param {string} label */
export function codePicture(text, label) {
  const { size, path } = shape(text);
  return html`<svg class="code" role="img" aria-label=${label} viewBox="0 0 ${size} ${size}" shape-rendering="crispEdges" data-code=${text}>
    ${svg`<rect width=${size} height=${size} fill="#fff" /><path d=${path} fill="#000" />`}
  </svg>`;
}
