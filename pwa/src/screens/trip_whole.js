// What belongs to a whole trip: its name, who comes along, which kits, its loads, by what it is judged; and its end.
import { html, nothing } from "lit";
import { fieldOf } from "../forms/schema.js";
import { entry } from "../parts/entry.js";
import { textLine } from "../parts/line.js";
import { tickBox } from "../parts/select.js";
import { removeChanges } from "../state/trips.js";
import { guarded, refusedWords } from "./guarded.js";
import { follow, notices, undoButton } from "./status.js";

/** @typedef {import("./context.js").Context} Context @typedef {import("../state/pointer.js").Json} Json */
/** @typedef {NonNullable<Context["plan"]>} Plan */

/** Rules that are figures of the settings: field, dimension, step. Their bounds, and what the method takes, are the schema's. */
const RULES = /** @type {const} */ ([
  ["takeoff_safety", "factor", 0.01],
  ["landing_safety", "factor", 0.01],
  ["sinking_air", "vertical speed", 50],
  ["before_sunset", "time", 5],
]);

/** The longest final reserve that a document takes. [s] */
const LONGEST = 6 * 3600;

/** @param {Context} context */
export function wholePage(context) {
  const { t } = context;
  const { trip } = /** @type {Plan} */ (context.plan);
  return html`
    <header class="head open-head f-head">
      <nav class="f-way" aria-label=${t("form.way")}><a href="#/trip">${trip.name}</a></nav>
      <h1 tabindex="-1">${t("trips.whole")}</h1>
    </header>
    ${notices(context)} ${refusedWords(context)}
    <section class="block">
      <label class="f-label" for="trip-name">${t("trips.name")}</label>
      ${textLine({ id: "trip-name", value: trip.name, set: (name) => context.edit(trip.id, "/name", name, "trips.undo.name"), redraw: context.redraw })}
    </section>
    ${ticks(context, trip, "people", "person")} ${ticks(context, trip, "kits", "kit")} ${loads(context, trip)}
    <section class="block stack">
      <h2>${t("trips.delete.title")}</h2>
      <div class="buttons"><button type="button" class="plain" @click=${() => remove(context, trip)}>${t("trips.delete", { name: trip.name })}</button></div>
      <p class="small">${t("trips.delete.keeps")}</p>
    </section>
    ${undoButton(context)}
  `;
}

/** @param {Context} context @param {Json} trip @param {"people" | "kits"} field @param {"person" | "kit"} kind */
function ticks(context, trip, field, kind) {
  const { store, t } = context;
  const chosen = trip[field] ?? [];
  const turn = (/** @type {string} */ id) => {
    const next = chosen.includes(id) ? chosen.filter((/** @type {string} */ one) => one !== id) : [...chosen, id];
    context.edit(trip.id, `/${field}`, next, `trips.undo.${field}`);
  };
  return html`<section class="block" data-ticks=${field}>
    <h2>${t(`trips.${field}`)}</h2>
    ${chosen.length ? nothing : html`<p class="small">${t(`trips.${field}.none`)}</p>`}
    <ul>
      ${store.all(kind).map(({ id, name }) => html`<li>${tickBox({ ticked: chosen.includes(id), label: name, turn: () => turn(id) })}</li>`)}
    </ul>
    <div class="buttons"><a class="plain" href="#/edit">${t("shell.edit.mine")}</a></div>
  </section>`;
}

/** @param {Context} context @param {Json} trip */
function loads(context, trip) {
  const { store, t } = context;
  const legsOf = (/** @type {Json} */ load) => trip.legs.flatMap((/** @type {Json} */ leg, /** @type {number} */ i) => (leg.load === load.id ? [i + 1] : []));
  const remove = (/** @type {Json} */ load) => guarded(context, () => removeChanges(store.get(trip.id), "loads", load.id), { text: "trips.undo.load_gone", values: { name: load.name } });
  return html`<section class="block">
    <h2>${t("trips.loads")}</h2>
    <ul>
      ${trip.loads.map((/** @type {Json} */ load) => {
        const legs = legsOf(load);
        return html`<li class="trip-load">
          <span><b>${load.name}</b> <span class="small">${legs.length ? t("trips.load.on", { legs: legs.join(", ") }) : t("trips.load.unused")}</span></span>
          ${legs.length ? nothing : html`<button type="button" class="plain" @click=${() => remove(load)}>${t("form.delete")}<span class="unseen"> ${load.name}</span></button>`}
        </li>`;
      })}
    </ul>
  </section>`;
}

