// The person's choice of units, as the settings document keeps it, and what was typed read in those units.
import { display, fromSi, toSi } from "../text.js";

/** @typedef {import("../text.js").Chosen} Chosen */

/** What can be chosen, in the order of the settings. @type {Record<string, string[]>} */
export const CHOICES = {
  height: ["ft", "m"],
  length: ["m", "ft"],
  distance: ["NM", "km", "SM"],
  speed: ["kt", "km/h", "mph"],
  mass: ["kg", "lb"],
  volume: ["L", "gal"],
  temperature: ["degC", "degF"],
  pressure: ["hPa", "inHg"],
};

/** Dimensions that follow one that is chosen. @type {Record<string, Record<string, Record<string, string>>>} */
const FOLLOWS = {
  length: { ft: { "low height": "ft" } },
  volume: { gal: { flow: "gal/h", bulk: "gal" } },
  temperature: { degF: { "temperature difference": "ddegF" } },
};

/**
 * Unit by dimension from the `units` of a settings document.
 * @param {Record<string, string>} [units]
 * @returns {Chosen}
 */
export function chosenUnits(units = {}) {
  /** @type {Chosen} */
  const chosen = {};
  for (const [dimension, [usual]] of Object.entries(CHOICES)) {
    const symbol = units[dimension] ?? usual;
    chosen[dimension] = symbol;
    Object.assign(chosen, FOLLOWS[dimension]?.[symbol]);
  }
  return chosen;
}

/**
 * What was typed, as SI; undefined when it is not a number. A decimal comma and a typographic minus count.
 * @param {string} typed
 * @param {string} dimension
 * @param {Chosen} chosen
 * @returns {number | undefined}
 */
export function readTyped(typed, dimension, chosen) {
  const plain = typed.trim().replace(/[\s\u00a0]/g, "").replace("−", "-").replace(",", ".");
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
