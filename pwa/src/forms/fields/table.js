// Tables of a book: their axes as lines of figures, and one sheet of cells for each mass, typed or pasted.
import { html, nothing } from "lit";
import { live } from "lit/directives/live.js";
import { choice } from "../../parts/choice.js";
import { select } from "../../parts/select.js";
import { t } from "../../text.js";
import { idOf, shown } from "../form.js";
import { labelId } from "../layout.js";
import { moved, tableFrom } from "../paste.js";
import { read, shortest, unitsFor, written } from "../reading.js";
import { fieldOf, fieldsOf } from "../schema.js";
import { described, framed, typing } from "./frame.js";
import { pasting } from "./paste_box.js";

/** @typedef {import("../form.js").Form} Form @typedef {import("../schema.js").Field} Field @typedef {import("../schema.js").Json} Json */
/** @typedef {(number | null)[][][]} Grid */

const AXES = /** @type {const} */ (["mass_axis", "altitude_axis", "temperature_axis"]);

/** @param {Form} form @param {string} table @returns {[number[], number[], number[]]} */
const axesOf = (form, table) => /** @type {any} */ (AXES.map((name) => form.value(`${table}/${name}`) ?? []));

/** What an axis or a cell measures. @param {Form} form @param {Field} field @param {string} pointer */
const cellOf = (form, field, pointer) => form.measured({ .../** @type {Field} */ (field.cell), cls: field.cls, name: field.name }, pointer);

/** @param {Field & { unit: string }} cell */
const quantityOf = ({ unit, low, high, above }) => ({ si: unit, low, high, above });

/** The grids of a table on other axes. @param {Form} form @param {string} table @param {string} cls @param {[number[], number[], number[]]} to */
const gridsOn = (form, table, cls, to) =>
  fieldsOf(cls).flatMap(({ kind, name }) => {
    const grid = form.value(`${table}/${name}`);
    return kind === "grid" && grid ? [{ pointer: `${table}/${name}`, value: moved(grid, axesOf(form, table), to) }] : [];
  });

/** An axis: figures with spaces between them. @param {Form} form @param {Field} field @param {string} pointer */
export function numbersField(form, field, pointer) {
  const table = pointer.slice(0, pointer.lastIndexOf("/"));
  const cell = cellOf(form, field, pointer);
  const unit = form.unit(cell);
  /** @type {number[] | undefined} */
  const value = form.value(pointer);
  const draft = form.draft(pointer);
  const said = draft !== undefined && draft.trim() !== "" ? lineOf(draft, cell, unit) : undefined;
  const take = (/** @type {string} */ typed) => {
    const line = typed.trim() === "" ? { values: undefined } : lineOf(typed, cell, unit);
    if ("problem" in line) return;
    form.setDraft(pointer, undefined);
    const axes = axesOf(form, table);
    axes[AXES.indexOf(/** @type {any} */ (field.name))] = line.values ?? [];
    form.putAll([{ pointer, value: line.values }, ...gridsOn(form, table, field.cls, axes)], field);
  };
  const { input, blur } = typing(form, pointer, take);
  const id = idOf(pointer);
  const typingNow = document.activeElement?.id === id;
  const units = unitsFor(cell.dimension, cell.unit);
  return html`${framed(
    form,
    field,
    pointer,
    html`<div class="f-row">
        <input class="f-text" id=${id} type="text" autocomplete="off" spellcheck="false" data-main aria-describedby=${described(form, field, pointer)}
          .value=${live(draft ?? (value ?? []).map((one) => shortest(one, unit)).join("  "))} @input=${input} @blur=${blur} />
        ${units.length > 1
          ? select({ label: t("form.unit", { label: t(labelId(field)) }), value: unit, options: units.map((one) => ({ value: one, label: written(one) })), set: (next) => form.setUnit(cell, next) })
          : html`<span class="f-unit-fixed">${written(unit)}</span>`}
      </div>
      ${said && "problem" in said && !typingNow ? html`<p class="wrong" role="alert">${t(said.problem.text, said.problem.values)}</p>` : nothing}`,
  )}`;
}

