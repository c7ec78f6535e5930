// A line of text that the documents hold: a name, a rule. It is told when it is left or Enter is pressed.
import { html } from "lit";
import { live } from "lit/directives/live.js";

/** The line in which somebody types. A page that is drawn anew meanwhile, when an answer comes, must not take it away. */
let typing = "";

/**
 * @param {object} line
 * @param {string} line.id
 * @param {string} line.value what the documents say
 * @param {(text: string) => void} line.set never with nothing
 * @param {() => void} line.redraw an emptied line gets its text back
 */
export function textLine({ id, value, set, redraw }) {
  const field = /** @type {HTMLInputElement | null} */ (document.activeElement);
  const text = typing === id && field?.id === id ? field.value : value;
  const done = (/** @type {Event} */ { target }) => {
    typing = "";
    const said = /** @type {HTMLInputElement} */ (target).value.trim();
    if (said) set(said);
    else redraw();
  };
  return html`<input class="f-text" id=${id} type="text" maxlength="120" autocomplete="off" .value=${live(text)} @input=${() => (typing = id)} @change=${done} />`;
}
