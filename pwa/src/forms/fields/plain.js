// Fields that are one control: texts, whole numbers, choices, yes and no, times, references, things to tick.
import { html, nothing } from "lit";
import { live } from "lit/directives/live.js";
import { choice } from "../../parts/choice.js";
import { select, tickBox } from "../../parts/select.js";
import { iso, now, offsetOf } from "../../state/time.js";
import { t } from "../../text.js";
import { idOf } from "../form.js";
import { targets, wordFor } from "../layout.js";
import { described, framed, label, typing } from "./frame.js";

/** @typedef {import("../form.js").Form} Form @typedef {import("../schema.js").Field} Field @typedef {import("../schema.js").Json} Json */

/** More choices than this are a list that the device draws. */
const FEW = 5;

/** @param {Form} form @param {Field} field @param {string} pointer */
export function textField(form, field, pointer) {
  const id = idOf(pointer);
  const value = form.draft(pointer) ?? form.value(pointer) ?? "";
  const take = (/** @type {string} */ typed) => {
    if (form.problem(field, pointer, typed)) return;
    const text = typed.trim();
    form.put(field, pointer, text === "" ? undefined : text);
  };
  const { input, blur } = typing(form, pointer, take);
  const wrong = form.wrong(field, pointer) ? "true" : "false";
  return framed(
    form,
    field,
    pointer,
    field.long
      ? html`<textarea class="f-text" id=${id} rows="2" aria-describedby=${described(form, field, pointer)} aria-invalid=${wrong} .value=${live(value)} @input=${input} @blur=${blur}></textarea>`
      : html`<input class="f-text" id=${id} type="text" autocomplete="off" data-main aria-describedby=${described(form, field, pointer)} aria-invalid=${wrong} .value=${live(value)} @input=${input} @blur=${blur} />`,
  );
}

/** @param {Form} form @param {Field} field @param {string} pointer */
export function integerField(form, field, pointer) {
  const value = form.value(pointer) ?? field.fallback;
  const take = (/** @type {string} */ typed) => {
    if (form.problem(field, pointer, typed)) return;
    form.put(field, pointer, typed.trim() === "" ? undefined : Number(typed));
  };
  const { input, blur } = typing(form, pointer, take);
  return framed(
    form,
    field,
    pointer,
    html`<input class="f-number" id=${idOf(pointer)} type="text" inputmode="numeric" autocomplete="off" data-main
      aria-describedby=${described(form, field, pointer)} aria-invalid=${form.wrong(field, pointer) ? "true" : "false"}
      .value=${live(form.draft(pointer) ?? (value === undefined ? "" : String(value)))} @input=${input} @blur=${blur} />`,
  );
}

/** One of a few words; where it may be left open, "not said" is one of them. @param {Form} form @param {Field} field @param {string} pointer */
export function choiceField(form, field, pointer) {
  const value = form.value(pointer) ?? field.fallback ?? "";
  const open = !field.needed && field.fallback === undefined;
  const words = (field.values ?? []).map((one) => ({ value: one, label: wordFor(field, one) }));
  const options = open ? [...words, { value: "", label: t("form.unsaid") }] : words;
  const set = (/** @type {string} */ next) => form.put(field, pointer, next || undefined);
  if (options.length <= FEW) return framed(form, field, pointer, choice({ name: idOf(pointer), label: label(field), value, options, set }), { grouped: true });
  const all = value || open ? options : [{ value: "", label: t("form.choose") }, ...options];
  return framed(form, field, pointer, select({ id: idOf(pointer), value, options: all, set }));
}

/** @param {Form} form @param {Field} field @param {string} pointer */
export function yesNoField(form, field, pointer) {
  const said = form.value(pointer) ?? field.fallback;
  const value = said === undefined ? "" : said ? "yes" : "no";
  const options = ["yes", "no"].map((one) => ({ value: one, label: t(`form.${one}`) }));
  if (field.fallback === undefined) options.push({ value: "", label: t("form.unsaid") });
  const set = (/** @type {string} */ next) => form.put(field, pointer, next === "" ? undefined : next === "yes");
  return framed(form, field, pointer, choice({ name: idOf(pointer), label: label(field), value, options, set }), { grouped: true });
}

