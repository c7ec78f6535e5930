// One line that says how far things are: storing for use without signal, starting, working, or nothing to wait for.
import { html, nothing } from "lit";
import { verdictLabel } from "../parts/verdict.js";
import { draftPage } from "../state/drafts.js";
import { typedNow } from "../parts/typed.js";
import { marginSigned, ruling } from "../parts/margin.js";
import { LONG } from "../state/answers.js";
import { uncounted } from "../state/load.js";
import { age, clock, day } from "../state/time.js";
import { FAULTS } from "../worker/client.js";
import { withRunUp } from "./runup_said.js";

/** @typedef {import("./context.js").Context} Context */
/** @typedef {import("../state/pointer.js").Json} Json */

const megabytes = (/** @type {number} */ bytes) => Math.round(bytes / 1e6);

/** Is there anything to wait for, in few words? @param {Context} context */
function waiting({ boot, offline, answers, t }) {
  if (offline.phase === "installing" && offline.files < offline.ofFiles) {
    const { files, ofFiles, bytes, ofBytes } = offline;
    return t("shell.status.storing", { files, of: ofFiles, bytes: megabytes(bytes), ofBytes: megabytes(ofBytes) });
  }
  if (boot.state === "starting") return t("shell.status.starting", { step: t(`shell.boot.${boot.step}`), done: boot.done, of: boot.of });
  return answers.since && Date.now() - answers.since > LONG ? t("shell.status.working") : "";
}

/** Is there no room on the device? @param {Context["store"]} store */
const isFull = (store) => /quota/i.test(store.shelf.problem);

/** What is amiss with keeping things, in full. @param {Context} context */
function keeping({ store, t }) {
  const damaged = store.damaged.map(([key]) => key).join(", ");
  return html`
    ${store.shelf.problem && store.shelf.isThere
      ? html`<div class="notice" role="alert">
          <p>${t(isFull(store) ? "shell.keep.full" : "shell.keep.failing")}</p>
          <a class="plain" href="#/settings">${t("shell.file.give")}</a>
        </div>`
      : nothing}
    ${store.joined.length
      ? html`<div class="notice" role="status">
          <p>${t("shell.keep.joined", { names: store.joined.map((id) => store.get(id)?.name ?? id).join(", ") })}</p>
          <button type="button" class="plain" @click=${() => store.seen()}>${t("shell.keep.seen")}</button>
        </div>`
      : nothing}
    ${damaged
      ? html`<div class="notice" role="alert">
          <p>${t("shell.keep.damaged", { names: damaged })}</p>
          <a class="plain" href="#/settings">${t("shell.file.take")}</a>
        </div>`
      : nothing}
  `;
}

/** @param {Context} context */
function resting({ offline, store, t }) {
  if (store.shelf.problem) return t(isFull(store) ? "shell.status.full" : "shell.status.not_kept");
  if (offline.phase === "ready") return t("shell.status.ready");
  if (offline.phase === "incomplete") return t("shell.status.incomplete", { files: offline.files, of: offline.ofFiles });
  if (offline.phase === "failed" || offline.phase === "impossible") return t("shell.status.needs_signal");
  return "";
}

/** The line itself. @param {Context} context */
export function statusLine(context) {
  const busy = waiting(context);
  const long = context.answers.since && Date.now() - context.answers.since > LONG && context.boot.state === "ready";
  return html`<div class="status small" role="status">
    <span>${busy || resting(context)}</span>
    ${long ? html`<button type="button" class="link" @click=${() => context.answers.stop()}>${context.t("shell.stop")}</button>` : nothing}
  </div>`;
}

/**
 * What of a load is packed and rides in no bay, in words: "" where there is nothing.
 * @param {{ store: Context["store"], t: Context["t"] }} context @param {Json} load
 */
export function uncountedWords({ store, t }, load) {
  const out = uncounted(load);
  if (!out.length) return "";
  const every = store.all("kit").flatMap(({ items }) => items);
  return t("hand.uncounted", { items: out.map((id) => every.find((/** @type {Json} */ one) => one.id === id)?.name ?? id).join(", ") });
}

/** What may lie in the aeroplane and is in no answer. @param {Context} context */
function notCounted(context) {
  const { plan, place, t } = context;
  const said = plan ? uncountedWords(context, plan.load) : "";
  if (!said) return nothing;
  return html`<div class="notice" role="alert">
    <p><b>${said}</b></p>
    ${place.screen === "load" ? nothing : html`<a class="plain" href="#/load">${t("shell.tab.load")}</a>`}
  </div>`;
}

