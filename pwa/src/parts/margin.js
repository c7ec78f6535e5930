// What is left or short, said so that it never flatters: what is left rounds down, what is short rounds up, and neither
// is told as nought where it is not.
import { html } from "lit";
import { display, fromSi, t, toSi } from "../text.js";
import { amount, figure } from "./words.js";

/** @typedef {import("../text.js").Chosen} Chosen @typedef {import("../state/pointer.js").Json} Json */

/** A sum in floats that should be a round figure is off by less. */
const HAIR = 1e-6;

/**
 * A margin without its sign, rounded to what is shown; `less` where it is under one of the last digit.
 * @param {number} margin SI, negative where it is short
 * @param {string} dimension
 * @param {Chosen} chosen
 * @returns {{ value: number, less: boolean }} SI
 */
export function rounded(margin, dimension, chosen) {
  const { symbol, decimals } = display(dimension, chosen);
  const steps = Math.abs(fromSi(margin, symbol) - fromSi(0, symbol)) * 10 ** decimals;
  const whole = margin < 0 ? Math.ceil(steps - HAIR) : Math.floor(steps + HAIR);
  const less = steps > HAIR && steps < 1 - HAIR;
  return { value: toSi((less ? 1 : whole) / 10 ** decimals, symbol) - toSi(0, symbol), less };
}

/** "63 m", or "less than 1 m"; whether left or short the caller says. @param {number} margin @param {string} dimension @param {Chosen} chosen */
export function marginAmount(margin, dimension, chosen) {
  const { value, less } = rounded(margin, dimension, chosen);
  const said = amount(value, dimension, chosen);
  return less ? t("margin.less", { by: said }) : said;
}

/** In little room, with a sign: what is short is never under one of the last digit. @param {number} margin @param {string} dimension @param {Chosen} chosen */
export function marginSigned(margin, dimension, chosen) {
  const { value, less } = rounded(margin, dimension, chosen);
  return margin < 0 ? `−${amount(value, dimension, chosen)}` : amount(less ? 0 : value, dimension, chosen);
}

/** The same with its unit set smaller. @param {number} margin @param {string} dimension @param {Chosen} chosen */
export function marginFigure(margin, dimension, chosen) {
  const { value, less } = rounded(margin, dimension, chosen);
  const said = figure(value, dimension, chosen);
  return less ? html`${t("margin.less", { by: "" }).trim()} ${said}` : said;
}

/**
 * The measure that an answer hangs on. None where something else makes it a no or not to be said: the margin of a measure
 * that is met would read as an answer.
 * @param {Json} answer
 * @returns {Json | undefined}
 */
export function ruling(answer) {
  const measure = answer?.measures?.[answer.governing ?? 0];
  return measure && ["no", "can't say"].includes(answer.verdict) && measure.verdict !== answer.verdict ? undefined : measure;
}
