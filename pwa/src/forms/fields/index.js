// Any field by its kind; wholes and unions are fields in a frame.
import { html, nothing } from "lit";
import { choice } from "../../parts/choice.js";
import { select } from "../../parts/select.js";
import { now } from "../../state/time.js";
import { t } from "../../text.js";
import { idOf } from "../form.js";
import { help, labelId, ordered, wordFor } from "../layout.js";
import { classOf, fieldsOf } from "../schema.js";
import { hereButton } from "./aids.js";
import { figureField, numberField } from "./figure.js";
import { listField } from "./lists.js";
import { gridField, numbersField } from "./table.js";
import { categoryField, choiceField, dateField, integerField, referenceField, textField, ticksField, timeField, yesNoField } from "./plain.js";

/** @typedef {import("../form.js").Form} Form @typedef {import("../schema.js").Field} Field @typedef {import("../schema.js").Json} Json */

/** @type {Record<string, (form: Form, field: Field, pointer: string) => unknown>} */
const KINDS = {
  figure: figureField,
  number: numberField,
  integer: integerField,
  yesno: yesNoField,
  choice: choiceField,
  text: textField,
  id: referenceField,
  time: timeField,
  date: dateField,
  ticks: ticksField,
  ids: ticksField,
  numbers: numbersField,
  grid: gridField,
  whole: wholeField,
  union: unionField,
  list: (form, field, pointer) => listField(form, field, pointer, fieldsIn),
};

/** @param {Form} form @param {Field} field @param {string} pointer @returns {unknown} */
export function anyField(form, field, pointer) {
  if (field.cls === "Configuration" && field.name === "category") return categoryField(form, field, pointer);
  return KINDS[field.kind]?.(form, field, pointer) ?? nothing;
}

/** All fields of what stands at a place. @param {Form} form @param {string} cls @param {string} pointer @returns {unknown} */
export const fieldsIn = (form, cls, pointer) => ordered(cls).map((field) => anyField(form, field, `${pointer}/${field.name}`));

/** What a class needs that can be said at once: the time is now. @param {string} cls @param {Json} [given] @returns {Json} */
export function begun(cls, given = {}) {
  const times = fieldsOf(cls).filter(({ kind, needed, name }) => kind === "time" && needed && given[name] === undefined);
  return { ...given, ...Object.fromEntries(times.map(({ name }) => [name, now()])) };
}

/** @param {Form} form @param {Field} field @param {string} pointer @returns {unknown} */
function wholeField(form, field, pointer) {
  const name = t(labelId(field));
  const cls = /** @type {string} */ (field.of);
  const there = form.value(pointer) !== undefined;
  const words = help(field);
  if (!there && !field.needed && field.fallback === undefined) {
    return html`<div class="f f-absent" data-at=${pointer}>
      <p class="f-label">${name} <span class="small">${t("form.unknown")}</span></p>
      ${words ? html`<p class="f-help">${words}</p>` : nothing}
      ${cls === "Position" ? hereButton(form, field, pointer) : nothing}
      <button type="button" class="plain" id=${idOf(pointer)} @click=${() => form.put(field, pointer, begun(cls))}>${t("form.give", { what: name })}</button>
    </div>`;
  }
  const wrong = form.sketches.wrongAt(form.id, pointer);
  return html`<fieldset class="f-whole" data-at=${pointer}>
    <legend class="f-legend" id=${idOf(pointer)} tabindex="-1">${name}</legend>
    ${words ? html`<p class="f-help">${words}</p>` : nothing} ${wrong ? html`<p class="wrong" role="alert">${wrong}</p>` : nothing}
    ${cls === "Position" ? hereButton(form, field, pointer) : nothing} ${fieldsIn(form, cls, pointer)}
    ${there && !field.needed && field.fallback === undefined
      ? html`<button type="button" class="link" @click=${() => form.put(field, pointer, undefined)}>${t("form.take_away", { what: name })}</button>`
      : nothing}
  </fieldset>`;
}

/** One of several kinds of whole, by its word; what both have is carried over. @param {Form} form @param {Field} field @param {string} pointer @returns {unknown} */
function unionField(form, field, pointer) {
  const tag = /** @type {string} */ (field.tag);
  const value = form.value(pointer) ?? field.fallback;
  const cls = classOf(field, value);
  const name = t(labelId(field));
  const open = !field.needed && field.fallback === undefined;
  const tags = Object.keys(field.classes ?? {});
  const options = [...tags.map((one) => ({ value: one, label: wordFor({ ...field, cls: field.cls, name: tag }, one) })), ...(open ? [{ value: "", label: t("form.unsaid") }] : [])];
  const set = (/** @type {string} */ next) => {
    if (next === (value?.[tag] ?? "")) return;
    form.put(field, pointer, next ? carried(field, next, value) : undefined);
  };
  const wrong = form.sketches.wrongAt(form.id, pointer);
  const words = help(field);
  return html`<div class="f-whole" data-at=${pointer}>
    ${words ? html`<p class="f-help">${words}</p>` : nothing}
    ${options.length <= 5
      ? choice({ name: idOf(pointer), label: name, value: value?.[tag] ?? "", options, set })
      : html`<label class="f-label" for=${idOf(pointer)}>${name}</label>${select({ id: idOf(pointer), value: value?.[tag] ?? "", options, set })}`}
    ${wrong ? html`<p class="wrong" role="alert">${wrong}</p>` : nothing} ${cls ? fieldsIn(form, cls, pointer) : nothing}
  </div>`;
}

/** No name is put to a statement that nobody has made. @param {Field} field @param {string} tag @param {Json} before */
function carried(field, tag, before) {
  const cls = /** @type {Record<string, string>} */ (field.classes)[tag];
  const names = fieldsOf(cls).map(({ name }) => name);
  const kept = Object.entries(before ?? {}).filter(([name]) => names.includes(name) && name !== field.tag);
  return begun(cls, { [/** @type {string} */ (field.tag)]: tag, ...Object.fromEntries(kept) });
}
