// A new trip from stored aeroplanes and strips, and a further leg of one: what is chosen here and nothing else.
import { html, nothing } from "lit";
import { live } from "lit/directives/live.js";
import { freshId } from "../forms/layout.js";
import { select } from "../parts/select.js";
import { suits } from "../state/load.js";
import { byId } from "../state/plan.js";
import { iso } from "../state/time.js";
import { copyOf, legIds, legOf, loadIds } from "../state/trips.js";
import { guarded, refusedWords } from "./guarded.js";
import { notices, undoButton } from "./status.js";

/** @typedef {import("./context.js").Context} Context @typedef {import("../state/pointer.js").Json} Json */
/** @typedef {import("../state/store.js").Change} Change */
/** @typedef {Record<string, string>} Begun by field */

const EMPTY = "-empty";

/** What was begun and is not made yet, by what it is; kept on the device. @type {Record<string, Begun>} */
let begun = {};
let recalled = false;

/** @param {Context} context @param {string} key @returns {Begun} */
function begunOf({ store, redraw }, key) {
  if (!recalled) {
    recalled = true;
    store.kept("begun").then((/** @type {Json} */ kept) => {
      begun = { ...kept, ...begun };
      redraw();
    });
  }
  return begun[key] ?? {};
}

/** @param {Context} context @param {string} key @param {Begun | undefined} values none: it is done with */
function begin({ store, redraw }, key, values) {
  begun = { ...begun, [key]: values ? { ...begun[key], ...values } : {} };
  store.keep("begun", begun);
  redraw();
}

/** Documents of a kind as options, with a first one that says that none is chosen. @param {Context} context @param {string} kind */
export const optionsOf = ({ store, t }, kind) => [{ value: "", label: t("trips.choose") }, ...store.all(kind).map(({ id, name }) => ({ value: id, label: name }))];

/** @param {Context} context */
export function newTripPage(context) {
  const { store, plan, t, place } = context;
  const key = "trip";
  const given = begunOf(context, key);
  const [, first = ""] = place.part.split("/");
  const kind = store.get(first)?.kind;
  const chosen = { ...(kind === "aeroplane" ? { aeroplane: first } : kind === "strip" ? { from: first } : {}), ...given };
  const told = toldIn(context, chosen);
  const name = (given.name ?? "").trim();
  const lacking = [name ? "" : "name", ...told.lacking].filter(Boolean);
  const make = async () => {
    const id = freshId(name, [...store.documents.keys(), ...Object.keys(store.removed)]);
    const load = { id: "load", name: t("trips.load.numbered", { n: 1 }), seats: [], placed: [] };
    const leg = legOf(told, legId(context, told), load.id);
    const changes = () => {
      const settings = ownSettings(context);
      const trip = { version: 1, kind: "trip", id, name, aeroplane: told.aeroplane, configuration: told.configuration, settings: settings.id, loads: [load], legs: [leg] };
      return [...settings.changes, { document: id, pointer: "", value: trip }];
    };
    if (!(await guarded(context, changes, { text: "trips.undo.new", values: { name } }))) return;
    begin(context, key, undefined);
    store.show({ trip: id, leg: leg.id });
    location.hash = "#/";
  };
  return html`
    <header class="head open-head f-head">
      ${plan ? html`<nav class="f-way" aria-label=${t("form.way")}><a href="#/trip">${plan.trip.name}</a></nav>` : nothing}
      <h1 tabindex="-1">${t("trips.new")}</h1>
    </header>
    ${notices(context)} ${refusedWords(context)} ${nothingYet(context)}
    <section class="block stack trip-form">
      <div>
        <label class="f-label" for="new-name">${t("trips.name")}</label>
        <input class="f-text" id="new-name" type="text" maxlength="120" autocomplete="off" .value=${live(given.name ?? "")}
          @input=${(/** @type {Event} */ { target }) => begin(context, key, { name: /** @type {HTMLInputElement} */ (target).value })} />
      </div>
      ${legFields(context, key, chosen)} ${makeButton(context, "trips.make", lacking, make)}
    </section>
    ${undoButton(context)}
  `;
}

