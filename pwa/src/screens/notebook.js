// The notebook of the open aeroplane: what was measured, the newest first, and the ways to put something in.
import { html, nothing } from "lit";
import { linkTo } from "../forms/readiness.js";
import { amount } from "../parts/words.js";
import { bookOf, entriesOf } from "../state/notebook.js";
import { clock, day } from "../state/time.js";
import { noteScreen } from "./notebook_new.js";
import { recordScreen } from "./notebook_record.js";
import { trackScreen } from "./notebook_track.js";
import { notices, undoButton } from "./status.js";

/** @typedef {import("./context.js").Context} Context @typedef {import("../state/pointer.js").Json} Json */

/** @type {Record<string, (context: Context) => unknown>} */
const PARTS = { new: noteScreen, track: trackScreen, record: recordScreen, walk: recordScreen };

/** What an entry measured, and in which dimension, in the order in which it is told. @type {[string, string][]} */
const MEASURED = [
  ["roll", "length"],
  ["over_50ft", "length"],
  ["indicated", "speed"],
  ["rate", "vertical speed"],
  ["sink", "vertical speed"],
  ["rotation", "rotation"],
  ["flow", "flow"],
  ["volume", "volume"],
  ["engine_time", "duration"],
];

/** Kinds that tell the tuning nothing without the air that they were flown in. */
const AIRED = ["takeoff", "landing", "static"];

/** @param {Context} context */
export function notebookScreen(context) {
  const { place, plan, t } = context;
  if (!plan?.aeroplane) return html`<p class="block">${t("shell.aeroplane.none")}</p>`;
  return (PARTS[place.part] ?? listScreen)(context);
}

/** @param {Context} context */
function listScreen(context) {
  const { store, plan, t } = context;
  const aeroplane = plan?.aeroplane;
  const book = bookOf(store, aeroplane);
  const entries = entriesOf(book);
  return html`
    <header class="head open-head">
      <a class="back" href="#/aeroplane"><span aria-hidden="true">‹&nbsp;</span>${aeroplane.name}</a>
      <h1 tabindex="-1">${t("shell.tab.notebook")}</h1>
    </header>
    ${notices(context)}
    <div class="block buttons">
      <a class="plain strong" href="#/notebook/new">${t("notebook.add")}</a>
      <a class="plain" href="#/notebook/track">${t("notebook.from_track")}</a>
      <a class="plain" href="#/notebook/record">${t("notebook.record")}</a>
      <a class="plain" href="#/notebook/walk">${t("notebook.walk")}</a>
    </div>
    ${undoButton(context)}
    <section class="block" aria-label=${t("notebook.entries")}>
      <p class="small">${entries.length ? t("notebook.usual_decides") : t("notebook.none")}</p>
      <ol class="nb-list">
        ${entries.map((entry) => entryLine(context, book, entry))}
      </ol>
    </section>
  `;
}

/** @param {Context} context @param {Json} book @param {Json} entry */
function entryLine(context, book, entry) {
  const { plan, store, chosen, t } = context;
  const rig = plan?.aeroplane?.configurations?.find((/** @type {Json} */ { id }) => id === entry.configuration);
  const about = [
    entry.mass && amount(entry.mass.value, "mass", chosen),
    store.get(entry.strip)?.name,
    typeof entry.temperature === "number" && amount(entry.temperature, "temperature", chosen),
    typeof entry.headwind === "number" && Math.abs(entry.headwind) >= 0.5 && t(entry.headwind > 0 ? "notebook.head" : "notebook.tail", { speed: Math.abs(entry.headwind) }),
    rig && rig.id !== plan?.configuration?.id && rig.name,
  ].filter(Boolean);
  return html`<li>
    <a class="nb-entry ${entry.suspect ? "nb-suspect" : ""}" href=${linkTo(book.id, `/entries/${entry.id}`)}>
      <span class="nb-what"><b>${t(`notebook.what.${entry.what}`)}</b> <span class="small">${day(entry.at)} ${clock(entry.at)}</span></span>
      <span class="nb-figures">${figuresOf(context, entry)}</span>
      ${about.length ? html`<span class="small">${about.join(" · ")}</span>` : nothing}
      <span class="small"
        >${entry.suspect ? html`<b class="nb-doubt">${t("notebook.suspect")}</b> · ` : nothing}${t(`notebook.technique.${entry.technique ?? "usual"}`)}${entry.track ? html` · ${t("notebook.by_track")}` : nothing}${AIRED.includes(entry.what) && (typeof entry.temperature !== "number" || typeof entry.pressure_altitude !== "number") ? html` · <b class="nb-doubt">${t("notebook.airless")}</b>` : nothing}${entry.note
          ? html` · ${entry.note}`
          : nothing}</span
      >
    </a>
  </li>`;
}

/** "roll 195 m ± 12 m, 50 ft at 315 m ± 25 m" @param {Context} context @param {Json} entry */
function figuresOf({ chosen, t }, entry) {
  return MEASURED.flatMap(([field, dimension]) => {
    const told = entry[field];
    if (!told) return [];
    const value = amount(told.value, dimension, chosen);
    return [t(`notebook.figure.${field}`, { value: told.sd ? t("notebook.give_or_take", { value, sd: amount(told.sd, dimension, chosen) }) : value })];
  }).join(", ");
}
