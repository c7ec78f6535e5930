// Entries out of a recorded track: a file is chosen (or what was recorded here), the core finds the runs, they are shown
// on the strip for confirmation. The track stays on this device.
import { html, nothing } from "lit";
import { choice } from "../parts/choice.js";
import { entry } from "../parts/entry.js";
import { facts } from "../parts/facts.js";
import { tickBox } from "../parts/select.js";
import { amount, words } from "../parts/words.js";
import { trackPicture } from "../pictures/index.js";
import { knownFields, measured, noteChanges } from "../state/notebook.js";
import { clock, day, iso, now } from "../state/time.js";
import { LARGEST, base64, keptTracks } from "../state/tracks.js";
import { guarded, refusedWords } from "./guarded.js";
import { draftName, learn } from "./notebook_new.js";
import { notices } from "./status.js";

/** @typedef {import("./context.js").Context} Context @typedef {import("../state/pointer.js").Json} Json */

/** Dimension of each figure of a run. @type {Record<string, string>} */
const FIGURES = { roll: "length", over_50ft: "length", speed: "speed", rate: "vertical speed", sink: "vertical speed", climb_speed: "speed", approach_speed: "speed" };
/** A track so near to now is taken for the open leg's flight. [ms] */
const RECENT = 6 * 3_600_000;

/** What was read and waits for a yes. */
const state = {
  /** @type {Json} */ found: undefined,
  name: "",
  busy: false,
  problem: /** @type {{ message: string, expected?: string } | undefined} */ (undefined),
  technique: "usual",
  same: true,
  /** @type {Record<string, boolean>} */ left: {},
  /** @type {Record<string, number | undefined>} */ dial: {},
  said: "",
  /** @type {import("../state/tracks.js").Kept[] | undefined} */ kept: undefined,
};

/** @param {Context} context */
export function trackScreen(context) {
  const { t, store, redraw } = context;
  if (!state.kept) {
    state.kept = [];
    keptTracks(store).then((kept) => {
      state.kept = kept;
      redraw();
    }, () => {});
  }
  learn(context);
  return html`
    <header class="head open-head">
      <a class="back" href="#/notebook"><span aria-hidden="true">‹&nbsp;</span>${t("shell.tab.notebook")}</a>
      <h1 tabindex="-1">${t("notebook.from_track")}</h1>
    </header>
    ${notices(context)} ${refusedWords(context)}
    <section class="block stack">
      <p>${t("notebook.track.stays")}</p>
      <label class="plain nb-file">${t("notebook.track.choose")}<input type="file" accept=".gpx,.csv,.txt,application/gpx+xml,text/csv" @change=${(/** @type {Event} */ event) => chosenFile(context, event)} /></label>
      ${state.busy ? html`<p role="status">${t("notebook.track.reading")}</p>` : nothing}
      ${state.problem ? html`<div class="notice" role="alert"><p><b>${t("notebook.track.not_taken")}</b> ${state.problem.message}</p>${state.problem.expected ? html`<p class="small">${t("notebook.track.expected", { what: state.problem.expected })}</p>` : nothing}</div>` : nothing}
      ${state.said ? html`<p role="status"><b>${state.said}</b></p><a class="plain" href="#/notebook">${t("notebook.track.see")}</a>` : nothing}
    </section>
    ${state.found ? foundSection(context) : nothing} ${keptSection(context)}
  `;
}

/** @param {Context} context @param {Event} event */
async function chosenFile(context, { target }) {
  const input = /** @type {HTMLInputElement} */ (target);
  const file = input.files?.[0];
  if (!file) return;
  if (file.size > LARGEST) {
    state.problem = { message: context.t("track.bad.large", { megabytes: LARGEST / 1e6 }), expected: context.t("track.expected.small") };
    state.found = undefined;
    input.value = "";
    return context.redraw();
  }
  const bytes = await file.arrayBuffer();
  input.value = "";
  await readTrack(context, bytes, file.name);
}

/**
 * Ask the core about a track, and keep it when it is one.
 * @param {Context} context
 * @param {ArrayBuffer} bytes
 * @param {string} name
 * @returns {Promise<boolean>} was it a track?
 */
