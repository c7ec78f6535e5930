// A figure that is typed on a screen and kept in no document: an assumption to try out, or a dial read just now.
import { html, nothing } from "lit";
import { live } from "lit/directives/live.js";
import { select } from "../parts/select.js";
import { t } from "../text.js";
import { read, unitsFor, written } from "./reading.js";

/** @typedef {import("../text.js").Message} Message @typedef {import("./reading.js").Quantity} Quantity */

/**
 * @typedef {object} Loose
 * @property {string} id
 * @property {string} label
 * @property {string} dimension
 * @property {Quantity} quantity
 * @property {string} typed
 * @property {string} unit in which a bare number counts
 * @property {(typed: string, unit: string) => void} put
 * @property {string} [help]
 */

/**
 * @param {{ typed: string, unit: string, quantity: Quantity }} field
 * @returns {{ value?: number, problem?: Message }} neither where nothing was typed
 */
export function looseValue({ typed, unit, quantity }) {
  if (typed.trim() === "") return {};
  return read(typed, quantity, unit);
}

/** @param {Loose} field */
export function loose(field) {
  const { id, label, dimension, quantity, typed, unit, put, help } = field;
  const { problem } = looseValue(field);
  const units = unitsFor(dimension, quantity.si);
  const described = [problem && `${id}-wrong`, help && `${id}-help`].filter(Boolean).join(" ");
  return html`<div class="loose ${problem ? "f-wrong" : ""}">
    <label class="f-label" for=${id}>${label}</label>
    ${help ? html`<p class="small" id="${id}-help">${help}</p>` : nothing}
    <div class="f-row">
      <input
        class="f-text"
        id=${id}
        type="text"
        inputmode="decimal"
        autocomplete="off"
        spellcheck="false"
        aria-invalid=${problem ? "true" : "false"}
        aria-describedby=${described || nothing}
        .value=${live(typed)}
        @input=${(/** @type {Event} */ { target }) => put(/** @type {HTMLInputElement} */ (target).value, unit)}
      />
      ${units.length > 1
        ? select({ label: t("device.sums.unit", { what: label }), value: unit, set: (symbol) => put(typed, symbol), options: units.map((symbol) => ({ value: symbol, label: written(symbol) || t("device.sums.plain") })) })
        : html`<span class="f-unit-fixed">${written(unit)}</span>`}
    </div>
    ${problem ? html`<p class="wrong" id="${id}-wrong">${t(problem.text, problem.values)}</p>` : nothing}
  </div>`;
}
