// Things and people by the dozen: one line each, "name, mass, litres". Enter adds the next.
import { html, nothing } from "lit";
import { live } from "lit/directives/live.js";
import { amount } from "../parts/words.js";
import { display, t } from "../text.js";
import { shown } from "./form.js";
import { freshId } from "./layout.js";
import { dimensionIn, read, written } from "./reading.js";

/** @typedef {import("./schema.js").Json} Json @typedef {import("../text.js").Message} Message @typedef {import("../text.js").Chosen} Chosen */

const MASS = { si: "kg", low: 0, high: 20_000 };
const BULK = { si: "m³", low: 0, high: 20, above: true };

/** What soft things take that nobody measured [m³/kg], and how far off that may be: common practice, no source. */
const SOFT = { bulk: 6e-3, sd: 0.5 };

/** A figure with its unit at the end of a name, in brackets or not: "3 kg", "3kg", "(20 L)". */
const TRAILING = /^(.*[\s(:=])?([+\-−–]?(?:\d+(?:[.,]\d*)?|[.,]\d+))\s*([\p{L}³]+)\)?$/u;

/**
 * The figures that a name ends with, of a mass and of a bulk at most one each; "Rope 20 m" stays a name.
 * @param {string} name
 * @returns {{ name: string, mass?: string, bulk?: string }}
 */