export async function readTrack(context, bytes, name) {
  const { core, store, redraw } = context;
  Object.assign(state, { found: undefined, problem: undefined, busy: true, said: "", left: {}, dial: {}, name });
  redraw();
  try {
    await core.ready;
    const strips = store.all("strip").map((strip) => JSON.stringify(strip));
    const headwind = learn(context).noted?.takeoff?.headwind;
    const found = await core.ask("track", { base64: await base64(bytes), documents: strips, ...(typeof headwind === "number" ? { headwind } : {}) });
    state.found = found;
    state.same = Math.abs(Date.now() - Date.parse(found.track.end)) < RECENT;
    await store.shelf.putTrack({ digest: found.track.digest, name, at: now(), what: "flight", bytes });
    state.kept = await keptTracks(store);
  } catch (problem) {
    state.problem = /** @type {any} */ (problem);
  }
  state.busy = false;
  redraw();
  return !state.problem;
}

/** @param {Context} context */
function foundSection(context) {
  const { t, chosen, redraw } = context;
  const { found } = state;
  const good = found.runs.filter((/** @type {Json} */ { ok, rough }) => ok || rough);
  const entries = chosenEntries(context);
  const turn = (/** @type {Partial<typeof state>} */ changes) => {
    Object.assign(state, changes);
    redraw();
  };
  return html`
    <section class="block stack" aria-label=${t("notebook.track.found")}>
      <h2>${state.name}</h2>
      <p class="small">${day(local(found.track.start))} ${clock(local(found.track.start))} – ${clock(local(found.track.end))} · ${t("notebook.track.fixes", { n: found.track.fixes })}</p>
      ${found.cautions.map((/** @type {Json} */ one) => html`<p>${words(one, chosen)}</p>`)}
    </section>
    ${found.runs.map((/** @type {Json} */ run) => runSection(context, run))}
    ${good.length
      ? html`<div class="block stack">
            ${choice({ name: "nb-track-technique", label: t("notebook.technique"), value: state.technique, options: ["usual", "best", "careless"].map((value) => ({ value, label: t(`notebook.technique.${value}`) })), set: (technique) => turn({ technique }) })}
            <p class="small">${t("notebook.usual_decides")}</p>
            ${tickBox({ ticked: state.same, label: t("notebook.track.same"), turn: () => turn({ same: !state.same }) })}
          </div>
          <div class="nb-save">
            <button type="button" class="plain strong" ?disabled=${entries.length === 0} @click=${() => take(context)}>${t("notebook.track.take", { n: entries.length })}</button>
          </div>`
      : nothing}
  `;
}

/** A time of the track (UTC) as this device's clock has it. @param {string} time */
const local = (time) => iso(Date.parse(time));

/** @param {Context} context @param {Json} run */
function runSection(context, run) {
  const { t, chosen, format, store } = context;
  const head = html`<h3>${t(`track.what.${run.what}`)} <span class="small">${run.at ? clock(local(run.at)) : ""}</span></h3>`;
  const refusal = run.ok ? nothing : html`<p><b>${t("notebook.track.refused")}</b> ${words(run.reason, chosen)}</p>`;
  if (!run.ok && !run.rough) return html`<section class="block stack">${head}${refusal}</section>`;
  const strip = store.get(run.strip);
  const way = strip?.directions.find((/** @type {Json} */ { id }) => id === run.direction);
  const length = (way?.[`${run.what}_length`] ?? strip?.ground?.length)?.value ?? null;
  return html`<section class="block stack">
    ${head}${refusal}${run.rough ? html`<p>${t("notebook.track.rough")}</p>` : nothing}
    ${strip ? html`<p>${[strip.name, way?.designator].filter(Boolean).join(" ")}</p>` : nothing}
    ${trackPicture(run, length, format)}
    ${facts(Object.entries(run.figures).filter(([name]) => name !== "roll").map(([name, told]) => [t(`track.figure.${name}`), t("notebook.give_or_take", { value: amount(told.value, FIGURES[name], chosen), sd: amount(told.sd, FIGURES[name], chosen) })]))}
    ${run.cautions.map((/** @type {Json} */ one) => html`<p class="small">${words(one, chosen)}</p>`)}
    ${run.entries.map((/** @type {Json} */ one) => entryChoice(context, run, one))}
  </section>`;
}

