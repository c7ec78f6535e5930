// Lists: elements with names are cards, or pages of their own; elements without are rows, which count all together.
import { html, nothing } from "lit";
import { live } from "lit/directives/live.js";
import { byFinger } from "../../parts/focus.js";
import { select } from "../../parts/select.js";
import { sourced } from "../../parts/words.js";
import { t } from "../../text.js";
import { idOf, shown } from "../form.js";
import { freshId, help, isPaged, labelId, nameOf, namingOf, targets, wordFor } from "../layout.js";
import { classOf, fieldOf, fieldsOf, keyOf } from "../schema.js";
import { lackingBelow } from "../progress.js";
import { pasteBox } from "./paste_box.js";

/** @typedef {import("../form.js").Form} Form @typedef {import("../schema.js").Field} Field @typedef {import("../schema.js").Json} Json */
/** @typedef {(form: Form, cls: string, pointer: string) => unknown} Fields */

/** @param {Form} form @param {Field} field @param {string} pointer @param {Fields} fieldsIn */
export function listField(form, field, pointer, fieldsIn) {
  const first = field.of ?? Object.values(field.classes ?? {})[0];
  const wrong = form.sketches.wrongAt(form.id, pointer);
  const words = help(field);
  const body = keyOf(first) ? (isPaged(pointer) ? paged(form, field, pointer) : cards(form, field, pointer, fieldsIn)) : rows(form, field, pointer, fieldsIn);
  return html`<section class="f-list" data-at=${pointer} aria-labelledby=${idOf(pointer)}>
    <h2 class="f-legend" id=${idOf(pointer)} tabindex="-1">${t(labelId(field))}</h2>
    ${words ? html`<p class="f-help">${words}</p>` : nothing} ${wrong ? html`<p class="wrong" role="alert">${wrong}</p>` : nothing} ${body}
  </section>`;
}

/** @param {Form} form @param {Field} field @param {string} pointer */
function paged(form, field, pointer) {
  const list = form.value(pointer) ?? [];
  return html`
    <ul class="f-pages">
      ${list.map((/** @type {Json} */ element, /** @type {number} */ index) => {
        const place = `${pointer}/${element.id}`;
        const missing = lackingBelow(form, place);
        const said = form.sketches.wrongAt(form.id, place);
        return html`<li>
          <a class="f-page" href="#/edit/${encodeURIComponent(form.id + place)}" data-page=${place}>
            <b>${nameOf(classOf(field, element), element, index)}</b>
            ${element.mass ? html`<span>${sourced(element.mass, "mass", form.chosen)}</span>` : nothing}
            ${missing ? html`<span class="f-needed">${t("form.not_whole")}</span>` : nothing}
          </a>
          ${said ? html`<p class="wrong" role="alert">${said}</p>` : nothing}
        </li>`;
      })}
    </ul>
    ${pointer === "/items" ? nothing : addLine(form, field, pointer)}
  `;
}

/** @param {Form} form @param {Field} field @param {string} pointer @param {Fields} fieldsIn */
function cards(form, field, pointer, fieldsIn) {
  const list = form.value(pointer) ?? [];
  return html`${list.map((/** @type {Json} */ element, /** @type {number} */ index) => {
    const cls = classOf(field, element);
    const place = `${pointer}/${element[/** @type {string} */ (keyOf(cls))]}`;
    const name = nameIn(form, cls, element, index);
    const wrong = form.sketches.wrongAt(form.id, place);
    return html`<fieldset class="f-card" data-at=${place}>
      <legend class="f-legend">${name}</legend>
      ${wrong ? html`<p class="wrong" role="alert">${wrong}</p>` : nothing} ${cls ? fieldsIn(form, cls, place) : nothing}
      ${elementButtons(form, field, pointer, place, name)}
    </fieldset>`;
  })}
  ${addLine(form, field, pointer)}`;
}