/** @param {Context} context */
export function newLegPage(context) {
  const { store, t } = context;
  const { trip } = /** @type {NonNullable<Context["plan"]>} */ (context.plan);
  const key = `leg ${trip.id}`;
  const last = trip.legs.at(-1);
  /** @type {Begun} */
  const chosen = { aeroplane: trip.aeroplane, configuration: trip.configuration, from: last.to_strip, ...begunOf(context, key) };
  const told = toldIn(context, chosen);
  const offers = loadsFor(context, trip, told.aeroplane);
  const load = offers.find(({ value }) => value === (chosen.load ?? EMPTY))?.value ?? EMPTY;
  const make = async () => {
    const id = legId(context, told);
    const changes = () => {
      const now = store.get(trip.id);
      const taken = loadTaken(context, now, load);
      return [...taken.changes, { document: trip.id, pointer: `/legs/${id}`, value: legOf(told, id, taken.id, now) }];
    };
    if (!(await guarded(context, changes, { text: "trips.undo.leg", values: { from: store.get(told.from).name, to: store.get(told.to).name } }))) return;
    begin(context, key, undefined);
    store.show({ trip: trip.id, leg: id });
    location.hash = "#/trip";
  };
  return html`
    <header class="head open-head f-head">
      <nav class="f-way" aria-label=${t("form.way")}><a href="#/trip">${trip.name}</a></nav>
      <h1 tabindex="-1">${t("trips.leg.new")}</h1>
    </header>
    ${notices(context)} ${refusedWords(context)}
    <section class="block stack trip-form">
      ${legFields(context, key, chosen)}
      <div>
        <label class="f-label" for="new-load">${t("trips.load")}</label>
        ${select({ id: "new-load", value: load, options: offers, set: (value) => begin(context, key, { load: value }) })}
      </div>
      ${makeButton(context, "trips.leg.make", told.lacking, make)}
    </section>
    ${undoButton(context)}
  `;
}

/** @param {Context} context @param {string} label @param {string[]} lacking @param {() => void} make */
const makeButton = ({ t }, label, lacking, make) => html`
  ${lacking.length ? html`<p role="status">${t("trips.lacking", { what: lacking.map((one) => t(`trips.lacking.${one}`)).join(", ") })}</p>` : nothing}
  <div class="buttons"><button type="button" class=${lacking.length ? "plain" : "plain strong"} ?disabled=${lacking.length > 0} @click=${make}>${t(label)}</button></div>
`;

/**
 * What of a leg is chosen and still here, and what is lacking. One configuration alone is no choice.
 * @param {Context} context
 * @param {Begun} chosen
 */
function toldIn({ store }, chosen) {
  const is = (/** @type {string} */ id, /** @type {string} */ kind) => (store.get(id)?.kind === kind ? id : "");
  const aeroplane = is(chosen.aeroplane, "aeroplane");
  const all = store.get(aeroplane)?.configurations ?? [];
  const configuration = byId(all, chosen.configuration)?.id ?? (all.length === 1 ? all[0].id : "");
  const told = { aeroplane, configuration, from: is(chosen.from, "strip"), to: is(chosen.to, "strip"), departure: chosen.departure };
  const lacking = /** @type {const} */ (["aeroplane", "configuration", "from", "to"]).filter((field) => !told[field] && (field !== "configuration" || aeroplane));
  return { ...told, lacking: /** @type {string[]} */ (lacking) };
}

/** @param {Context} context @param {string} key @param {Begun} chosen */
function legFields(context, key, chosen) {
  const { store, t } = context;
  const told = toldIn(context, chosen);
  const configurations = store.get(told.aeroplane)?.configurations ?? [];
  const field = (/** @type {string} */ name, /** @type {string} */ kind) => html`<div>
    <label class="f-label" for="new-${name}">${t(`trips.${name}`)}</label>
    ${select({ id: `new-${name}`, value: /** @type {any} */ (told)[name], options: optionsOf(context, kind), set: (value) => begin(context, key, { [name]: value }) })}
    ${unfinished(context, kind)}
  </div>`;
  return html`
    ${field("aeroplane", "aeroplane")}
    ${configurations.length > 1
      ? html`<div>
          <label class="f-label" for="new-configuration">${t("shell.configuration")}</label>
          ${select({
            id: "new-configuration",
            value: told.configuration,
            options: [{ value: "", label: t("trips.choose") }, ...configurations.map((/** @type {Json} */ { id, name }) => ({ value: id, label: name }))],
            set: (value) => begin(context, key, { configuration: value }),
          })}
        </div>`
      : nothing}
    ${field("from", "strip")} ${field("to", "strip")}
    <div class="departs">
      <label class="f-label" for="new-departure">${t("trips.departure")}</label>
      <input id="new-departure" type="datetime-local" .value=${live(chosen.departure?.slice(0, 16) ?? "")}
        @change=${(/** @type {Event} */ { target }) => {
          const { value } = /** @type {HTMLInputElement} */ (target);
          begin(context, key, { departure: value ? iso(Date.parse(value)) : "" });
        }} />
    </div>
  `;
}

