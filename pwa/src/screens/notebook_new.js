// One entry in ten seconds, right after shutting down: the flight's own documents fill in what they know.
import { html, nothing } from "lit";
import { choice } from "../parts/choice.js";
import { entry } from "../parts/entry.js";
import { typing } from "../parts/typed.js";
import { amount } from "../parts/words.js";
import { ALOFT, KINDS, byMarkers, distanceSd, headOf, knownFields, measured, noteChanges } from "../state/notebook.js";
import { now } from "../state/time.js";
import { guarded, refusedWords } from "./guarded.js";
import { notices } from "./status.js";

/** @typedef {import("./context.js").Context} Context @typedef {import("../state/pointer.js").Json} Json */

/**
 * What is asked of each kind: field, dimension, least, most, where a stepper begins, usual error; all SI, and the step
 * in the unit that is shown.
 * @typedef {{ field: string, dimension: string, low: number, high: number, start: number, sd: number, step: number, needed?: boolean }} Asked
 */

/** @type {Asked} */
const indicated = { field: "indicated", dimension: "speed", low: 10, high: 80, start: 28, sd: 0.7, step: 1, needed: true };
/** @type {Asked} */
const rotation = { field: "rotation", dimension: "rotation", low: 25, high: 60, start: 40, sd: 0.35, step: 10 };
/** @type {Record<string, Asked[]>} */
const ASKED = {
  climb: [indicated, { field: "rate", dimension: "vertical speed", low: 0, high: 10, start: 2.5, sd: 0.2, step: 20, needed: true }],
  level: [indicated, rotation],
  cruise: [indicated, rotation, { field: "flow", dimension: "flow", low: 1e-6, high: 2e-5, start: 5e-6, sd: 3e-7, step: 0.5 }],
  glide: [indicated, { field: "sink", dimension: "vertical speed", low: 0, high: 10, start: 2.8, sd: 0.25, step: 20, needed: true }],
  stall: [indicated],
  fill: [
    { field: "volume", dimension: "volume", low: 0.001, high: 0.3, start: 0.03, sd: 0.001, step: 1, needed: true },
    { field: "engine_time", dimension: "duration", low: 360, high: 36_000, start: 3600, sd: 180, step: 0.1 },
  ],
  static: [{ ...rotation, needed: true }],
};
const AIR = [
  { field: "pressure_altitude", dimension: "height", low: -300, high: 6000, start: 1500, sd: 0, step: 100 },
  { field: "temperature", dimension: "temperature", low: 233, high: 323, start: 288, sd: 0, step: 1 },
];
/** How close a figure that is no distance was read: times the usual error. @type {Record<string, number>} */
const CLOSE = { close: 0.5, about: 1, rough: 2 };

/** What is noted after most flights: the other kinds are a touch away. */
const SOON = ["takeoff", "landing"];

/** What stands on the page; the pace and the markers are kept. */
const told = { what: "takeoff", all: false, by: "length", technique: "usual", how: "", close: "about", figures: /** @type {Record<string, number | undefined>} */ ({}) };
/** How long what stands here outlives the page: the flight is over by then. [ms] */
const COUNTS = 12 * 3_600_000;
/** @type {{ pace: number, markers: number } | undefined} */
let ways;
/** What the core said of the leg, for which leg and documents. @type {{ key: string, noted?: Json, told?: Promise<void> }} */
let flight = { key: "" };

