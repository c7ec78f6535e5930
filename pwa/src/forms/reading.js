// What is typed, read as the core reads it: `parse` is the core's own, to the last bit (a test holds them together).
// Whatever else is kind to a thumb (a typographic minus, spaces between thousands) is made plain before.
import exported from "../../generated/units.json";

/** @typedef {import("../text.js").Message} Message */

/**
 * @typedef {object} Quantity what a field measures
 * @property {string} si its SI unit
 * @property {number} [low] SI
 * @property {number} [high] SI
 * @property {boolean} [above]
 *
 * @typedef {{ value: number, typed: string, unit: string }} Read in SI, as it is kept, and the unit it was given in
 */

/** @type {Record<string, { dimension: string, factor: number, offset: number }>} */
const UNITS = exported.units;
/** @type {Record<string, string>} */
const ALIASES = exported.aliases;
/** @type {Record<string, string>} */
const WRITTEN = { ...exported.shown, gal: "US gal", "gal/h": "US gal/h" }; // where it is typed nobody shall think of another gallon

/** Kept texts may be no longer. */
const LONGEST = 40;

const NUMBER = /^\s*([+-]?(?:\d+(?:[.,]\d*)?|[.,]\d+)(?:[eE][+-]?\d+)?)\s*(.*?)\s*$/;

/** Units that can be chosen for what is measured, the usual first. @type {Record<string, string[]>} */
const CHOICES = {
  mass: ["kg", "lb", "g"],
  length: ["m", "ft", "mm", "cm", "in", "km", "NM", "SM"],
  height: ["ft", "m", "cm", "in"],
  speed: ["kt", "km/h", "mph", "m/s"],
  "vertical speed": ["ft/min", "m/s", "kt"],
  temperature: ["degC", "degF", "K"],
  "temperature difference": ["ddegC", "ddegF"],
  pressure: ["hPa", "inHg"],
  volume: ["L", "gal", "m³"],
  bulk: ["L", "gal", "ft³", "m³"],
  flow: ["L/h", "gal/h"],
  angle: ["deg", "rad"],
  gradient: ["%", "1"],
  ratio: ["%", "1"],
  time: ["min", "s", "h"],
  area: ["m²", "ft²"],
  "mass area density": ["kg/m²", "lb/ft²"],
  force: ["N", "kgf", "lbf"],
  power: ["kW", "hp", "W"],
  moment: ["kg m", "lb in"],
  rotation: ["rpm", "1/s"],
};

/** @param {string | undefined} dimension @param {string} si */
export const unitsFor = (dimension, si) => CHOICES[dimension ?? ""] ?? [si];

/** How a unit is written. @param {string} symbol */
export const written = (symbol) => WRITTEN[symbol] ?? symbol;

/** A unit's own symbol from a spelling, undefined where it is not known. @param {string} spelling @returns {string | undefined} */
function symbolOf(spelling) {
  if (Object.hasOwn(UNITS, spelling)) return spelling;
  const low = spelling.toLowerCase();
  if (Object.hasOwn(ALIASES, spelling)) return ALIASES[spelling];
  return Object.hasOwn(ALIASES, low) ? ALIASES[low] : undefined;
}

/** What a spelling of a unit measures. @param {string} spelling @returns {string | undefined} */
export const dimensionIn = (spelling) => UNITS[symbolOf(spelling) ?? ""]?.dimension;

class Unread extends Error {
  /** @param {"number" | "unit" | "dimension"} why */
  constructor(why) {
    super(why);
    this.why = why;
  }
}

/**
 * "5000 ft" as SI; a bare number is taken as `si` itself. Throws `Unread`.
 * @param {string} text
 * @param {string} si the SI unit that is expected
 */
export function parse(text, si) {
  const match = NUMBER.exec(text);
  if (!match) throw new Unread("number");
  const number = Number(match[1].replace(",", "."));
  if (!match[2]) return number;
  const symbol = symbolOf(match[2]);
  const wanted = symbolOf(si);
  if (symbol === undefined || wanted === undefined) throw new Unread("unit");
  const [given, expected] = [UNITS[symbol], UNITS[wanted]];
  const difference = wanted === "dK" && given.dimension === "temperature";
  if (given.dimension !== expected.dimension && !difference) throw new Unread("dimension");
  if (si === "deg") return symbol === "deg" ? number : (number * given.factor) / expected.factor;
  return number * given.factor + (difference ? 0 : given.offset);
}