/** What is being described and not whole yet can't be chosen: the way to finish it. @param {Context} context @param {string} kind */
const unfinished = ({ store, sketches, t }, kind) =>
  sketches
    .all(kind)
    .filter(({ id }) => !store.get(id))
    .map(({ id, name }) => html`<p><a class="link" href="#/edit/${encodeURIComponent(id)}">${t("trips.unfinished", { name })}</a></p>`);

/** Without an aeroplane or a strip there is nothing to choose from. @param {Context} context */
function nothingYet({ store, t }) {
  const lacks = ["aeroplane", "strip"].filter((kind) => !store.all(kind).length);
  return lacks.length
    ? html`<div class="notice">
        ${lacks.map((kind) => html`<p>${t(`trips.no_${kind}`)}</p>`)}
        <a class="plain" href="#/edit">${t("form.mine")}</a>
      </div>`
    : nothing;
}

/** @param {Context} context @param {{ from: string, to: string }} told */
const legId = ({ store }, { from, to }) => freshId(`${store.get(from).name.slice(0, 20)} ${store.get(to).name.slice(0, 20)}`, legIds(store));

/**
 * The settings of the person's own trips: what the demo is judged by is invented, and serves the demo alone.
 * @param {Context} context
 * @returns {{ id: string, changes: Change[] }}
 */
function ownSettings({ store, demo, settings, t }) {
  const invented = store.get(demo)?.settings;
  const own = settings && settings.id !== invented ? settings : store.all("settings").find(({ id }) => id !== invented);
  if (own) return { id: own.id, changes: [] };
  const id = freshId("settings", [...store.documents.keys(), ...Object.keys(store.removed)]);
  const { units, look } = settings ?? {};
  const made = { version: 1, kind: "settings", id, name: t("shell.tab.settings"), ...(units ? { units } : {}), ...(look ? { look } : {}) };
  return { id, changes: [{ document: id, pointer: "", value: made }] };
}

/** Loads that a leg with this aeroplane may take: a new one, those of the trip, copies of others. @param {Context} context @param {Json} trip @param {string} aeroplane */
export function loadsFor({ store, t }, trip, aeroplane) {
  const plane = store.get(aeroplane);
  const fit = (/** @type {Json} */ one) => one.loads.filter((/** @type {Json} */ load) => suits(store, load, plane));
  return [
    { value: EMPTY, label: t("trips.load.empty") },
    ...fit(trip).map((/** @type {Json} */ { id, name }) => ({ value: id, label: name })),
    ...store.all("trip").flatMap((other) =>
      fit(other).map((/** @type {Json} */ { id, name }) => ({
        value: `${other.id}/${id}`,
        label: other.id === trip.id ? t("trips.load.copy", { name }) : t("trips.load.copy_of_trip", { name, trip: other.name }),
      })),
    ),
  ];
}

/**
 * What was chosen of `loadsFor`: the id of a load of the trip, and the changes that make it.
 * @param {Context} context
 * @param {Json} trip
 * @param {string} wanted
 * @returns {{ id: string, changes: Change[] }}
 */
export function loadTaken({ store, t }, trip, wanted) {
  if (byId(trip.loads, wanted)) return { id: wanted, changes: [] };
  const [other, from] = wanted.split("/");
  const copied = wanted === EMPTY ? undefined : byId(store.get(other)?.loads, from);
  const name = copied ? t("form.copy_of", { what: copied.name }).slice(0, 120) : t("trips.load.numbered", { n: trip.loads.length + 1 });
  const id = freshId(name, loadIds(trip));
  const load = copied ? copyOf(copied, id, name) : { id, name, seats: [], placed: [] };
  return { id, changes: [{ document: trip.id, pointer: `/loads/${id}`, value: load }] };
}