/** The name of an element; where it is that of something else, that one's. @param {Form} form @param {string | undefined} cls @param {Json} element @param {number} index */
function nameIn(form, cls, element, index) {
  const naming = cls ? fieldOf(cls, namingOf(cls) ?? "") : undefined;
  const target = naming?.kind === "id" ? targets(naming, form.document, form.store).find(({ value }) => value === element[naming.name]) : undefined;
  return target?.label ?? nameOf(cls, element, index);
}

/** Duplicate and remove. @param {Form} form @param {Field} field @param {string} list @param {string} place @param {string} name @param {() => void} [after] */
export function elementButtons(form, field, list, place, name, after) {
  const remove = () => {
    form.put(field, place, undefined);
    after?.();
  };
  return html`<div class="buttons">
    ${keyOf(field.of ?? Object.values(field.classes ?? {})[0]) === "id"
      ? html`<button type="button" class="link" @click=${() => duplicate(form, field, list, place)}>${t("form.duplicate", { what: name })}</button>`
      : nothing}
    <button type="button" class="link" @click=${remove}>${t("form.remove", { what: name })}</button>
  </div>`;
}

/** Ids that an element of a list must not have. @param {Form} form @param {string} list */
function taken(form, list) {
  const own = (form.value(list) ?? []).map((/** @type {Json} */ { id }) => id);
  if (list === "/items") return form.store.all("kit").flatMap(({ items }) => items.map((/** @type {Json} */ { id }) => id)).concat(own);
  const stations = ["/seats", "/bays", "/tanks"];
  return stations.includes(list) ? stations.flatMap((one) => (form.value(one) ?? []).map((/** @type {Json} */ { id }) => id)) : own;
}

/** @param {Form} form @param {Field} field @param {string} list @param {string} place */
function duplicate(form, field, list, place) {
  const element = form.value(place);
  const naming = namingOf(classOf(field, element));
  const name = naming === "designator" ? element.designator : t("form.copy_of", { what: nameOf(classOf(field, element), element) });
  const id = freshId(name, taken(form, list));
  form.putAll([{ pointer: `${list}/${id}`, value: { ...structuredClone(element), id, ...(naming ? { [naming]: name } : {}) } }], field);
}

/** Add by name: Enter adds the next. @param {Form} form @param {Field} field @param {string} pointer */
function addLine(form, field, pointer) {
  const tags = Object.keys(field.classes ?? {});
  const key = `${form.place(pointer)}/+`;
  const tag = shown.aid[`${key}tag`] ?? tags[0];
  const cls = field.of ?? field.classes?.[tag];
  const naming = cls ? fieldOf(cls, namingOf(cls) ?? "") : undefined;
  if (!cls || !naming) return nothing;
  const place = `${pointer}/+`;
  const id = idOf(place);
  const said = t(labelId(naming));
  if (naming.kind === "choice" || naming.kind === "id") return addChoice(form, field, pointer, naming, said);
  const draft = form.draft(place) ?? "";
  const problem = draft ? form.problem(naming, place, draft) : undefined;
  const add = () => {
    const name = draft.trim();
    if (!name || problem) return;
    form.setDraft(place, undefined);
    const own = freshId(name, taken(form, pointer));
    form.putAll([{ pointer: `${pointer}/${own}`, value: { id: own, ...(tags.length ? { [/** @type {string} */ (field.tag)]: tag } : {}), [naming.name]: name } }], field);
  };
  return html`<div class="f-add" data-at=${place}>
    ${tags.length
      ? html`<label class="f-label" for="${id}-tag">${t("form.kind")}</label>
          ${select({ id: `${id}-tag`, value: tag, options: tags.map((one) => ({ value: one, label: wordFor({ ...field, name: /** @type {string} */ (field.tag) }, one) })), set: (next) => {
            shown.aid[`${key}tag`] = next;
            form.redraw();
          } })}`
      : nothing}
    <label class="f-label" for=${id}>${t("form.add.name", { list: t(labelId(field)), name: said })}</label>
    <div class="f-row">
      <input class="f-text" id=${id} type="text" autocomplete="off" data-main data-adds .value=${live(draft)}
        @input=${(/** @type {Event} */ { target }) => form.setDraft(place, /** @type {HTMLInputElement} */ (target).value || undefined)}
        @keydown=${(/** @type {KeyboardEvent} */ event) => {
          if (event.key !== "Enter" || !draft) return;
          event.preventDefault();
          event.stopPropagation();
          add();
          // Enter must not be silent: what is wrong is said when the field is left
          if (problem) leave(/** @type {HTMLInputElement} */ (event.target));
          form.redraw();
        }} />
      <button type="button" class="plain" @click=${add}>${t("form.add")}</button>
    </div>
    ${problem && document.activeElement?.id !== id ? html`<p class="wrong" role="alert">${t(problem.text, problem.values)}</p>` : nothing}
  </div>`;
}

