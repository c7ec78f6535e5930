// One of a few, by touch: radio buttons that look like slips of paper.
import { html, nothing } from "lit";
import { live } from "lit/directives/live.js";

/**
 * @typedef {object} Option
 * @property {string} value
 * @property {unknown} label
 * @property {string} [note] why it can't be chosen, or what it means
 * @property {boolean} [disabled]
 */

/**
 * @param {object} choice
 * @param {string} choice.name unique on the page
 * @param {string} choice.label
 * @param {string | undefined} choice.value
 * @param {Option[]} choice.options
 * @param {(value: string) => void} choice.set
 * @param {boolean} [choice.hideLabel]
 * @param {boolean} [choice.pictured] each with a picture above its words
 */
export function choice({ name, label, value, options, set, hideLabel = false, pictured = false }) {
  return html`<fieldset class="choice">
    <legend class=${hideLabel ? "unseen" : "choice-label"}>${label}</legend>
    <div class="choice-row ${pictured ? "sock-row" : ""}">
      ${options.map(
        (option) => html`<label class="slip ${option.disabled ? "slip-off" : ""} ${pictured ? "sock-slip" : ""}">
          <input
            type="radio"
            name=${name}
            value=${option.value}
            .checked=${live(option.value === value)}
            ?disabled=${option.disabled}
            @change=${() => set(option.value)}
          />
          <span>${option.label}${option.note ? html`<span class="small slip-note">${option.note}</span>` : nothing}</span>
        </label>`,
      )}
    </div>
  </fieldset>`;
}
