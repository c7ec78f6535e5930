// A box to paste rows of figures into, for lists of plain numbers: corners, corrections, segments.
import { html, nothing } from "lit";
import { live } from "lit/directives/live.js";
import { t } from "../../text.js";
import { idOf, shown } from "../form.js";
import { labelId, ordered } from "../layout.js";
import { Odd, rowsFrom } from "../paste.js";
import { written } from "../reading.js";

/** @typedef {import("../form.js").Form} Form @typedef {import("../schema.js").Field} Field */

/** @param {Form} form @param {Field} field @param {string} pointer */
export function pasteBox(form, field, pointer) {
  const fields = ordered(/** @type {string} */ (field.of)).map((one) => form.measured(one, `${pointer}/0/${one.name}`));
  if (fields.some(({ kind }) => kind !== "number")) return nothing;
  const columnsNow = () => fields.map((one) => ({ quantity: { si: one.unit, low: one.low, high: one.high, above: one.above }, unit: form.unit(one) }));
  const told = fields.map((one) => `${t(labelId(one))}${form.unit(one) === "1" ? "" : ` [${written(form.unit(one))}]`}`).join(", ");
  const take = (/** @type {string} */ text) => {
    const columns = columnsNow();
    const rows = rowsFrom(text, columns);
    fields.forEach((one, i) => form.setUnit(one, columns[i].unit));
    form.put(field, pointer, rows.map((row) => Object.fromEntries(fields.map(({ name }, i) => [name, row[i]]))));
    return { text: "form.paste.rows", values: { n: String(rows.length) } };
  };
  return pasting(form, pointer, t("form.paste.columns", { columns: told }), take);
}

/**
 * @param {Form} form
 * @param {string} pointer
 * @param {string} how
 * @param {(text: string) => import("../../text.js").Message} take throws `Odd`
 */
export function pasting(form, pointer, how, take) {
  const key = `paste${form.place(pointer)}`;
  const id = `${idOf(pointer)}-paste`;
  const read = () => {
    try {
      shown.said[key] = take(shown.paste[key] ?? "");
      shown.paste[key] = "";
    } catch (odd) {
      if (!(odd instanceof Odd)) throw odd;
      shown.said[key] = odd.said;
    }
    form.redraw();
  };
  const said = shown.said[key];
  return html`<details class="f-aid" ?open=${shown.open[key] ?? false} @toggle=${(/** @type {Event} */ { target }) => {
    shown.open[key] = /** @type {HTMLDetailsElement} */ (target).open;
      form.redraw();
  }}>
    <summary>${t("form.paste")}</summary>
    <div class="f-inner" data-paste=${pointer}>
      <label class="f-label" for=${id}>${how}</label>
      <textarea class="f-text f-paste" id=${id} rows="5" spellcheck="false" .value=${live(shown.paste[key] ?? "")}
        @input=${(/** @type {Event} */ { target }) => {
          shown.paste[key] = /** @type {HTMLTextAreaElement} */ (target).value;
        }}></textarea>
      <button type="button" class="plain" @click=${read}>${t("form.paste.take")}</button>
      ${said ? html`<p role="status" class=${said.text === "form.paste.at" ? "wrong" : ""}>${t(said.text, said.values)}</p>` : nothing}
    </div>
  </details>`;
}
