// One leg by touch: its strips, what flies it and how, the air it goes by, its load, its place in the trip.
import { html, nothing } from "lit";
import { choice } from "../parts/choice.js";
import { entry } from "../parts/entry.js";
import { textLine } from "../parts/line.js";
import { select } from "../parts/select.js";
import { clock, day } from "../state/time.js";
import { moveChanges, ownChanges, removeChanges, sharedChanges, stripChanges } from "../state/trips.js";
import { chosenLast, guarded, refusedWords } from "./guarded.js";
import { pickers } from "./pickers.js";
import { follow, notices, undoButton } from "./status.js";
import { loadTaken, loadsFor, optionsOf } from "./trip_new.js";

/** @typedef {import("./context.js").Context} Context @typedef {import("../state/pointer.js").Json} Json */
/** @typedef {NonNullable<Context["plan"]>} Plan */

/** Where the sliders end, [m] and [m/s]; what is typed goes as far as the second allows. */
const HIGH = { altitude: 4_000, altitudePossible: 12_000, wind: 30, windPossible: 100 };

/** @param {Context} context */
export function legPage(context) {
  const { t, place } = context;
  const plan = /** @type {Plan} */ (context.plan);
  const { trip, number, from, to } = plan;
  const [, part = ""] = place.part.split("/");
  return html`
    <header class="head open-head f-head">
      <nav class="f-way" aria-label=${t("form.way")}><a href="#/trip">${trip.name}</a></nav>
      <h1 tabindex="-1">${t("shell.leg.named", { n: number, from: from?.name ?? "", to: to?.name ?? "" })}</h1>
      ${follow(context)}
    </header>
    ${notices(context)} ${refusedWords(context)}
    <div data-target=${part ? `leg-${part}` : nothing}>
      <section class="block stack" id="leg-strips">
        <h2>${t("trips.leg.strips")}</h2>
        ${strip(context, plan, "from")} ${strip(context, plan, "to")}
      </section>
      <section id="leg-flap">${pickers(context, { legs: false })}</section>
      ${whose(context, plan)} ${enRoute(context, plan)} ${airs(context, plan)} ${load(context, plan)} ${order(context, plan)}
    </div>
    ${undoButton(context)}
  `;
}

/** @param {Context} context @param {Plan} plan @param {"from" | "to"} end */
function strip(context, { trip, leg }, end) {
  const { store, t } = context;
  const here = chosenLast(trip.id, `/legs/${leg.id}/${end}_strip`, leg[`${end}_strip`]);
  const put = (/** @type {string} */ id) => {
    if (id && id !== here) guarded(context, () => stripChanges(trip, leg, end, id), { text: `trips.undo.${end}`, values: { strip: store.get(id).name } });
    else context.redraw();
  };
  return html`<div>
    <label class="f-label" for="leg-${end}">${t(`trips.${end}`)}</label>
    ${select({ id: `leg-${end}`, value: here, options: optionsOf(context, "strip").slice(1), set: put })}
  </div>`;
}

/** Does the leg fly the trip's aeroplane, or one of its own? @param {Context} context @param {Plan} plan */
function whose(context, { trip, leg }) {
  const { store, t } = context;
  const set = async (/** @type {string} */ value) => {
    const key = `swap-${trip.id}`;
    const label = { text: "trips.undo.whose" };
    // It flies what it flew: at once, so that the next touch is on this leg's aeroplane.
    if (value === "own") return store.edit(ownChanges(trip, leg), label);
    const memory = (await store.kept(key)) ?? {};
    const done = await guarded(context, () => sharedChanges(store, trip, leg, memory).changes, label);
    if (done) store.keep(key, { ...memory, ...sharedChanges(store, trip, leg, memory).memory });
  };
  return html`<section class="block">
    ${choice({
      name: "whose",
      label: t("trips.whose"),
      value: leg.aeroplane ? "own" : "trip",
      options: [
        { value: "trip", label: t("trips.whose.trip", { name: store.get(trip.aeroplane)?.name ?? "" }) },
        { value: "own", label: t("trips.whose.own") },
      ],
      set,
    })}
  </section>`;
}

