// The person's choice of units, as the settings document keeps it.

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
  length: { ft: { "low height": "ft", arm: "in", short: "in" } },
  volume: { gal: { flow: "gal/h", bulk: "gal" } },
  temperature: { degF: { "temperature difference": "ddegF" } },
};

/** Units that go with one that was chosen. @param {string} dimension @param {string} symbol @returns {Record<string, string>} */
export const following = (dimension, symbol) => FOLLOWS[dimension]?.[symbol] ?? {};

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
    Object.assign(chosen, following(dimension, symbol));
  }
  return chosen;
}
