// What every field has: a label above, what it is for, the control, and in words what is wrong.
import { html, nothing } from "lit";
import { t } from "../../text.js";
import { idOf } from "../form.js";
import { help, labelId } from "../layout.js";

/** @typedef {import("../form.js").Form} Form @typedef {import("../schema.js").Field} Field */

/** @param {Field} field */
export const label = (field) => t(labelId(field));

/**
 * @param {Form} form
 * @param {Field} field
 * @param {string} pointer
 * @param {unknown} control
 * @param {{ grouped?: boolean, more?: unknown }} [options] grouped: the control brings a legend of its own
 */
export function framed(form, field, pointer, control, { grouped = false, more = nothing } = {}) {
  const id = idOf(pointer);
  const wrong = form.wrong(field, pointer);
  const lacks = form.lacks(field, pointer) && !wrong;
  const words = help(field);
  return html`<div class="f ${wrong ? "f-wrong" : ""}" data-at=${pointer}>
    ${grouped ? nothing : html`<label class="f-label" for=${id}>${label(field)}${lacks ? html` <span class="f-needed">${t("form.needed")}</span>` : nothing}</label>`}
    ${words ? html`<p class="f-help" id="${id}-help">${words}</p>` : nothing} ${control}
    ${grouped && lacks ? html`<p class="f-needed">${t("form.needed")}</p>` : nothing}
    ${wrong ? html`<p class="wrong" id="${id}-wrong" role="alert">${wrong}</p>` : nothing} ${more}
  </div>`;
}

/** Ids of the words that describe a control. @param {Form} form @param {Field} field @param {string} pointer */
export function described(form, field, pointer) {
  const id = idOf(pointer);
  const ids = [help(field) ? `${id}-help` : "", form.wrong(field, pointer) ? `${id}-wrong` : ""].filter(Boolean);
  return ids.length ? ids.join(" ") : nothing;
}

/**
 * Keep what is typed as a draft; take it when the field is left.
 * @param {Form} form
 * @param {string} pointer
 * @param {(typed: string) => void} take
 */
export const typing = (form, pointer, take) => ({
  input: (/** @type {Event} */ { target }) => form.setDraft(pointer, /** @type {HTMLInputElement} */ (target).value),
  blur: () => {
    const draft = form.draft(pointer);
    if (draft !== undefined) take(draft);
    form.redraw();
  },
});
