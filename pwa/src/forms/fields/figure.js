// Numbers with a unit, and figures: a number that came from somewhere, with its spread and a note where there is one.
import { html, nothing } from "lit";
import { live } from "lit/directives/live.js";
import { choice } from "../../parts/choice.js";
import { t } from "../../text.js";
import { idOf, shown } from "../form.js";
import { display, unitsFor, written } from "../reading.js";
import { aidFor } from "./aids.js";
import { described, framed, label, typing } from "./frame.js";

/** @typedef {import("../form.js").Form} Form @typedef {import("../schema.js").Field} Field @typedef {import("../schema.js").Json} Json */

export const ORIGINS = ["book", "measured", "estimated"];

/** @param {string} symbol */
const unitWord = (symbol) => written(symbol) || t("form.unit.plain");

/**
 * The input and its unit.
 * @param {Form} form
 * @param {Field & { unit: string }} field as measured
 * @param {string} pointer
 * @param {{ value: number | undefined, typed?: string | null, take: (typed: string) => void, name?: string }} given
 */
function numberRow(form, field, pointer, { value, typed, take, name = label(field) }) {
  const unit = form.unit(field);
  const units = unitsFor(field.dimension, field.unit);
  const { input, blur } = typing(form, pointer, take);
  const text = form.draft(pointer) ?? (value === undefined ? "" : display(value, typed, field.unit, unit));
  return html`<div class="f-row">
    <input class="f-number" id=${idOf(pointer)} type="text" inputmode=${field.low !== undefined && field.low < 0 ? "text" : "decimal"} autocomplete="off" spellcheck="false" data-main
      aria-describedby=${described(form, field, pointer)} aria-invalid=${form.wrong(field, pointer) ? "true" : "false"}
      .value=${live(text)} @input=${input} @blur=${blur} />
    ${units.length > 1
      ? html`<select class="f-unit" aria-label=${t("form.unit", { label: name })} @change=${(/** @type {Event} */ { target }) => form.setUnit(field, /** @type {HTMLSelectElement} */ (target).value)}>
          ${units.map((one) => html`<option value=${one} .selected=${live(one === unit)}>${unitWord(one)}</option>`)}
        </select>`
      : html`<span class="f-unit-fixed">${written(unit)}</span>`}
  </div>`;
}

/** @param {Form} form @param {Field} given @param {string} pointer */
export function numberField(form, given, pointer) {
  const field = form.measured(given, pointer);
  const value = form.value(pointer) ?? field.fallback;
  const take = (/** @type {string} */ typed) => {
    if (typed.trim() === "") return form.put(given, pointer, undefined);
    const said = form.read(field, typed);
    if ("problem" in said) return;
    form.setUnit(field, said.unit);
    form.put(given, pointer, said.value, said.typed);
  };
  return framed(form, given, pointer, numberRow(form, field, pointer, { value, typed: form.typed(pointer), take }), { more: aidFor(form, given, pointer) });
}

/** @param {Form} form @param {Field} given @param {string} pointer */
export function figureField(form, given, pointer) {
  const field = form.measured(given, pointer);
  /** @type {Json} */
  const figure = form.value(pointer);
  const take = (/** @type {string} */ typed) => {
    if (typed.trim() === "") return form.put(given, pointer, undefined);
    const said = form.read(field, typed);
    if ("problem" in said) return;
    form.setUnit(field, said.unit);
    form.put(given, pointer, { ...origined(figure, form.origin), value: said.value, typed: said.typed });
  };
  return framed(form, given, pointer, numberRow(form, field, pointer, { value: figure?.value, typed: figure?.typed, take }), {
    more: html`${figure ? from(form, given, field, pointer, figure) : nothing} ${aidFor(form, given, pointer)}`,
  });
}

/** What of a figure outlives its value: a guess that is replaced takes its spread and its note with it. @param {Json} figure @param {string} origin */
function origined(figure, origin) {
  if (!figure) return { origin };
  return figure.origin === "estimated" && origin !== "estimated" ? { origin } : figure;
}

/** Where the figure comes from, its spread, its note. @param {Form} form @param {Field} given @param {Field & { unit: string }} field @param {string} pointer @param {Json} figure */
function from(form, given, field, pointer, figure) {
  const id = idOf(pointer);
  const name = label(given);
  const put = (/** @type {Json} */ changes) => {
    const next = { ...figure, ...changes };
    for (const key of ["sd", "note"]) if (next[key] === undefined) delete next[key];
    form.put(given, pointer, next);
  };
  const open = shown.open[form.place(pointer)] ?? (figure.sd !== undefined || Boolean(figure.note));
  const toggle = (/** @type {Event} */ { target }) => {
    shown.open[form.place(pointer)] = /** @type {HTMLDetailsElement} */ (target).open;
      form.redraw();
  };
  return html`<div class="f-from">
    ${choice({
      name: `${id}-origin`,
      label: t("form.origin.of", { label: name }),
      hideLabel: true,
      value: figure.origin,
      options: ORIGINS.map((origin) => ({ value: origin, label: t(`form.origin.${origin}`) })),
      set: (origin) => put({ origin }),
    })}
    <details class="f-more" ?open=${open} @toggle=${toggle}>
      <summary><span aria-hidden="true">±</span><span class="unseen">${t("form.more", { label: name })}</span></summary>
      <div class="f-inner">${spread(form, field, pointer, figure, put)} ${note(form, pointer, figure, put, name)}</div>
    </details>
  </div>`;
}

/** @param {Form} form @param {Field & { unit: string }} field @param {string} pointer @param {Json} figure @param {(changes: Json) => void} put */
function spread(form, field, pointer, figure, put) {
  const place = `${pointer}/sd`;
  const inner = { ...field, low: 0, high: undefined, above: false };
  const name = t("form.spread", { label: label(field) });
  const take = (/** @type {string} */ typed) => {
    const said = typed.trim() === "" ? undefined : form.read(inner, typed);
    if (said && "problem" in said) return;
    form.setDraft(place, undefined);
    put({ sd: said?.value });
  };
  const draft = form.draft(place);
  const said = draft !== undefined && draft.trim() !== "" && document.activeElement?.id !== idOf(place) ? form.read(inner, draft) : undefined;
  return html`<div data-at=${place}>
    <label class="f-label" for=${idOf(place)}>${name}</label>
    ${numberRow(form, inner, place, { value: figure.sd ?? undefined, take, name })}
    ${said && "problem" in said ? html`<p class="wrong" role="alert">${t(said.problem.text, said.problem.values)}</p>` : nothing}
  </div>`;
}

/** @param {Form} form @param {string} pointer @param {Json} figure @param {(changes: Json) => void} put @param {string} name */
function note(form, pointer, figure, put, name) {
  const place = `${pointer}/note`;
  const { input, blur } = typing(form, place, (typed) => {
    form.setDraft(place, undefined);
    put({ note: typed.trim() || undefined });
  });
  return html`<div data-at=${place}>
    <label class="f-label" for=${idOf(place)}>${t("form.note", { label: name })}</label>
    <input class="f-text" id=${idOf(place)} type="text" maxlength="2000" autocomplete="off" data-main .value=${live(form.draft(place) ?? figure.note ?? "")} @input=${input} @blur=${blur} />
  </div>`;
}