/** Leave a field: for a finger its keyboard goes, by keys one goes on to the button beside it. @param {HTMLInputElement} field */
function leave(field) {
  if (byFinger()) field.blur();
  else /** @type {HTMLElement | null} */ (field.nextElementSibling)?.focus();
}

/** Add what is named by a choice or by something that is there: each once. @param {Form} form @param {Field} field @param {string} pointer @param {Field} naming @param {string} said */
function addChoice(form, field, pointer, naming, said) {
  const used = (form.value(pointer) ?? []).map((/** @type {Json} */ one) => one[naming.name]);
  const all = naming.kind === "id" ? targets(naming, form.document, form.store) : (naming.values ?? []).map((value) => ({ value, label: wordFor(naming, value) }));
  const left = all.filter(({ value }) => !used.includes(value));
  if (!left.length) return nothing;
  const place = `${pointer}/+`;
  const key = form.place(place);
  const chosen = left.some(({ value }) => value === shown.aid[key]) ? shown.aid[key] : left[0].value;
  const set = (/** @type {string} */ value) => {
    shown.aid[key] = value;
    form.redraw();
  };
  return html`<div class="f-add" data-at=${place}>
    <label class="f-label" for=${idOf(place)}>${t("form.add.name", { list: t(labelId(field)), name: said })}</label>
    <div class="f-row">
      ${select({ id: idOf(place), value: chosen, options: left, set })}
      <button type="button" class="plain" @click=${() => form.putAll([{ pointer: `${pointer}/${chosen}`, value: { [naming.name]: chosen } }], field)}>${t("form.add")}</button>
    </div>
  </div>`;
}

/** Rows without names, in their order. The whole list is put. @param {Form} form @param {Field} field @param {string} pointer @param {Fields} fieldsIn */
function rows(form, field, pointer, fieldsIn) {
  /** @type {Json[]} */
  const list = form.value(pointer) ?? [];
  const insert = (/** @type {number} */ index) => form.put(field, pointer, [...list.slice(0, index), {}, ...list.slice(index)]);
  const remove = (/** @type {number} */ index) => form.put(field, pointer, list.length === 1 && field.fallback === undefined ? undefined : list.filter((_, i) => i !== index));
  const name = t(labelId(field));
  const narrow = fieldsOf(/** @type {string} */ (field.of)).every(({ kind }) => kind === "number");
  return html`
    <div class="f-rows">
      ${list.map(
        (_, index) => html`<div class="f-card" role="group" aria-label=${t("form.row", { list: name, n: index + 1 })} data-at="${pointer}/${index}">
          <span class="f-count" aria-hidden="true">${index + 1}</span>
          <div class=${narrow ? "f-cells" : "f-stack"}>${fieldsIn(form, /** @type {string} */ (field.of), `${pointer}/${index}`)}</div>
          <div class="buttons">
            <button type="button" class="link" @click=${() => insert(index + 1)}>${t("form.row.insert")}<span class="unseen"> ${t("form.row", { list: name, n: index + 1 })}</span></button>
            <button type="button" class="link" @click=${() => remove(index)}>${t("form.row.remove")}<span class="unseen"> ${t("form.row", { list: name, n: index + 1 })}</span></button>
          </div>
        </div>`,
      )}
    </div>
    <div class="buttons"><button type="button" class="plain" data-adds-row @click=${() => insert(list.length)}>${t("form.row.add", { list: name })}</button></div>
    ${pasteBox(form, field, pointer)}
  `;
}
