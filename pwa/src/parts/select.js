// One of many, in a list that the device draws; and a thing that is ticked. Both show what the documents say, also
// after an edit was refused or taken back.
import { html, nothing } from "lit";
import { live } from "lit/directives/live.js";

/**
 * @param {object} list
 * @param {string} [list.id]
 * @param {string} [list.label] where no label element points to the id
 * @param {string} list.value
 * @param {{ value: string, label: unknown }[]} list.options
 * @param {(value: string) => void} list.set
 */
export const select = ({ id, label, value, options, set }) =>
  html`<select
    id=${id ?? nothing}
    aria-label=${label ?? nothing}
    @change=${(/** @type {Event} */ { target }) => set(/** @type {HTMLSelectElement} */ (target).value)}
  >
    ${options.map((one) => html`<option value=${one.value} .selected=${live(one.value === value)}>${one.label}</option>`)}
  </select>`;

/**
 * @param {object} box
 * @param {boolean} box.ticked
 * @param {boolean} [box.disabled]
 * @param {unknown} box.label
 * @param {() => void} box.turn
 */
export const tickBox = ({ ticked, disabled = false, label, turn }) =>
  html`<label class="tick">
    <input type="checkbox" .checked=${live(ticked)} ?disabled=${disabled} @change=${turn} />
    <span class="tick-box" aria-hidden="true">${ticked ? "✓" : ""}</span>
    <span>${label}</span>
  </label>`;