/** @param {Form} form @param {Field} field @param {string} pointer */
export function referenceField(form, field, pointer) {
  const value = form.value(pointer) ?? "";
  const there = targets(field, form.document, form.store);
  const lost = value && !there.some((one) => one.value === value) ? [{ value, label: value }] : [];
  const options = [{ value: "", label: t(field.needed ? "form.choose" : "form.none") }, ...there, ...lost];
  return framed(form, field, pointer, select({ id: idOf(pointer), value, options, set: (next) => form.put(field, pointer, next || undefined) }));
}

/** The category of a configuration names an envelope. @param {Form} form @param {Field} field @param {string} pointer */
export function categoryField(form, field, pointer) {
  const value = form.value(pointer) ?? "";
  const names = new Set([...(form.document.envelopes ?? []).map((/** @type {Json} */ { category }) => category), ...(value ? [value] : [])]);
  const options = [{ value: "", label: t("form.only_one") }, ...[...names].map((name) => ({ value: name, label: name }))];
  return framed(form, field, pointer, select({ id: idOf(pointer), value, options, set: (next) => form.put(field, pointer, next || undefined) }));
}

/** Several of a few: words, or references. @param {Form} form @param {Field} field @param {string} pointer */
export function ticksField(form, field, pointer) {
  const value = form.value(pointer) ?? (Array.isArray(field.fallback) ? field.fallback : []);
  const options = field.kind === "ids" ? targets(field, form.document, form.store) : (field.values ?? []).map((one) => ({ value: one, label: wordFor(field, one) }));
  const turn = (/** @type {string} */ one) => {
    const next = value.includes(one) ? value.filter((/** @type {string} */ other) => other !== one) : options.map(({ value: each }) => each).filter((each) => each === one || value.includes(each));
    form.put(field, pointer, next.length || Array.isArray(field.fallback) || field.needed ? next : undefined);
  };
  return framed(
    form,
    field,
    pointer,
    html`<fieldset class="f-ticks">
      <legend class="choice-label">${label(field)}</legend>
      ${options.length ? nothing : html`<p class="f-help">${t("form.nothing_to_tick")}</p>`}
      ${options.map((one) => html`<div data-value=${one.value}>${tickBox({ ticked: value.includes(one.value), label: one.label, turn: () => turn(one.value) })}</div>`)}
    </fieldset>`,
    { grouped: true },
  );
}

/** A moment, in the offset that it was given in, else in the device's. @param {Form} form @param {Field} field @param {string} pointer */
export function timeField(form, field, pointer) {
  const value = form.value(pointer);
  const set = (/** @type {Event} */ { target }) => {
    const { value: typed } = /** @type {HTMLInputElement} */ (target);
    if (!typed) return form.put(field, pointer, undefined);
    form.put(field, pointer, value ? iso(Date.parse(`${typed}Z`) - offsetOf(value) * 60_000, offsetOf(value)) : iso(Date.parse(typed)));
  };
  return framed(
    form,
    field,
    pointer,
    html`<div class="f-row">
      <input class="f-text" id=${idOf(pointer)} type="datetime-local" data-main .value=${live(value?.slice(0, 16) ?? "")} @change=${set} />
      <button type="button" class="plain" @click=${() => form.put(field, pointer, now())}>${t("form.now")}</button>
    </div>`,
  );
}

/** @param {Form} form @param {Field} field @param {string} pointer */
export const dateField = (form, field, pointer) =>
  framed(
    form,
    field,
    pointer,
    html`<input class="f-text" id=${idOf(pointer)} type="date" data-main .value=${live(form.value(pointer) ?? "")}
      @change=${(/** @type {Event} */ { target }) => form.put(field, pointer, /** @type {HTMLInputElement} */ (target).value || undefined)} />`,
  );