/** Cruise, altitude, wind aloft, fuel grade, alternate. @param {Context} context @param {Plan} plan */
function enRoute(context, { trip, leg, aeroplane, from }) {
  const { t, chosen } = context;
  const place = `/legs/${leg.id}`;
  const put = (/** @type {string} */ field, /** @type {Json} */ value) => context.edit(trip.id, `${place}/${field}`, value, `trips.undo.${field}`);
  const aloft = leg.wind_aloft;
  const wait = context.ui.wind[`aloft-${leg.id}`] ?? {};
  const wind = { ...wait, ...aloft };
  /** Speed and direction make a wind only together. @param {Json} next */
  const blow = (next) => {
    const whole = { origin: "forecast", ...aloft, ...wait, ...next };
    const isWhole = typeof whole.speed === "number" && typeof whole.wind_from === "number";
    context.turn({ wind: { ...context.ui.wind, [`aloft-${leg.id}`]: isWhole ? undefined : { ...wait, ...next } } });
    if (isWhole) put("wind_aloft", whole);
  };
  const cruises = aeroplane?.cruises ?? [];
  const grades = aeroplane?.engine?.grades?.length ? aeroplane.engine.grades : ["avgas", "mogas", "jet_a1"];
  return html`<section id="leg-cruise">
    <div class="block stack">
      <h2>${t("trips.en_route")}</h2>
      ${cruises.length
        ? choice({
            name: "cruise",
            label: t("trips.cruise"),
            value: leg.cruise,
            options: cruises.map((/** @type {Json} */ { id, name }) => ({ value: id, label: name })),
            set: (id) => put("cruise", id),
          })
        : html`<p>${t("trips.no_cruises")} ${aeroplane ? html`<a class="link" href="#/edit/${encodeURIComponent(aeroplane.id)}">${t("shell.edit")}<span class="unseen"> ${aeroplane.name}</span></a>` : nothing}</p>`}
      ${choice({
        name: "grade",
        label: t("trips.fuel_grade"),
        value: leg.fuel_grade,
        options: grades.map((/** @type {string} */ grade) => ({ value: grade, label: t(`grade.${grade}`) })),
        set: (grade) => put("fuel_grade", grade),
      })}
    </div>
    ${entry(context, {
      name: `${trip.id}${place}/cruise_altitude`,
      label: t("trips.cruise_altitude"),
      value: leg.cruise_altitude,
      dimension: "height",
      step: chosen.height === "m" ? 100 : 500,
      low: 0,
      high: HIGH.altitude,
      start: from?.elevation?.value ?? 0,
      possible: [-1_000, HIGH.altitudePossible],
      set: (value) => put("cruise_altitude", value),
    })}
    ${entry(context, {
      name: `${trip.id}${place}/aloft/speed`,
      label: t("trips.aloft.speed"),
      value: wind.speed,
      dimension: "speed",
      step: 1,
      low: 0,
      high: HIGH.wind,
      start: 0,
      note: aloft ? undefined : t("trips.aloft.none"),
      possible: [0, HIGH.windPossible],
      set: (speed) => blow({ speed }),
    })}
    ${entry(context, {
      name: `${trip.id}${place}/aloft/from`,
      label: t("trips.aloft.from"),
      value: wind.wind_from,
      dimension: "angle",
      step: 10,
      low: 0,
      high: 2 * Math.PI,
      start: 0,
      possible: [0, 2 * Math.PI],
      set: (wind_from) => blow({ wind_from }),
    })}
    ${!aloft && (wait.speed !== undefined || wait.wind_from !== undefined) ? html`<p class="block" role="status">${t("trips.aloft.half")}</p>` : nothing}
    ${aloft ? html`<div class="block buttons"><button type="button" class="plain" @click=${() => put("wind_aloft", undefined)}>${t("trips.aloft.clear")}</button></div>` : nothing}
    <div class="block">
      <label class="f-label" for="leg-alternate">${t("trips.alternate")}</label>
      ${select({ id: "leg-alternate", value: leg.alternate ?? "", options: [{ value: "", label: t("trips.none") }, ...optionsOf(context, "strip").slice(1)], set: (id) => put("alternate", id || undefined) })}
    </div>
  </section>`;
}