/** The number and the unit of a text that was kept; undefined where it can't be read. @param {string} text */
export function parted(text) {
  const match = NUMBER.exec(text);
  const symbol = match ? symbolOf(match[2]) : undefined;
  return match && symbol !== undefined ? { number: match[1], symbol } : undefined;
}

/** A figure as the core reads it: one minus, no spaces between thousands. @param {string} typed */
export const plain = (typed) =>
  typed
    .trim()
    .replace(/[−–]/g, "-")
    .replace(/(\d)[\s\u00a0\u2009\u202f](?=\d{3}(?!\d))/g, "$1");

/** "1,200" may be one thing or a thousand times it: nobody guesses. @param {string} text */
function ambiguous(text) {
  const match = /^([+-]?[1-9]\d{0,2}),(\d{3})(?!\d)/.exec(text);
  return match ? { text: "form.wrong.comma", values: { thousand: match[1] + match[2], point: `${match[1]}.${match[2]}` } } : undefined;
}

/**
 * What was typed, as SI and as it is kept, or what is wrong with it.
 * @param {string} typed
 * @param {Quantity} quantity
 * @param {string} unit in which a bare number counts
 * @returns {Read | { problem: Message }}
 */
export function read(typed, quantity, unit) {
  const text = plain(typed);
  const problem = ambiguous(text);
  if (problem) return { problem };
  const whole = NUMBER.exec(text)?.[2] ? text : `${text} ${unit}`;
  let value;
  try {
    value = parse(whole, quantity.si);
  } catch (unread) {
    const { why } = /** @type {Unread} */ (unread);
    return { problem: { text: `form.wrong.${why}`, values: { typed, unit: written(unit) } } };
  }
  const [, number, spelling] = /** @type {RegExpExecArray} */ (NUMBER.exec(whole));
  const symbol = /** @type {string} */ (symbolOf(spelling));
  const kept = symbol === "1" ? number : whole;
  if (!Number.isFinite(value) || kept.length > LONGEST) return { problem: { text: "form.wrong.number", values: { typed, unit: written(unit) } } };
  return outOf(value, quantity, symbol) ?? { value, typed: kept, unit: symbol };
}

/** Is it within what is possible? @param {number} value @param {Quantity} quantity @param {string} unit for the words */
function outOf(value, { low, high, above }, unit) {
  const said = (/** @type {number} */ bound) => `${shortest(bound, unit)} ${written(unit)}`.trim();
  if (low !== undefined && above && value <= low) return { problem: { text: "form.wrong.above", values: { low: said(low) } } };
  if (low !== undefined && value < low) return { problem: { text: "form.wrong.low", values: { low: said(low) } } };
  if (high !== undefined && value > high) return { problem: { text: "form.wrong.high", values: { high: said(high) } } };
  return undefined;
}

/** SI unit by unit, for `shortest`. @param {string} symbol */
const siOf = (symbol) => Object.keys(UNITS).find((one) => UNITS[one].dimension === UNITS[symbol].dimension) ?? symbol;

/**
 * The shortest decimal that says exactly this value in a unit; where there is none, about six digits of it.
 * @param {number} value SI
 * @param {string} symbol
 */
export function shortest(value, symbol) {
  const { factor, offset } = UNITS[symbol];
  const si = siOf(symbol);
  const there = symbol === "deg" && si === "deg" ? value : (value - offset) / factor;
  for (let digits = 1; digits <= 12; digits++) {
    const text = decimal(there, digits);
    if (toSi(Number(text), symbol) === value) return text;
  }
  return decimal(there, 6);
}

/** @param {number} value @param {string} symbol */
const toSi = (value, symbol) => value * UNITS[symbol].factor + UNITS[symbol].offset;

/** @param {number} value @param {number} digits */
function decimal(value, digits) {
  const text = String(Number(value.toPrecision(digits)));
  return text.startsWith("-0") && Number(text) === 0 ? "0" : text;
}

/**
 * What a field shows: what was typed, to the letter, where it says this value in this unit; else the value.
 * @param {number} value SI
 * @param {string | null | undefined} typed
 * @param {string} si
 * @param {string} unit
 */
export function display(value, typed, si, unit) {
  if (typed) {
    const parts = parted(typed);
    if (parts?.symbol === unit && parse(typed, si) === value) return parts.number;
  }
  // Latitude and longitude are kept in degrees.
  return si === "deg" ? String(value) : shortest(value, unit);
}
