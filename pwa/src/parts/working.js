// One step of the working: what was reckoned, from what, to what, and by whose relation. Numbers stand in the person's
// units with four significant digits, more than anywhere else, so that a step can be followed with a pencil.
import { html, nothing } from "lit";
import { display, fromSi, isShown, t } from "../text.js";
import { unbroken, words } from "./words.js";

/** @typedef {import("../text.js").Chosen} Chosen @typedef {import("../state/pointer.js").Json} Json */

/** The dimension in which a unit is shown, where the name of the figure does not say another. @type {Record<string, string>} */
const BY_UNIT = {
  kg: "mass",
  m: "length",
  "m/s": "speed",
  K: "temperature",
  dK: "temperature difference",
  Pa: "pressure",
  "kg/m³": "density",
  "kg/m²": "mass area density",
  "m³": "volume",
  "m³/s": "flow",
  rad: "angle",
  s: "time",
  "m²": "area",
  N: "force",
  "N m": "torque",
  W: "power",
  "kg m": "moment",
  "1/s": "rotation",
  "m/s²": "acceleration",
};

/** What a name says of its dimension: [unit, words in the name, dimension]. @type {[string, RegExp, string][]} */
const BY_NAME = [
  ["m", /altitude|elevation/, "height"],
  ["m", /^arms?\b|room to the|width of the envelope/, "arm"],
  ["m", /edge|person|grass|tallest|opening/, "short"],
  ["m", /point of|range in/, "distance"],
  ["m", /^height/, "low height"],
  ["m/s", /\brate\b|sinking/, "vertical speed"],
];

/** Moments, in seconds since 1970. */
const SUN = /sunrise|sunset|dawn|dusk|noon|^time since/;

/** A way over ground as long as this is a distance of navigation. [m] */
const FAR = 10_000;

/** @param {Json} step @param {Chosen} chosen */
export const workingStep = (step, chosen) => html`<li class="work">
  <div class="work-head">
    <span>${step.title}${step.label ? html` <span class="small">${words(step.label, chosen)}</span>` : nothing}</span>
    <span class="work-out"
      >${step.outputs.map(
        (/** @type {Json} */ out) =>
          html`<span>${step.outputs.length > 1 ? html`<span class="small">${out.name} </span>` : nothing}<b>${quantity(out, chosen)}</b></span>`,
      )}</span
    >
  </div>
  <p class="small">
    ${step.inputs.map((/** @type {Json} */ input, /** @type {number} */ i) => html`${i ? " · " : ""}${input.name} ${quantity(input, chosen)}`)}
  </p>
  <p class="small">${step.source}</p>
</li>`;

/**
 * @param {Json} given name, SI value (or a list of them, or words), SI unit
 * @param {Chosen} chosen
 * @returns {string}
 */
export function quantity({ name, value, unit }, chosen) {
  if (typeof value === "string") return value;
  if (Array.isArray(value)) return value.map((one) => quantity({ name, value: one, unit }, chosen)).join(", ");
  if (typeof value !== "number") return typeof value === "boolean" ? t(value ? "shell.yes" : "shell.no") : t("shell.unsaid");
  if (unit === "s" && SUN.test(name)) return t("shell.utc", { clock: new Date(value * 1000).toISOString().slice(11, 16) });
  const dimension = dimensionOf(name, value, unit);
  if (!dimension) return `${plain(value)}${unit && unit !== "1" ? `\u00a0${unit === "deg" ? "°" : unit}` : ""}`;
  const { symbol, unit: written } = display(dimension, chosen);
  return `${plain(fromSi(value, symbol))}${written && written !== "°" ? "\u00a0" : ""}${written}`;
}

/** The dimension in which a figure is shown; undefined where it has none of its own. @param {string} name @param {number} value @param {string} unit */
export function dimensionOf(name, value, unit) {
  const named = BY_NAME.find(([of, pattern]) => of === unit && pattern.test(name));
  const dimension = named ? named[2] : unit === "m" && Math.abs(value) >= FAR ? "distance" : BY_UNIT[unit];
  return dimension && isShown(dimension) ? dimension : undefined;
}

/** Four significant digits, all before the point, no exponent where it can be avoided. @param {number} value */
function plain(value) {
  const size = Math.abs(value);
  if (size !== 0 && (size < 1e-4 || size >= 1e7)) return value.toExponential(3).replaceAll("-", "−");
  const text = size >= 1000 ? String(Math.round(value)) : String(Number(value.toPrecision(4)));
  return unbroken(text.replace("-", "−").replace(/\B(?=(\d{3})+$)/g, size >= 10_000 ? " " : ""));
}