/** @param {Context} context */
export function noteScreen(context) {
  const { store, plan, t } = context;
  if (!ways) {
    ways = { pace: 0.75, markers: 5 };
    store.kept("noting").then((kept) => {
      if (kept) ways = kept;
      context.redraw();
    });
    store.kept("noted").then((kept) => {
      // a thumb may have been quicker
      if (kept && Math.abs(Date.now() - kept.at) < COUNTS && !Object.keys(told.figures).length) Object.assign(told, kept.told);
      context.redraw();
    });
  }
  learn(context);
  const noted = flight.noted;
  // a governor holds the rotation whatever the engine gives: nothing to note
  const governed = plan?.aeroplane?.propeller?.pitch_is === "constant_speed";
  const runway = told.what === "takeoff" || told.what === "landing";
  const strip = store.get(noted?.[told.what]?.strip ?? (told.what === "landing" ? plan?.to?.id : plan?.from?.id));
  const length = lengthOf(strip, noted?.[told.what]?.direction, told.what);
  const ready = entryOf(context, noted, length) !== undefined;
  return html`
    <header class="head open-head">
      <a class="back" href="#/notebook"><span aria-hidden="true">‹&nbsp;</span>${t("shell.tab.notebook")}</a>
      <h1 tabindex="-1">${t("notebook.new")}</h1>
    </header>
    ${notices(context)} ${refusedWords(context)}
    <div class="nb-form">
      <div class="block nb-kinds">
        ${choice({
          name: "nb-what",
          label: t("notebook.what"),
          hideLabel: true,
          value: told.what,
          options: (told.all ? KINDS : SOON).filter((what) => what !== "static" || !governed).map((value) => ({ value, label: t(`notebook.what.${value}`) })),
          set: (what) => turn(context, { what, figures: {}, how: "" }),
        })}
        ${told.all ? nothing : html`<button type="button" class="plain" @click=${() => turn(context, { all: true })}>${t("notebook.more")}</button>`}
      </div>
      <p class="block nb-known">${knownWords(context, noted)}</p>
      ${runway ? distance(context, length) : (ASKED[told.what] ?? []).map((asked) => stepper(context, asked))}
      ${ALOFT.includes(told.what) ? AIR.map((asked) => stepper(context, asked)) : nothing}
      <div class="block">
        ${choice({ name: "nb-technique", label: t("notebook.technique"), value: told.technique, options: ["usual", "best", "careless"].map((value) => ({ value, label: t(`notebook.technique.${value}`) })), set: (technique) => turn(context, { technique }) })}
        <p class="small">${t("notebook.usual_decides")}</p>
      </div>
      <div class="block">
        ${runway
          ? choice({ name: "nb-how", label: t("notebook.how"), value: how(), options: ["paced", "marker", "measured"].map((value) => ({ value, label: t(`notebook.how.${value}`) })), set: (value) => turn(context, { how: value }) })
          : choice({ name: "nb-close", label: t("notebook.how"), value: told.close, options: Object.keys(CLOSE).map((value) => ({ value, label: t(`notebook.how.${value}`) })), set: (close) => turn(context, { close }) })}
      </div>
    </div>
    <div class="nb-save">
      <button type="button" class="plain strong" ?disabled=${!ready} @click=${() => save(context)}>${t("notebook.save")}</button>
      ${ready ? html`<span class="small" role="status">${summary(context, length)}</span>` : html`<span class="small">${t("notebook.needs")}</span>`}
    </div>
  `;
}

/** @param {Context} context @param {Partial<typeof told>} changes */
function turn({ store, redraw }, changes) {
  Object.assign(told, changes);
  store.keep("noted", { at: Date.now(), told: { ...told } });
  redraw();
}

/** Accuracy as chosen, else as the way of telling suggests. */
const how = () => told.how || { length: "paced", markers: "marker", paces: "paced" }[told.by] || "measured";

/** Ask the core what the leg says, once for each state of the documents. @param {Context} context @param {boolean} [up] the core is, whatever was drawn last */
export function learn({ store, plan, core, boot, redraw }, up = boot.state === "ready") {
  if (!plan || !up) return flight;
  const key = `${plan.trip.id} ${plan.leg.id} ${store.version}`;
  if (flight.key === key) return flight;
  /** @type {typeof flight} */
  const asked = { key, noted: flight.noted };
  flight = asked;
  asked.told = core.ask("noted", { documents: store.texts(), trip: plan.trip.id, leg: plan.leg.id, now: now() }, { channel: "noted" }).then(
    (noted) => {
      asked.noted = noted;
      redraw();
    },
    () => {
      asked.noted = undefined; // the answers say what is amiss
      redraw();
    },
  );
  return flight;
}