/** Figures in a line, in rising order. @param {string} typed @param {Field & { unit: string }} cell @param {string} unit */
function lineOf(typed, cell, unit) {
  /** @type {number[]} */
  const values = [];
  for (const word of typed.trim().split(/[\s;]+/)) {
    const said = read(word, quantityOf(cell), unit);
    if ("problem" in said) return said;
    values.push(said.value);
  }
  if (values.some((one, i) => i > 0 && one <= values[i - 1])) return { problem: { text: "form.wrong.rising" } };
  return { values };
}

/** @param {Form} form @param {Field} field @param {string} pointer */
export function gridField(form, field, pointer) {
  const table = pointer.slice(0, pointer.lastIndexOf("/"));
  const cell = cellOf(form, field, pointer);
  const unit = form.unit(cell);
  const axes = axesOf(form, table);
  const units = unitsFor(cell.dimension, cell.unit);
  const [mass, altitude, temperature] = AXES.map((name) => cellOf(form, /** @type {Field} */ (fieldOf(field.cls, name)), `${table}/${name}`));
  const unitOf = (/** @type {typeof mass} */ one) => ({ quantity: quantityOf(one), unit: form.unit(one) });
  const sheets = axes.every((axis) => axis.length);
  const plane = Math.min(shown.plane[form.place(table)] ?? 0, axes[0].length - 1);
  const take = (/** @type {string} */ text) => {
    const columns = { mass: unitOf(mass), altitude: unitOf(altitude), temperature: unitOf(temperature), value: unitOf(cell) };
    const got = tableFrom(text, columns, axes[0][plane]);
    for (const [one, { unit: given }] of /** @type {const} */ ([[mass, columns.mass], [altitude, columns.altitude], [temperature, columns.temperature], [cell, columns.value]])) form.setUnit(one, given);
    const changes = put(form, field, table, got);
    form.putAll(changes, field);
    return { text: "form.paste.done", values: { masses: String(got.mass_axis.length), rows: String(got.altitude_axis.length), columns: String(got.temperature_axis.length) } };
  };
  const how = t("form.paste.how", { mass: written(form.unit(mass)), altitude: written(form.unit(altitude)), temperature: written(form.unit(temperature)), value: written(unit) });
  const value = form.value(pointer);
  return html`<section class="f-list" data-at=${pointer} aria-labelledby=${idOf(pointer)}>
    <h2 class="f-legend" id=${idOf(pointer)} tabindex="-1">${t(labelId(field))}${form.lacks(field, pointer) ? html` <span class="f-needed">${t("form.needed")}</span>` : nothing}</h2>
    ${units.length > 1 ? select({ label: t("form.unit", { label: t(labelId(field)) }), value: unit, options: units.map((one) => ({ value: one, label: written(one) })), set: (next) => form.setUnit(cell, next) }) : nothing}
    ${pasting(form, pointer, how, take)}
    ${sheets ? sheet(form, field, pointer, table, cell, plane) : html`<p class="f-help">${t("form.table.axes_first")}</p>`}
    ${value !== undefined && !field.needed ? html`<button type="button" class="link" @click=${() => form.put(field, pointer, undefined)}>${t("form.take_away", { what: t(labelId(field)) })}</button>` : nothing}
  </section>`;
}

/**
 * What a pasted table changes: one sheet on the same axes joins those that are there, else it is the table.
 * @param {Form} form @param {Field} field @param {string} table @param {import("../paste.js").Table} got
 */
function put(form, field, table, got) {
  const now = axesOf(form, table);
  const same = (/** @type {number[]} */ a, /** @type {number[]} */ b) => a.length === b.length && a.every((x, i) => x === b[i]);
  const joins = same(now[1], got.altitude_axis) && same(now[2], got.temperature_axis);
  const masses = joins ? [...new Set([...now[0], ...got.mass_axis])].sort((a, b) => a - b) : got.mass_axis;
  /** @type {[number[], number[], number[]]} */
  const to = [masses, got.altitude_axis, got.temperature_axis];
  const pointer = `${table}/${field.name}`;
  const old = form.value(pointer) ? moved(form.value(pointer), now, to) : undefined;
  const grid = masses.map((mass, i) => got.grid[got.mass_axis.indexOf(mass)] ?? old?.[i] ?? to[1].map(() => to[2].map(() => null)));
  return [
    ...AXES.map((name, i) => ({ pointer: `${table}/${name}`, value: to[i] })),
    ...gridsOn(form, table, field.cls, to).filter((one) => one.pointer !== pointer),
    { pointer, value: grid },
  ];
}