/** @param {Context} context @param {Json} trip */
async function remove(context, trip) {
  const { store } = context;
  const done = await guarded(context, () => [{ document: trip.id, pointer: "", value: undefined }], { text: "trips.undo.gone", values: { name: trip.name } });
  if (!done) return;
  const next = store.all("trip")[0];
  store.show(next ? { trip: next.id, leg: next.legs[0].id } : {});
  location.hash = "#/trip";
}

/** By what the trip is judged. @param {Context} context */
export function rulesPage(context) {
  const { settings, t } = context;
  const { trip } = /** @type {Plan} */ (context.plan);
  const own = trip.settings && settings?.id === trip.settings ? settings : undefined;
  return html`
    <header class="head open-head f-head">
      <nav class="f-way" aria-label=${t("form.way")}><a href="#/trip">${trip.name}</a></nav>
      <h1 tabindex="-1">${t("trips.rules")}</h1>
      ${follow(context)}
    </header>
    ${notices(context)} ${refusedWords(context)}
    ${own
      ? html`<p class="block lead small">${t("trips.rules.of", { name: own.name })}</p>
          ${entry(context, {
            name: `${own.id}/reserve/time`,
            label: t("trips.reserve"),
            value: own.reserve?.time,
            dimension: "time",
            step: 5,
            low: 0,
            high: 7200,
            start: 0,
            note: own.reserve?.rule ?? t("trips.reserve.none"),
            possible: [0, LONGEST],
            clear: () => context.edit(own.id, "/reserve", undefined, "trips.undo.reserve"),
            set: (time) => context.edit(own.id, "/reserve", { rule: own.reserve?.time === time ? own.reserve.rule : t("trips.reserve.own"), time }, "trips.undo.reserve"),
          })}
          ${own.reserve
            ? html`<div class="block">
                <label class="f-label" for="reserve-rule">${t("trips.reserve.rule")}</label>
                ${textLine({ id: "reserve-rule", value: own.reserve.rule, set: (rule) => context.edit(own.id, "/reserve/rule", rule, "trips.undo.reserve"), redraw: context.redraw })}
              </div>`
            : nothing}
          ${RULES.map(([field, dimension, step]) => {
            const { fallback, low = 0, high = Infinity } = /** @type {import("../forms/schema.js").Field} */ (fieldOf("Settings", field));
            return entry(context, {
              name: `${own.id}/${field}`,
              label: t(`trips.rule.${field}`),
              value: own[field] ?? fallback,
              dimension,
              step,
              low,
              high,
              note: own[field] === undefined ? t("trips.rule.method") : undefined,
              possible: [low, high],
              set: (value) => context.edit(own.id, `/${field}`, value, "trips.undo.rule"),
              clear: () => context.edit(own.id, `/${field}`, undefined, "trips.undo.rule"),
            });
          })}`
      : html`<div class="block">
          <p>${t("trips.rules.none")}</p>
          <div class="buttons"><button type="button" class="plain" @click=${() => give(context, trip)}>${t("trips.rules.give")}</button></div>
        </div>`}
    ${undoButton(context)}
  `;
}

/** A trip that names no settings takes those that are here, or new ones. @param {Context} context @param {Json} trip */
function give(context, trip) {
  const { store, t, demo } = context;
  const invented = store.get(demo)?.settings;
  const there = store.all("settings").find(({ id }) => id !== invented);
  const id = there?.id ?? "own-settings";
  const made = { version: 1, kind: "settings", id, name: t("shell.tab.settings") };
  guarded(context, () => [...(there ? [] : [{ document: id, pointer: "", value: made }]), { document: trip.id, pointer: "/settings", value: id }], { text: "trips.undo.rule" });
}
