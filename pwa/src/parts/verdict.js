// A verdict, told by its word and by its fill: no solid, can't say a dotted outline, tight hatched, yes plain.
import { html } from "lit";
import { t } from "../text.js";

/** As a class and a text id. @param {string | undefined} verdict */
const slug = (verdict) => (verdict ?? "unknown").replace(/[^a-z]+/g, "-");

/** Worst first. */
export const VERDICTS = ["no", "can't say", "tight", "yes"];

/** The worse of two. @param {string} one @param {string} other */
export const worseOf = (one, other) => (VERDICTS.indexOf(other) < VERDICTS.indexOf(one) ? other : one);

/** @param {string | undefined} verdict */
const verdictWord = (verdict) => (verdict ? t(`verdict.${verdict}`) : "…");

/**
 * @param {string | undefined} verdict undefined: not known yet
 * @param {{ big?: boolean }} [options]
 */
export const verdictLabel = (verdict, { big = false } = {}) =>
  html`<span class="verdict verdict-${slug(verdict)} ${big ? "verdict-big" : ""}"><span>${verdictWord(verdict)}</span></span>`;
