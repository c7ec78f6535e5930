// Text for people, from the core's one catalogue, with figures in the chosen units. Renders exactly as the core's
// own `tussock.text` does (a test holds them against each other), so that a screen and a command line say the same.
import catalogue from "../generated/text.json";
import exported from "../generated/units.json";

/**
 * @typedef {{ text: string, values?: Record<string, any> }} Message a catalogue id and its values, SI
 * @typedef {Record<string, string>} Chosen unit by dimension, where it differs from the default
 */

/** Display unit and decimals by dimension. @type {Record<string, { unit: string, decimals: number }>} */
const DISPLAY = exported.display;

/** Decimals of a unit, where they are not those of its dimension. @type {Record<string, number>} */
const DECIMALS = exported.decimals;

/** How a unit is written where that is not its symbol. @type {Record<string, string>} */
const WRITTEN = exported.shown;

/** @type {Record<string, { dimension: string, factor: number, offset: number }>} */
const UNITS = exported.units;

/** @type {Record<string, string>} */
const TEXTS = catalogue;

const SLOT = /\{(\w+)(?:\|([^}]+))?\}/g;

/**
 * Is there such a text?
 * @param {string} id
 */
export const has = (id) => Object.hasOwn(TEXTS, id);

/**
 * A message in the chosen units.
 * @param {Message} message
 * @param {Chosen} [chosen]
 * @returns {string}
 */
export function say(message, chosen) {
  const template = has(message.text) ? TEXTS[message.text] : message.text;
  const values = message.values ?? {};
  return template.replace(SLOT, (_, name, dimension) => {
    const value = values[name];
    if (value === undefined || value === null) return "–";
    if (typeof value === "object" && "text" in value) return say(value, chosen);
    if (typeof value === "string") return has(value) ? TEXTS[value] : value;
    return dimension === undefined ? general(Number(value)) : shown(Number(value), dimension, chosen);
  });
}

/**
 * A text by its id.
 * @param {string} id
 * @param {Record<string, any>} [values]
 * @param {Chosen} [chosen]
 */
export const t = (id, values, chosen) => say({ text: id, values }, chosen);

/** Is it a dimension that has a way to be shown? @param {string} dimension */
export const isShown = (dimension) => Object.hasOwn(DISPLAY, dimension);

/**
 * The unit in which a dimension is shown, its decimals, and how the unit is written.
 * @param {string} dimension
 * @param {Chosen} [chosen]
 */
export function display(dimension, chosen) {
  const usual = DISPLAY[dimension] ?? { unit: "1", decimals: 3 };
  const symbol = chosen?.[dimension] ?? usual.unit;
  return { symbol, decimals: DECIMALS[symbol] ?? usual.decimals, unit: WRITTEN[symbol] ?? symbol };
}

/**
 * @param {number} value SI
 * @param {string} symbol
 */
export const fromSi = (value, symbol) => (value - UNITS[symbol].offset) / UNITS[symbol].factor;

/**
 * @param {number} value in `symbol`
 * @param {string} symbol
 */
export const toSi = (value, symbol) => value * UNITS[symbol].factor + UNITS[symbol].offset;

/**
 * The number of `shown` without its unit.
 * @param {number} value SI
 * @param {string} dimension
 * @param {Chosen} [chosen]
 */
export function numeral(value, dimension, chosen) {
  if (!Number.isFinite(value)) return "–";
  const { symbol, decimals } = display(dimension, chosen);
  return grouped(rounded(fromSi(value, symbol), decimals));
}

/**
 * A number in SI as text with its unit.
 * @param {number} value SI
 * @param {string} dimension
 * @param {Chosen} [chosen]
 */
export function shown(value, dimension, chosen) {
  if (!Number.isFinite(value)) return "–";
  const { unit } = display(dimension, chosen);
  return `${numeral(value, dimension, chosen)}${unit === "" || unit === "°" ? "" : " "}${unit}`;
}

/**
 * What is free, never more of it than there is when it is shown: a figure down to the last digit that is shown.
 * @param {number} value SI
 * @param {string} dimension
 * @param {Chosen} [chosen]
 * @returns {number} SI
 */
export function shownDown(value, dimension, chosen) {
  if (!Number.isFinite(value)) return value;
  const { symbol, decimals } = display(dimension, chosen);
  // the hair keeps 4.5 kg that came out as 4.4999999999
  return toSi(Math.floor(fromSi(value, symbol) * 10 ** decimals + 1e-6) / 10 ** decimals, symbol);
}

/** @param {string} text */
function grouped(text) {
  const plain = Number(text) === 0 && text.startsWith("-") ? text.slice(1) : text;
  const negative = plain.startsWith("-");
  const [whole, part] = (negative ? plain.slice(1) : plain).split(".");
  const spaced = whole.length > 4 ? whole.replace(/\B(?=(\d{3})+$)/g, " ") : whole;
  return `${negative ? "−" : ""}${spaced}${part === undefined ? "" : `.${part}`}`;
}

/**
 * As many decimals, a tie going to the even digit as it does in the core (`toFixed` alone goes up).
 * @param {number} value
 * @param {number} decimals
 */
function rounded(value, decimals) {
  const size = Math.abs(value);
  const sign = value < 0 || Object.is(value, -0) ? "-" : "";
  if (size >= 1e21) return `${sign}${BigInt(size)}${decimals ? `.${"0".repeat(decimals)}` : ""}`;
  const exact = size.toFixed(Math.min(100, decimals + 40));
  const point = exact.indexOf(".");
  return sign + (evenTie(exact, point + 1 + decimals)?.replace(/\.$/, "") ?? size.toFixed(decimals));
}

/**
 * The digits up to `cut` when what follows is exactly a half and the last of them is even; else undefined.
 * @param {string} exact
 * @param {number} cut
 */
function evenTie(exact, cut) {
  const kept = exact.slice(0, cut);
  const last = Number(kept.replace(".", "").slice(-1));
  return /^50*$/.test(exact.slice(cut)) && last % 2 === 0 ? kept : undefined;
}

/**
 * Six significant digits, as the core writes a number that has no dimension.
 * @param {number} value
 */
function general(value) {
  if (!Number.isFinite(value)) return Number.isNaN(value) ? "nan" : value > 0 ? "inf" : "-inf";
  if (value === 0) return Object.is(value, -0) ? "-0" : "0";
  const sign = value < 0 ? "-" : "";
  const [exact] = Math.abs(value).toExponential(60).split("e");
  const [up, power] = Math.abs(value).toExponential(5).split("e");
  const digits = evenTie(exact, 7) ?? up;
  const exponent = Number(power);
  if (exponent < -4 || exponent >= 6) {
    const size = String(Math.abs(exponent)).padStart(2, "0");
    return `${sign}${trimmed(digits)}e${exponent < 0 ? "-" : "+"}${size}`;
  }
  const plain = digits.replace(".", "");
  if (exponent < 0) return `${sign}${trimmed(`0.${"0".repeat(-exponent - 1)}${plain}`)}`;
  return `${sign}${trimmed(`${plain.slice(0, exponent + 1)}.${plain.slice(exponent + 1)}`)}`;
}

/** @param {string} digits */
const trimmed = (digits) => (digits.includes(".") ? digits.replace(/\.?0*$/, "") : digits);