/** @param {Json} strip @param {string | undefined} direction @param {string} what @returns {number | undefined} [m] */
function lengthOf(strip, direction, what) {
  const one = strip?.directions?.find((/** @type {Json} */ { id }) => id === direction);
  return (one?.[`${what}_length`] ?? strip?.ground?.length)?.value;
}

/** What the flight's documents fill in, in one line. @param {Context} context @param {Json} noted */
function knownWords({ plan, store, chosen, t }, noted) {
  const known = knownFields(noted, told.what);
  const flap = plan?.aeroplane?.flaps?.find((/** @type {Json} */ { id }) => id === known.flap)?.name;
  const strip = store.get(known.strip);
  const way = strip?.directions?.find((/** @type {Json} */ { id }) => id === known.direction)?.designator;
  const said = [
    known.mass && amount(known.mass.value, "mass", chosen),
    strip && [strip.name, way].filter(Boolean).join(" "),
    typeof known.temperature === "number" && amount(known.temperature, "temperature", chosen),
    typeof known.headwind === "number" && t(known.headwind < 0 ? "notebook.tail" : "notebook.head", { speed: Math.abs(known.headwind) }),
    flap,
    plan?.configuration?.name,
  ].filter(Boolean);
  // without air an entry is kept and tells the tuning nothing: better known while the thermometer is at hand
  const strips = ["takeoff", "landing", "static"].includes(told.what);
  const airless = noted && strips && (known.temperature === undefined || known.pressure_altitude === undefined);
  return html`<span class="small">${t("notebook.filled")}</span> ${said.join(" · ")}
    ${airless ? html`<br /><b>${t("notebook.no_air")}</b> <a class="plain" href="#/air">${t("shell.tab.air")}</a>` : nothing}`;
}

/** A distance, by one of three ways. @param {Context} context @param {number | undefined} length of the strip */
function distance(context, length) {
  const { t, store } = context;
  const by = length ? ["length", "markers", "paces"] : ["length", "paces"];
  const keep = (/** @type {Partial<NonNullable<typeof ways>>} */ changes) => {
    ways = { pace: 0.75, markers: 5, ...ways, ...changes };
    store.keep("noting", ways);
    context.redraw();
  };
  const over = { field: "over_50ft", dimension: "length", low: 20, high: 2000, start: 300, sd: 0, step: 10 };
  return html`
    <div class="block">
      ${choice({ name: "nb-by", label: t(told.what === "landing" ? "notebook.landing_roll" : "notebook.roll"), value: told.by, options: by.map((value) => ({ value, label: t(`notebook.by.${value}`) })), set: (value) => turn(context, { by: value, how: "" }) })}
    </div>
    ${told.by === "length" ? stepper(context, { field: "roll", dimension: "length", low: 10, high: Math.max(600, length ?? 0), start: 150, sd: 0, step: 5, needed: true }) : nothing}
    ${told.by === "markers"
      ? html`${stepper(context, { field: "passed", dimension: "markers", low: 0, high: ways?.markers ?? 5, start: 2, sd: 0, step: 0.5, needed: true }, t("notebook.markers.passed"))}
          ${entry(context, { name: draftName("markers"), label: t("notebook.markers.of"), value: ways?.markers, dimension: "count", step: 1, low: 2, high: 20, set: (markers) => keep({ markers: Math.round(markers) }), note: t("notebook.markers.evenly", { length }) })}`
      : nothing}
    ${told.by === "paces"
      ? html`${stepper(context, { field: "paces", dimension: "count", low: 10, high: 800, start: 200, sd: 0, step: 5, needed: true })}
          ${entry(context, { name: draftName("pace"), label: t("notebook.pace"), value: ways?.pace, dimension: "short", step: 1, low: 0.4, high: 1.2, possible: [0.3, 1.5], set: (pace) => keep({ pace }) })}`
      : nothing}
    <details class="block">
      <summary>${t("notebook.over_50ft")}</summary>
      ${stepper(context, over)}
    </details>
  `;
}