function ending(name) {
  /** @type {{ name: string, mass?: string, bulk?: string }} */
  const found = { name };
  for (;;) {
    const match = TRAILING.exec(found.name);
    const dimension = match ? dimensionIn(match[3]) : undefined;
    const key = dimension === "mass" ? "mass" : dimension === "volume" || dimension === "bulk" ? "bulk" : undefined;
    const before = (match?.[1] ?? "").replace(/[\s(,;:=]+$/, "");
    if (!match || !key || found[key] || !before) return found;
    found.name = before;
    found[key] = `${match[2]} ${match[3]}`;
  }
}

/**
 * A line as an item or a person: a name, then a mass, then litres. Semicolons or tabs part it as well; a figure that
 * says its unit is read at the end of the name too, and in either place.
 * @param {string} line
 * @param {Chosen} chosen
 * @param {string} origin
 * @returns {{ name: string, mass?: Json, volume?: Json } | { problem: Message }}
 */
export function lineRead(line, chosen, origin) {
  const separator = line.includes("\t") ? "\t" : line.includes(";") ? ";" : ",";
  const parts = line.split(separator).map((part) => part.trim());
  // "Tent 3,2 kg": three and two tenths, or a Tent 3 of two kilograms? Nobody guesses.
  const torn = separator === "," && /^[^,]*\s(\d+),(\d+)/.exec(line);
  if (torn) return { problem: { text: "form.quick.comma", values: { typed: `${torn[1]},${torn[2]}`, point: `${torn[1]}.${torn[2]}` } } };
  const [first, ...rest] = parts;
  const ends = ending(first);
  // What stands in the name is no longer looked for behind it: "Bag 3 kg, 20 L".
  const [mass, bulk, ...more] = placed(ends, rest);
  const { name } = ends;
  if (!name || more.length) return { problem: { text: more.length ? "form.quick.too_many" : "form.quick.no_name" } };
  /** @type {Json} */
  const found = { name };
  for (const [key, text, quantity, dimension] of /** @type {const} */ ([["mass", mass, MASS, "mass"], ["volume", bulk, BULK, "bulk"]])) {
    if (!text) continue;
    const said = read(text, quantity, display(dimension, chosen).symbol);
    if ("problem" in said) return said;
    found[key] = { value: said.value, origin, typed: said.typed };
  }
  return found;
}

/** Mass, bulk, and what is too much. @param {{ mass?: string, bulk?: string }} ends @param {string[]} rest @returns {string[]} */
function placed({ mass, bulk }, rest) {
  if (mass === undefined && bulk === undefined) {
    // "Bag, 20 L" says by its unit that it is no mass
    const unit = /([\p{L}³]+)$/u.exec(rest[0] ?? "");
    const swapped = unit && ["volume", "bulk"].includes(dimensionIn(unit[1]) ?? "");
    return swapped ? [rest[1] ?? "", rest[0], ...rest.slice(2)] : rest;
  }
  const left = [...rest];
  return [mass ?? left.shift() ?? "", bulk ?? left.shift() ?? "", ...left];
}

/**
 * A weight will do: the bulk is guessed from it, as that of something soft, and stands there as a guess.
 * @template {{ mass?: Json, volume?: Json }} T
 * @param {T} read
 * @returns {T}
 */
export function withBulk(read) {
  const mass = read.mass?.value;
  if (read.volume || !(mass > 0)) return read;
  const value = mass * SOFT.bulk;
  return { ...read, volume: { value, origin: "estimated", sd: value * SOFT.sd } };
}

/** What was understood of a line. @param {{ name: string, mass?: Json, volume?: Json }} got @param {Chosen} chosen @param {boolean} bulky @returns {Message} */
export function understood({ name, mass, volume }, chosen, bulky) {
  const guess = (/** @type {Json} */ one) => (one.origin === "estimated" ? ` ${t("form.quick.guessed")}` : "");
  const parts = [
    mass ? `${amount(mass.value, "mass", chosen)}${guess(mass)}` : t("form.quick.no_mass"),
    ...(volume ? [`${amount(volume.value, "bulk", chosen)}${guess(volume)}`] : bulky ? [t("form.quick.no_bulk")] : []),
  ];
  return { text: "form.quick.added", values: { name, what: parts.join(", ") } };
}

/**
 * @param {object} given
 * @param {string} given.key
 * @param {string} given.label
 * @param {Chosen} given.chosen
 * @param {string} given.origin
 * @param {(read: { name: string, mass?: Json, volume?: Json }) => void} given.add
 * @param {() => void} given.redraw
 * @param {boolean} [given.bulky] it has a bulk, which a person has not
 */
export function quickLine({ key, label, chosen, origin, add, redraw, bulky = false }) {
  const id = `quick-${key}`;
  const line = shown.aid[id] ?? "";
  const said = shown.said[id];
  const put = () => {
    if (!line.trim()) return;
    const read = lineRead(line, chosen, origin);
    if ("problem" in read) shown.said[id] = read.problem;
    else {
      const got = bulky ? withBulk(read) : read;
      shown.aid[id] = "";
      shown.said[id] = understood(got, chosen, bulky);
      add(got);
    }
    redraw();
  };
  return html`<div class="f-add f-quick">
    <label class="f-label" for=${id}>${label}</label>
    <p class="f-help">${t(bulky ? "form.quick.how" : "form.quick.how_person", { mass: written(display("mass", chosen).symbol), bulk: written(display("bulk", chosen).symbol) })}</p>
    <div class="f-row">
      <input class="f-text" id=${id} type="text" autocomplete="off" enterkeyhint="done" .value=${live(line)}
        @input=${(/** @type {Event} */ { target }) => {
          shown.aid[id] = /** @type {HTMLInputElement} */ (target).value;
          redraw();
        }}
        @keydown=${(/** @type {KeyboardEvent} */ event) => {
          if (event.key !== "Enter") return;
          event.preventDefault();
          event.stopPropagation();
          put();
        }}
        @paste=${(/** @type {ClipboardEvent} */ event) => pasted(event, (text) => many(text, chosen, origin, (one) => add(bulky ? withBulk(one) : one), id, redraw))} />
      <button type="button" class="plain" @click=${put}>${t("form.add")}</button>
    </div>
    ${said ? html`<p role="status" class=${said.text === "form.quick.added" ? "" : "wrong"}>${t(said.text, said.values)}</p>` : nothing}
  </div>`;
}

/** Several lines at once, copied from a list. @param {ClipboardEvent} event @param {(text: string) => void} take */
function pasted(event, take) {
  const text = event.clipboardData?.getData("text") ?? "";
  if (!text.trim().includes("\n")) return;
  event.preventDefault();
  take(text);
}

/** @param {string} text @param {Chosen} chosen @param {string} origin @param {(read: any) => void} add @param {string} id @param {() => void} redraw */
function many(text, chosen, origin, add, id, redraw) {
  const lines = text.split(/\r?\n/).filter((line) => line.trim());
  const read_ = lines.map((line) => lineRead(line, chosen, origin));
  const wrong = read_.findIndex((one) => "problem" in one);
  if (wrong >= 0) {
    const { problem } = /** @type {{ problem: Message }} */ (read_[wrong]);
    shown.said[id] = { text: "form.quick.line", values: { n: String(wrong + 1), why: problem } };
  } else {
    for (const one of read_) add(one);
    shown.said[id] = { text: "form.quick.many", values: { n: String(lines.length) } };
  }
  redraw();
}

/** An item of a kit. @param {{ name: string, mass?: Json, volume?: Json }} read @param {Iterable<string>} taken @returns {Json} */
export const itemFrom = ({ name, mass, volume }, taken) => ({ id: freshId(name, taken), name, ...(mass ? { mass } : {}), ...(volume ? { size: { shape: "soft", volume } } : {}) });