/** A reading that is stored already, of another leg say, may serve this one. @param {Context} context @param {Plan} plan */
function airs(context, { trip, leg, from, to }) {
  const { store, t } = context;
  const one = (/** @type {"from" | "to"} */ end, /** @type {Json} */ where) => {
    const read = store.all("air").filter((air) => air.strip === where?.id);
    if (!where || !read.length) return nothing;
    return html`<div>
      <label class="f-label" for="leg-air-${end}">${t("shell.air.title", { strip: where.name })}</label>
      ${select({
        id: `leg-air-${end}`,
        value: chosenLast(trip.id, `/legs/${leg.id}/air_${end}`, leg[`air_${end}`]) ?? "",
        options: [{ value: "", label: t("trips.air.none") }, ...read.map((air) => ({ value: air.id, label: t(`trips.air.${air.origin ?? "read"}`, { when: `${day(air.at)} ${clock(air.at)}` }) }))],
        set: (id) => guarded(context, () => [{ document: trip.id, pointer: `/legs/${leg.id}/air_${end}`, value: id || undefined }], { text: "trips.undo.air", values: { strip: where.name } }),
      })}
    </div>`;
  };
  return html`<section class="block stack" id="leg-air">
    <h2>${t("shell.tab.air")}</h2>
    ${one("from", from)} ${one("to", to)}
    <div class="buttons"><a class="plain" href="#/air">${t("trips.air.give")}</a></div>
  </section>`;
}

/** @param {Context} context @param {Plan} plan */
function load(context, { trip, leg, load: loaded, aeroplane }) {
  const { store, t } = context;
  const take = (/** @type {string} */ wanted) =>
    guarded(
      context,
      () => {
        const taken = loadTaken(context, store.get(trip.id), wanted);
        return [...taken.changes, { document: trip.id, pointer: `/legs/${leg.id}/load`, value: taken.id }];
      },
      { text: "trips.undo.load" },
    );
  const offers = loadsFor(context, trip, aeroplane?.id ?? "");
  return html`<section class="block stack" id="leg-load">
    <h2>${t("trips.load")}</h2>
    ${select({ label: t("trips.load"), value: leg.load, options: offers, set: (wanted) => (wanted === leg.load ? undefined : take(wanted)) })}
    <div>
      <label class="f-label" for="load-name">${t("trips.load.name")}</label>
      ${textLine({ id: "load-name", value: loaded?.name ?? "", set: (name) => context.edit(trip.id, `/loads/${leg.load}/name`, name, "trips.undo.load_name"), redraw: context.redraw })}
    </div>
    <div class="buttons"><a class="plain" href="#/load">${t("trips.load.fill")}</a></div>
  </section>`;
}

/** @param {Context} context @param {Plan} plan */
function order(context, { trip, leg, number }) {
  const { store, t } = context;
  const move = (/** @type {-1 | 1} */ by) => guarded(context, () => moveChanges(store.get(trip.id), leg.id, by), { text: "trips.undo.order" });
  const remove = async () => {
    const done = await guarded(context, () => removeChanges(store.get(trip.id), "legs", leg.id), { text: "trips.undo.leg_gone", values: { n: number } });
    if (!done) return;
    const { legs } = store.get(trip.id);
    store.show({ trip: trip.id, leg: legs[Math.min(number - 1, legs.length - 1)].id });
    location.hash = "#/trip";
  };
  return html`<section class="block stack">
    <h2>${t("trips.leg.place", { n: number, of: trip.legs.length })}</h2>
    <div class="buttons">
      <button type="button" class="plain" ?disabled=${number === 1} @click=${() => move(-1)}>${t("trips.leg.earlier")}</button>
      <button type="button" class="plain" ?disabled=${number === trip.legs.length} @click=${() => move(1)}>${t("trips.leg.later")}</button>
      ${trip.legs.length > 1 ? html`<button type="button" class="plain" @click=${remove}>${t("trips.leg.delete")}</button>` : nothing}
    </div>
    ${trip.legs.length > 1 ? nothing : html`<p>${t("trips.leg.only")} <a class="link" href="#/trip/whole">${t("trips.whole")}</a></p>`}
  </section>`;
}
