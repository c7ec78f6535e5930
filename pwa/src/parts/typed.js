// A figure in the chosen unit: what was typed, read as SI, and the next step up or down.
import { display, fromSi, toSi } from "../text.js";

/** @typedef {import("../text.js").Chosen} Chosen */

/** Places where somebody is typing: until it counts, no answer is of now. @type {Set<string>} */
export const typing = new Set();

/** The id of the field of a place. @param {string} place */
export const fieldOf = (place) => `entry-${place.replace(/\W+/g, "-")}`;

/** Is somebody typing there at this moment? @param {string} place */
export const typedNow = (place) => typing.has(place) && document.activeElement?.id === fieldOf(place);

/** Hours and minutes, as a log has them. */
const CLOCK = /^(\d{1,2}):([0-5]\d)$/;

/** One separator before each three digits: thousands, where the unit shows no decimals. */
const THOUSANDS = /^[+-]?[1-9]\d{0,2}([.,]\d{3})+$/;

/**
 * What was typed, as SI; undefined when it is not a number. A decimal comma and a typographic minus count, and so do
 * thousands: "4,600" of feet is no "4.6". Where hours are asked, "1:50" is an hour and fifty minutes.
 * @param {string} typed
 * @param {string} dimension
 * @param {Chosen} chosen
 * @returns {number | undefined}
 */
export function readTyped(typed, dimension, chosen) {
  const close = typed.trim().replace(/[\s\u00a0]/g, "").replace("−", "-");
  const clock = display(dimension, chosen).symbol === "h" && CLOCK.exec(close);
  if (clock) return 3600 * Number(clock[1]) + 60 * Number(clock[2]);
  const thousands = THOUSANDS.test(close) && display(dimension, chosen).decimals === 0;
  const plain = thousands ? close.replace(/[.,]/g, "") : close.replace(",", ".");
  if (!/^[+-]?(\d+\.?\d*|\.\d+)$/.test(plain)) return undefined;
  return toSi(Number(plain), display(dimension, chosen).symbol);
}

/**
 * The next value one step up or down on the grid of whole steps in the chosen unit.
 * @param {number} value SI
 * @param {number} direction 1 or -1
 * @param {number} step in the chosen unit
 * @param {string} dimension
 * @param {Chosen} chosen
 */
export function stepped(value, direction, step, dimension, chosen) {
  const { symbol } = display(dimension, chosen);
  const steps = fromSi(value, symbol) / step;
  const nearest = Math.round(steps);
  const onGrid = Math.abs(steps - nearest) < 1e-6;
  const next = onGrid ? nearest + direction : direction > 0 ? Math.ceil(steps) : Math.floor(steps);
  return toSi(next * step, symbol);
}