/** The cells of one mass. @param {Form} form @param {Field} field @param {string} pointer @param {string} table @param {Field & { unit: string }} cell @param {number} plane */
function sheet(form, field, pointer, table, cell, plane) {
  const axes = axesOf(form, table);
  const [massCell, altitudeCell, temperatureCell] = AXES.map((name) => cellOf(form, /** @type {Field} */ (fieldOf(field.cls, name)), `${table}/${name}`));
  const said = (/** @type {number} */ value, /** @type {typeof massCell} */ one) => `${shortest(value, form.unit(one))} ${written(form.unit(one))}`;
  /** @type {Grid} */
  const grid = form.value(pointer) ?? moved([], axes, axes);
  const set = (/** @type {number} */ j, /** @type {number} */ k, /** @type {number | null} */ value) => {
    const next = grid.map((sheetOf, i) => (i === plane ? sheetOf.map((row, r) => (r === j ? row.map((one, c) => (c === k ? value : one)) : row)) : sheetOf));
    form.putAll([{ pointer, value: next.flat(2).some((one) => one !== null) || field.needed ? next : undefined }], field);
  };
  return html`
    ${axes[0].length > 1
      ? choice({
          name: `${idOf(pointer)}-mass`,
          label: t("form.table.mass"),
          value: String(plane),
          options: axes[0].map((mass, i) => ({ value: String(i), label: said(mass, massCell) })),
          set: (next) => {
            shown.plane[form.place(table)] = Number(next);
            form.redraw();
          },
        })
      : nothing}
    <div class="f-sheet" tabindex="0" role="region" aria-label=${t("form.table.sheet", { what: t(labelId(field)), mass: said(axes[0][plane], massCell) })}>
      <table>
        <thead>
          <tr>
            <td></td>
            ${axes[2].map((one) => html`<th scope="col">${said(one, temperatureCell)}</th>`)}
          </tr>
        </thead>
        <tbody>
          ${axes[1].map(
            (height, j) => html`<tr>
              <th scope="row">${said(height, altitudeCell)}</th>
              ${axes[2].map((warmth, k) => html`<td>${cellInput(form, cell, `${pointer}/${plane}/${j}/${k}`, grid[plane]?.[j]?.[k] ?? null, `${said(height, altitudeCell)}, ${said(warmth, temperatureCell)}`, (value) => set(j, k, value))}</td>`)}
            </tr>`,
          )}
        </tbody>
      </table>
    </div>
    ${sheetProblem(form, cell, `${pointer}/${plane}`)}
  `;
}

/** @param {Form} form @param {Field & { unit: string }} cell @param {string} place @param {number | null} value @param {string} name @param {(value: number | null) => void} set */
function cellInput(form, cell, place, value, name, set) {
  const unit = form.unit(cell);
  const { input, blur } = typing(form, place, (typed) => {
    const said = typed.trim() === "" ? undefined : read(typed, quantityOf(cell), unit);
    if (said && "problem" in said) return;
    form.setDraft(place, undefined);
    set(said?.value ?? null);
  });
  const draft = form.draft(place);
  const wrong = draft !== undefined && draft.trim() !== "" && "problem" in read(draft, quantityOf(cell), unit);
  return html`<input class="f-cell" id=${idOf(place)} type="text" inputmode="decimal" autocomplete="off" data-main aria-label=${name} aria-invalid=${wrong ? "true" : "false"}
    .value=${live(draft ?? (value === null ? "" : shortest(value, unit)))} @input=${input} @blur=${blur} />`;
}

/** What is wrong with the first cell that was refused. @param {Form} form @param {Field & { unit: string }} cell @param {string} place */
function sheetProblem(form, cell, place) {
  const [at, draft] = Object.entries(form.store.drafts).find(([key]) => key.startsWith(`${form.place(place)}/`)) ?? [];
  if (!at || !draft?.trim() || document.activeElement?.id === idOf(at.slice(form.id.length))) return nothing;
  const said = read(draft, quantityOf(cell), form.unit(cell));
  return "problem" in said ? html`<p class="wrong" role="alert">${t(said.problem.text, said.problem.values)}</p>` : nothing;
}
