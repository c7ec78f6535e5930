// Messages and figures as they stand on a page: a figure is never torn from its unit at the end of a line.
import { html, nothing } from "lit";
import { display, numeral, say, shown, t } from "../text.js";

/** @typedef {import("../text.js").Chosen} Chosen @typedef {import("../text.js").Message} Message */

/** Spaces inside a figure, and between it and its unit, become such as don't break. @param {string} text */
export const unbroken = (text) =>
  text.replace(/(\d) (?=\d{3}(?!\d))/g, "$1\u00a0").replace(/(\d) (?=(?:°C|°F|%|kg|lb|g|m|mm|cm|km|ft|NM|SM|kt|km\/h|mph|ft\/min|hPa|inHg|L|gal|L\/h|gal\/h|min|h|kW|N|rpm|K)(?![\p{L}]))/gu, "$1\u00a0");

/**
 * @param {Message} message
 * @param {Chosen} chosen
 */
export const words = (message, chosen) => unbroken(say(message, chosen));

/** A text of the catalogue, unbroken. @param {string} id @param {Record<string, any>} [values] @param {Chosen} [chosen] */
export const told = (id, values, chosen) => unbroken(t(id, values, chosen));

/** @param {number} value @param {string} dimension @param {Chosen} chosen */
export const amount = (value, dimension, chosen) => unbroken(shown(value, dimension, chosen));

/**
 * A figure with its unit set smaller.
 * @param {number | null | undefined} value SI
 * @param {string} dimension
 * @param {Chosen} chosen
 */
export function figure(value, dimension, chosen) {
  if (value === null || value === undefined || !Number.isFinite(value)) return html`<span class="figure">–</span>`;
  const { unit } = display(dimension, chosen);
  const gap = unit === "°" ? "" : "\u00a0";
  return html`<span class="figure"
    >${unbroken(numeral(value, dimension, chosen))}${unit ? html`<span class="unit">${gap}${unit}</span>` : nothing}</span
  >`;
}

/**
 * A document's figure, which shows where it came from: book plain, measured underlined, estimated with a question mark.
 * @param {{ value: number, origin: string } | null | undefined} given
 * @param {string} dimension
 * @param {Chosen} chosen
 */
export function sourced(given, dimension, chosen) {
  if (!given) return html`<span class="origin origin-absent">${t("shell.absent")}</span>`;
  return html`<span class="origin origin-${given.origin}"
    >${figure(given.value, dimension, chosen)}${given.origin === "estimated" ? html` <span aria-hidden="true">?</span>` : nothing}<span class="unseen"
      >, ${t(`shell.origin.${given.origin}`)}</span
    ></span
  >`;
}
