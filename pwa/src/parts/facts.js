// Ruled lists of facts, read-only: a name on the left, a figure with its origin on the right.
import { html, nothing } from "lit";
import { amount, sourced } from "./words.js";

/** @typedef {import("../screens/context.js").Context} Context @typedef {import("../state/pointer.js").Json} Json */

/**
 * @typedef {[label: unknown, value: unknown, note?: unknown]} Fact
 * @param {(Fact | undefined | false)[]} list
 */
export const facts = (list) =>
  html`<dl class="facts">
    ${list.map((fact) =>
      fact
        ? html`<div>
            <dt>${fact[0]}</dt>
            <dd>${fact[1]}</dd>
            ${fact[2] ? html`<dd class="note">${fact[2]}</dd>` : nothing}
          </div>`
        : nothing,
    )}
  </dl>`;

/**
 * A fact from a document's figure, with the figure's own note.
 * @param {Context} context
 * @param {string} label text id, without "shell."
 * @param {Json} figure
 * @param {string} dimension
 * @returns {Fact}
 */
export const figureFact = ({ t, chosen }, label, figure, dimension) => [
  t(`shell.${label}`),
  sourced(figure, dimension, chosen),
  figure?.note,
];

/** A bearing in whole degrees, three digits. @param {number} bearing [rad] */
export const degrees = (bearing) => `${String(Math.round((bearing * 180) / Math.PI) % 360).padStart(3, "0")}°`;

/** What the three ways of writing a figure mean. @param {Context} context */
export const originKey = ({ t }) =>
  html`<p class="key small">
    ${["book", "measured", "estimated"].map((origin) => html`<span class="origin origin-${origin}">${t(`shell.origin.${origin}`)}</span>`)}
  </p>`;

/** Obstacles, or the statement that there are none. @param {Context} context @param {Json} obstacles */
export function obstacleWords({ t, chosen }, obstacles) {
  if (!obstacles || obstacles.state === "unknown") return t("shell.obstacles.unknown");
  if (obstacles.state === "none") return t("shell.obstacles.none", { by: obstacles.said_by, at: obstacles.at.slice(0, 10) });
  return obstacles.obstacles
    .map((/** @type {Json} */ { name, height, distance }) =>
      t("shell.obstacles.one", {
        name,
        height: amount(height.value, "low height", chosen),
        distance: amount(distance.value, "length", chosen),
      }),
    )
    .join("; ");
}
