// Recording here, offline: a flight, or the strip walked. What it gives is shown before anything is written.
import { html, nothing } from "lit";
import { tickBox, select } from "../parts/select.js";
import { amount, words } from "../parts/words.js";
import { recorder } from "../state/recording.js";
import { clock, now } from "../state/time.js";
import { base64 } from "../state/tracks.js";
import { guarded, refusedWords } from "./guarded.js";
import { readTrack } from "./notebook_track.js";
import { notices, undoButton } from "./status.js";

/** @typedef {import("./context.js").Context} Context @typedef {import("../state/pointer.js").Json} Json @typedef {import("../state/store.js").Change} Change */

const walked = {
  /** @type {Json} */ found: undefined,
  strip: "",
  slope: true,
  problem: "",
  said: "",
};
let recalled = false;
/** Draws the page anew while it records. @type {(() => void) | undefined} */
let redrawing;

/** @param {Context} context */
export function recordScreen(context) {
  const { t, store, place, redraw } = context;
  const what = place.part === "walk" ? "walk" : "flight";
  redrawing = redraw;
  if (!recalled) {
    recalled = true;
    recorder.addEventListener("change", () => redrawing?.());
    recorder.recall(store);
  }
  const { recording, running } = recorder;
  const other = recording && recording.what !== what;
  return html`
    <header class="head open-head">
      <a class="back" href="#/notebook"><span aria-hidden="true">‹&nbsp;</span>${t("shell.tab.notebook")}</a>
      <h1 tabindex="-1">${t(`notebook.record.title_${what}`)}</h1>
    </header>
    ${notices(context)} ${refusedWords(context)}
    <section class="block stack">
      ${running || recording ? nothing : html`<p>${t(`notebook.record.how_${what}`)}</p>`}
      <p class="small">${t("notebook.track.stays")}</p>
      ${recorder.problem ? html`<div class="notice" role="alert"><p>${t(recorder.problem)}</p></div>` : nothing}
      ${other ? html`<p>${t("notebook.record.other")}</p><a class="plain" href="#/notebook/${recording.what === "walk" ? "walk" : "record"}">${t(`notebook.record.title_${recording.what}`)}</a>` : nothing}
      ${recording && !other ? going(context) : nothing}
      ${!recording ? html`<button type="button" class="plain strong nb-big" @click=${() => begin(context, what)}>${t("notebook.record.start")}</button>` : nothing}
      ${walked.problem ? html`<div class="notice" role="alert"><p>${walked.problem}</p></div>` : nothing}
      ${what === "walk" && walked.said ? html`<p role="status"><b>${walked.said}</b></p>` : nothing}
    </section>
    ${what === "walk" && walked.found ? walkFound(context) : nothing} ${undoButton(context)}
  `;
}

/** @param {Context} context @param {"flight" | "walk"} what */
function begin({ store }, what) {
  Object.assign(walked, { found: undefined, problem: "", said: "" });
  recorder.start(store, what);
}

/** It records, or it has, and waits to be used. @param {Context} context */
function going(context) {
  const { t, chosen } = context;
  const { recording, running, last, awake, seconds } = recorder;
  if (!recording) return nothing;
  const n = recording.lines.length;
  if (running) {
    return html`
      <p role="status"><b>${t("notebook.record.going", { n, since: clock(now().slice(0, 11) + new Date(recording.at).toTimeString().slice(0, 8)) })}</b></p>
      <p>
        ${last ? t("notebook.record.accuracy", { accuracy: last.accuracy }) : t("notebook.record.no_fix")}
        ${last && typeof last.speed === "number" ? amount(last.speed, "speed", chosen) : last ? t("notebook.record.no_speed") : nothing}
      </p>
      <p class="small">${t(awake ? "notebook.record.awake" : "notebook.record.may_sleep")}</p>
      <button type="button" class="plain strong nb-big" @click=${() => stop(context)}>${t("notebook.record.stop")}</button>
    `;
  }
  return html`
    <p role="status">${t("notebook.record.done", { n, minutes: Math.max(1, Math.round(seconds / 60)) })}</p>
    <div class="buttons">
      <button type="button" class="plain strong" @click=${() => use(context)}>${t("notebook.record.use")}</button>
      <button type="button" class="plain" @click=${() => recorder.forget()}>${t("notebook.record.drop")}</button>
    </div>
  `;
}

