// One line of a load: how much is in against how much may be, and what is left.
import { html } from "lit";
import { measureBar } from "../pictures/index.js";
import { marginAmount } from "../parts/margin.js";

/** @typedef {import("./context.js").Context} Context */

/**
 * @param {Context} context
 * @param {string} label
 * @param {number | null | undefined} used SI
 * @param {number | null | undefined} limit SI
 * @param {string} dimension
 */
export function figuresBar({ chosen, t, format }, label, used, limit, dimension) {
  const said = typeof used === "number" && typeof limit === "number";
  const left = said ? limit - used : 0;
  const words = said ? t(left < 0 ? "shell.load.over" : "shell.load.left", { by: marginAmount(left, dimension, chosen) }) : t("shell.unsaid");
  return html`<div class="spare-line">
    <span class="spare-label">${label}</span>
    ${measureBar({ needed: used ?? null, available: limit ?? null, dimension }, format)}
    <b class="spare-left">${words}</b>
  </div>`;
}