/** @param {Context} context @param {Json} run @param {Json} proposed */
function entryChoice(context, run, proposed) {
  const { t, redraw } = context;
  const key = keyOf(run, proposed);
  const turn = () => {
    state.left = { ...state.left, [key]: !isLeft(key) };
    redraw();
  };
  return html`${tickBox({ ticked: !isLeft(key), label: t("notebook.track.entry", { what: { text: `notebook.what.${proposed.what}` } }), turn })}
  ${proposed.what === "climb" && !isLeft(key)
    ? entry(context, {
        name: draftName(run.id),
        label: t("notebook.track.dial"),
        value: state.dial[key],
        dimension: "speed",
        step: 1,
        low: 10,
        high: 80,
        start: run.figures.climb_speed?.value ?? 28,
        possible: [5, 150],
        set: (value) => {
          state.dial = { ...state.dial, [key]: value };
          redraw();
        },
        clear: () => {
          state.dial = { ...state.dial, [key]: undefined };
          redraw();
        },
      })
    : nothing}`;
}

/** An entry proposed, by name. @param {Json} run @param {Json} proposed */
const keyOf = (run, proposed) => `${run.id} ${run.rough ? "rough" : "sure"} ${proposed.what}`;

/** Taken only when somebody asks: a climb, for what the dial showed is in no track, and what is rough. @param {string} key */
const isLeft = (key) => state.left[key] ?? (key.endsWith(" climb") || key.includes(" rough "));

/** The entries that would be written. @param {Context} context @returns {Json[]} */
function chosenEntries(context) {
  const { plan } = context;
  const { noted } = learn(context);
  return (state.found?.runs ?? []).flatMap((/** @type {Json} */ run) =>
    (run.entries ?? []).flatMap((/** @type {Json} */ one) => {
      const key = keyOf(run, one);
      const dial = state.dial[key];
      if (isLeft(key) || (one.what === "climb" && dial === undefined)) return [];
      const known = state.same ? knownFields(noted, one.what) : {};
      // another strip than the leg's: its air and ground are not those of this run
      const elsewhere = one.strip && known.strip && one.strip !== known.strip;
      const { configuration, mass, flap } = known;
      const own = elsewhere ? Object.fromEntries(Object.entries({ configuration, mass, flap }).filter(([, value]) => value !== undefined)) : known;
      return [{ configuration: plan?.configuration?.id, ...own, ...one, at: local(one.at), technique: state.technique, ...(dial === undefined ? {} : { indicated: measured(dial, 0.7) }) }];
    }),
  );
}

/** @param {Context} context */
async function take(context) {
  const { store, plan, t, redraw } = context;
  const entries = chosenEntries(context);
  if (!plan || !entries.length) return;
  const kept = await guarded(context, () => noteChanges(store, plan.aeroplane, entries, t("notebook.of", { name: plan.aeroplane.name })), { text: "notebook.undo.track", values: { n: entries.length } });
  if (!kept) return;
  Object.assign(state, { found: undefined, said: t("notebook.track.taken", { n: entries.length }) });
  redraw();
  scrollTo(0, 0);
}

/** @param {Context} context */
function keptSection(context) {
  const { t, store, redraw } = context;
  if (!state.kept?.length) return nothing;
  const drop = async (/** @type {string} */ digest) => {
    await store.shelf.dropTrack(digest);
    state.kept = await keptTracks(store);
    if (state.found?.track.digest === digest) state.found = undefined;
    redraw();
  };
  return html`<section class="block stack" aria-label=${t("notebook.track.kept")}>
    <h2>${t("notebook.track.kept")}</h2>
    <ul class="nb-list">
      ${state.kept.map(
        (one) => html`<li class="nb-kept">
          <span>${one.name} <span class="small">${day(one.at)} ${clock(one.at)}, ${t("notebook.track.size", { n: Math.max(1, Math.round(one.bytes.byteLength / 1000)) })}</span></span>
          <span class="buttons">
            <button type="button" class="link" @click=${() => readTrack(context, one.bytes, one.name)}>${t("notebook.track.again")}<span class="unseen"> ${one.name}</span></button>
            <button type="button" class="link" @click=${() => drop(one.digest)}>${t("form.delete")}<span class="unseen"> ${one.name}</span></button>
          </span>
        </li>`,
      )}
    </ul>
  </section>`;
}