/** @param {Context} context */
async function stop(context) {
  recorder.stop();
  await use(context);
}

/** @param {Context} context */
async function use(context) {
  const { core, store, t, plan, redraw } = context;
  const { recording } = recorder;
  if (!recording) return;
  const bytes = recorder.bytes();
  const name = t(`notebook.record.name_${recording.what}`);
  if (recording.what === "flight") {
    location.hash = "#/notebook/track";
    // what the core refuses is kept: it may be all there is of a flight
    if (await readTrack(context, bytes, name)) recorder.forget();
    return;
  }
  walked.strip = walked.strip || plan?.from?.id || store.all("strip")[0]?.id || "";
  try {
    await core.ready;
    const strip = store.get(walked.strip);
    const found = await core.ask("walk", { base64: await base64(bytes), ...(strip ? { documents: [JSON.stringify(strip)] } : {}) });
    Object.assign(walked, { found, problem: "", slope: found.slope !== null && found.way !== 0 });
    await store.shelf.putTrack({ digest: found.digest, name, at: now(), what: "walk", bytes });
    if (!found.reason) recorder.forget();
  } catch (problem) {
    walked.problem = /** @type {any} */ (problem).message;
  }
  redraw();
}

/** @param {Context} context */
function walkFound(context) {
  const { t, chosen, store, redraw } = context;
  const { found } = walked;
  const give = (/** @type {Json} */ told, /** @type {string} */ dimension) => t("notebook.give_or_take", { value: amount(told.value, dimension, chosen), sd: amount(told.sd, dimension, chosen) });
  const strip = store.get(walked.strip);
  return html`<section class="block stack" aria-label=${t("notebook.walk.found")}>
    <h2>${t("notebook.walk.found")}</h2>
    ${found.reason ? html`<p><b>${words(found.reason, chosen)}</b></p>` : nothing}
    ${found.length ? html`<p class="nb-result">${give(found.length, "length")}</p><p class="small">${t("notebook.walk.passes", { n: found.passes })}</p>` : nothing}
    ${found.slope ? html`<p>${t("notebook.walk.slope", { slope: give(found.slope, "gradient") })}</p>` : found.slope_reason ? html`<p>${words(found.slope_reason, chosen)}</p>` : nothing}
    ${found.length && strip
      ? html`<label for="nb-strip">${t("notebook.walk.strip")}</label>
          ${select({
            id: "nb-strip",
            value: walked.strip,
            options: store.all("strip").map(({ id, name }) => ({ value: id, label: name })),
            set: (id) => {
              Object.assign(walked, { strip: id, slope: false }); // which way it was walked was asked of another strip
              redraw();
            },
          })}
          ${found.way === 0 ? html`<p>${t("notebook.walk.not_along")}</p>` : nothing}
          ${found.slope && found.way
            ? tickBox({
                ticked: walked.slope,
                label: t("notebook.walk.with_slope"),
                turn: () => {
                  walked.slope = !walked.slope;
                  redraw();
                },
              })
            : nothing}
          <button type="button" class="plain strong" @click=${() => putLength(context)}>${t("notebook.walk.take", { name: strip.name })}</button>`
      : nothing}
  </section>`;
}

/** The strip's length, and its slope in one piece where that was asked for; else its pieces keep their shares. @param {Json} strip @returns {Change[]} */
function lengthChanges(strip) {
  const { length, slope, way } = walked.found;
  const { segments = [], length: before } = strip.ground;
  const put = (/** @type {string} */ pointer, /** @type {Json} */ value) => ({ document: strip.id, pointer, value });
  const whole = slope && walked.slope && way ? [{ length: length.value, slope: slope.value * way }] : segments.map((/** @type {Json} */ one) => ({ ...one, length: (one.length * length.value) / before.value }));
  return [put("/ground", { ...strip.ground, length, ...(whole.length ? { segments: whole } : {}) })];
}

/** @param {Context} context */
async function putLength(context) {
  const { store, t, chosen, redraw } = context;
  const strip = store.get(walked.strip);
  if (!strip) return;
  const kept = await guarded(context, () => lengthChanges(store.get(strip.id)), { text: "notebook.undo.walk", values: { name: strip.name } });
  if (!kept) return;
  Object.assign(walked, { said: t("notebook.walk.taken", { name: strip.name, length: amount(walked.found.length.value, "length", chosen) }), found: undefined });
  redraw();
}
