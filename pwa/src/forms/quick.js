// Things and people by the dozen: one line each, "name, mass, litres". Enter adds the next.
import { html, nothing } from "lit";
import { live } from "lit/directives/live.js";
import { display, t } from "../text.js";
import { shown } from "./form.js";
import { freshId } from "./layout.js";
import { read, written } from "./reading.js";

/** @typedef {import("./schema.js").Json} Json @typedef {import("../text.js").Message} Message @typedef {import("../text.js").Chosen} Chosen */

const MASS = { si: "kg", low: 0, high: 20_000 };
const BULK = { si: "m³", low: 0, high: 20, above: true };

/**
 * A line as an item or a person: a name, then a mass, then litres. Semicolons or tabs part it as well.
 * @param {string} line
 * @param {Chosen} chosen
 * @param {string} origin
 * @returns {{ name: string, mass?: Json, volume?: Json } | { problem: Message }}
 */
export function lineRead(line, chosen, origin) {
  const separator = line.includes("\t") ? "\t" : line.includes(";") ? ";" : ",";
  const parts = line.split(separator).map((part) => part.trim());
  const [name, mass, bulk, ...more] = parts;
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

/**
 * @param {object} given
 * @param {string} given.key
 * @param {string} given.label
 * @param {Chosen} given.chosen
 * @param {string} given.origin
 * @param {(read: { name: string, mass?: Json, volume?: Json }) => void} given.add
 * @param {() => void} given.redraw
 */
export function quickLine({ key, label, chosen, origin, add, redraw }) {
  const id = `quick-${key}`;
  const line = shown.aid[id] ?? "";
  const said = shown.said[id];
  const put = () => {
    if (!line.trim()) return;
    const got = lineRead(line, chosen, origin);
    if ("problem" in got) shown.said[id] = got.problem;
    else {
      shown.aid[id] = "";
      shown.said[id] = { text: "form.quick.added", values: { name: got.name } };
      add(got);
    }
    redraw();
  };
  return html`<div class="f-add f-quick">
    <label class="f-label" for=${id}>${label}</label>
    <p class="f-help">${t("form.quick.how", { mass: written(display("mass", chosen).symbol), bulk: written(display("bulk", chosen).symbol) })}</p>
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
        @paste=${(/** @type {ClipboardEvent} */ event) => pasted(event, (text) => many(text, chosen, origin, add, id, redraw))} />
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