/** Where something half-typed here is kept: no answer rests on it. @param {string} field */
export const draftName = (field) => `notebook/noting/${field}`;

/** @param {Context} context @param {Asked} asked @param {string} [label] */
function stepper(context, { field, dimension, low, high, start, step }, label = context.t(`notebook.ask.${field}`)) {
  return entry(context, {
    name: draftName(field),
    label,
    value: told.figures[field],
    dimension,
    step,
    low,
    high,
    start,
    possible: [Math.min(low, 0), high * 3],
    set: (value) => turn(context, { figures: { ...told.figures, [field]: value } }),
    clear: () => turn(context, { figures: { ...told.figures, [field]: undefined } }),
  });
}

/** The roll [m] as it was told. @param {number | undefined} length of the strip */
function rollOf(length) {
  const { roll, passed, paces } = told.figures;
  if (told.by === "markers") return passed !== undefined && length && ways ? byMarkers(passed, ways.markers, length) : undefined;
  if (told.by === "paces") return paces !== undefined && ways ? paces * ways.pace : undefined;
  return roll;
}

/** The entry as it stands; undefined while something is lacking. @param {Context} context @param {Json} noted @param {number | undefined} length @returns {Json} */
function entryOf({ plan, store }, noted, length) {
  const drafts = Object.keys(store.drafts).some((place) => place.includes("/noting/"));
  if (drafts || typing.size || !plan?.configuration) return undefined;
  const head = { configuration: plan.configuration.id, ...headOf(told.what, told.technique), ...knownFields(noted, told.what) };
  if (told.what === "takeoff" || told.what === "landing") {
    const roll = rollOf(length);
    const over = told.figures.over_50ft;
    if (!roll) return undefined;
    const spacing = told.by === "markers" && length && ways ? length / ways.markers : 0;
    const figure = (/** @type {number} */ value) => measured(Math.round(value * 10) / 10, distanceSd(value, how(), spacing));
    return { ...head, roll: figure(roll), ...(over ? { over_50ft: figure(over) } : {}) };
  }
  const fields = ASKED[told.what] ?? [];
  if (fields.some(({ field, needed }) => needed && told.figures[field] === undefined)) return undefined;
  const figures = fields.flatMap(({ field, sd }) => {
    const value = told.figures[field];
    return value === undefined ? [] : [[field, measured(value, sd * CLOSE[told.close])]];
  });
  const air = ALOFT.includes(told.what) ? AIR.flatMap(({ field }) => (told.figures[field] === undefined ? [] : [[field, told.figures[field]]])) : [];
  return { ...head, ...Object.fromEntries([...figures, ...air]) };
}

/** What will be written, with how rough it is. @param {Context} context @param {number | undefined} length */
function summary({ chosen, t }, length) {
  const roll = rollOf(length);
  if (!roll || !["takeoff", "landing"].includes(told.what)) return nothing;
  const spacing = told.by === "markers" && length && ways ? length / ways.markers : 0;
  return t("notebook.give_or_take", { value: amount(roll, "length", chosen), sd: amount(distanceSd(roll, how(), spacing), "length", chosen) });
}

/** @param {Context} context */
async function save(context) {
  const { store, plan, t, core } = context;
  // a thumb may be quicker than the core: the entry must not lack what the flight knows
  await core.ready;
  await learn(context, true).told;
  const noted = flight.noted;
  const strip = store.get(noted?.[told.what]?.strip ?? (told.what === "landing" ? plan?.to?.id : plan?.from?.id));
  const made = entryOf(context, noted, lengthOf(strip, noted?.[told.what]?.direction, told.what));
  if (!made || !plan) return;
  const kept = await guarded(context, () => noteChanges(store, plan.aeroplane, [made], t("notebook.of", { name: plan.aeroplane.name })), { text: "notebook.undo.add", values: { what: { text: `notebook.what.${told.what}` } } });
  if (!kept) return;
  turn(context, { what: "takeoff", all: false, figures: {}, how: "" });
  location.hash = "#/notebook";
}