/** What stands in the way of a current answer, in full: above everything else. @param {Context} context @param {{ form?: string }} [at] the document whose form says what it waits for itself */
export function notices(context, { form = "" } = {}) {
  const { boot, answers, offline, sketches, store, t } = context;
  const refused = answers.refused?.version === store.version ? answers.refused.problem : undefined;
  const drafts = Object.entries(store.drafts).filter(([place, typed]) => typed.trim() !== "" && !typedNow(place) && !(form && place.startsWith(`${form}/`)));
  const sketched = Object.keys(store.sketches).filter((id) => id !== form && sketches.open(id).length);
  return html`
    ${keeping(context)} ${notCounted(context)}
    ${boot.state === "failed"
      ? html`<div class="notice" role="alert">
          <p>${t("shell.boot.failed", { reason: boot.reason })}</p>
          <button type="button" class="plain" @click=${context.retry}>${t("shell.again")}</button>
        </div>`
      : nothing}
    ${refused && boot.state !== "failed"
      ? html`<div class="notice" role="alert">
          <p><b>${t(FAULTS.includes(refused.code) ? "shell.fault" : "shell.refused")}</b> ${refused.message}</p>
          ${placeWords(context, refused.path)}
          <div class="buttons">
            ${store.done.length
              ? html`<button type="button" class="plain" @click=${() => store.undo()}>${undoWords(context)}</button>`
              : nothing}
            <button type="button" class="plain" @click=${() => answers.again()}>${t("shell.again")}</button>
          </div>
        </div>`
      : nothing}
    ${answers.stopped
      ? html`<div class="notice">
          <p>${t("shell.stopped")}</p>
          <button type="button" class="plain" @click=${() => answers.again()}>${t("shell.again")}</button>
        </div>`
      : nothing}
    ${drafts.length
      ? html`<div class="notice">
          ${drafts.map(([place, typed]) => html`<p>${t("shell.entry.not_counted", { typed })} ${wayBack(context, place)}</p>`)}
        </div>`
      : nothing}
    ${sketched.map(
      (id) => html`<div class="notice">
        <p>${t("shell.not_whole", { name: sketches.work(id)?.name ?? "" })}</p>
        <a class="plain" href="#/edit/${encodeURIComponent(id)}">${t("shell.not_whole.see")}</a>
      </div>`,
    )}
    ${offline.update
      ? html`<div class="notice">
          <p>${t("shell.update.there")}</p>
          <a class="plain" href="#/settings">${t("shell.update.see")}</a>
        </div>`
      : nothing}
  `;
}

/** To where something half-typed stands. @param {Context} context @param {string} place of the draft */
function wayBack({ store, plan, t }, place) {
  const to = draftPage(store, place, plan?.trip.id);
  return location.hash === to ? nothing : html`<a class="plain" href=${to}>${t("shell.entry.go_on")}</a>`;
}

/** Where the refusal points, in words. @param {Context} context @param {string | undefined} path */
function placeWords({ store, t }, path) {
  const match = /^\/documents\/(\d+)(.*)$/.exec(path ?? "");
  if (!match) return path ? html`<p class="small">${path}</p>` : nothing;
  const document = [...store.documents.values()][Number(match[1])];
  const place = match[2].split("/").filter(Boolean).join(", ").replace(/_/g, " ");
  return html`<p class="small">${t("shell.refused.where", { document: document?.name ?? "", place })}</p>`;
}

/** @param {Context} context */
const undoWords = ({ store, t, format, plan }) => {
  const last = store.done.at(-1);
  if (!last) return t("shell.undo");
  const what = format.say(last.label);
  // What was done on another leg is not seen here: its number says so.
  if (last.back.length === 0) return t("shell.undo.what", { what });
  const other = plan?.trip.legs.findIndex((/** @type {Json} */ leg) => last.back.every(({ document, pointer }) => isOf(leg, plan.trip, document, pointer)));
  return other === undefined || other < 0 || isOf(plan?.leg, plan?.trip, last.back[0].document, last.back[0].pointer)
    ? t("shell.undo.what", { what })
    : t("shell.undo.of_leg", { what, n: other + 1 });
};

/** Does an edit belong to this leg alone? @param {Json} leg @param {Json} trip @param {string} document @param {string} pointer */
const isOf = (leg, trip, document, pointer) =>
  document === leg.air_from || document === leg.air_to || (document === trip.id && new RegExp(`^/legs/${leg.id}(/|$)`).test(pointer));

/** @param {Context} context */
function undo({ store, sketches }) {
  store.undo();
  sketches.settle(); // what comes back may have been on its way into the documents
}

/** The undo button, when there is something to take back. @param {Context} context */
export const undoButton = (context) =>
  context.store.done.length
    ? html`<button type="button" class="undo" @click=${() => undo(context)}>${undoWords(context)}</button>`
    : nothing;

/** What to say of answers that are not current. @param {Context} context */
export function staleWords({ known, current, unread, answers, t }) {
  if (!known || current) return "";
  if (unread) return t("shell.stale.unread");
  if (known.version === -1) {
    const when = answers.lastTime;
    return t("shell.stale.last_time", { when: `${day(when)} ${clock(when)}`, age: t(age(when).text, age(when).values) });
  }
  // While a finger moves the look alone says it: words that come and go would push the figures about.
  return answers.since ? "" : t("shell.stale.older");
}

/** The verdict and the margin that decides it, while the finger moves. @param {Context} context */
export function follow(context) {
  const { known, current, chosen, t } = context;
  if (!known) return nothing;
  const shown = known.leg.answers.find((/** @type {Json} */ { question }) => question === known.leg.worst) ?? known.leg.answers[2];
  const measure = ruling(shown);
  const verdict = withRunUp(context, known.leg.verdict);
  // the margin beside a verdict is of what decides it
  const said = verdict !== known.leg.verdict ? t("shell.tab.runup") : shown.margin === null || !measure ? "" : marginSigned(shown.margin, measure.dimension, chosen);
  return html`<span class="follow ${current ? "" : "stale"}" aria-live="polite">
    ${verdictLabel(verdict)} ${said ? html`<b>${said}</b>` : nothing}
  </span>`;
}
