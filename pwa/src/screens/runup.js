// The run-up check, at the strip with the engine running: static rotation in, whether the torque is all there out.
import { html, nothing } from "lit";
import { loose, looseValue } from "../forms/loose.js";
import { linkTo } from "../forms/readiness.js";
import { choice } from "../parts/choice.js";
import { verdictLabel } from "../parts/verdict.js";
import { workingStep } from "../parts/working.js";
import { amount, words } from "../parts/words.js";
import { Asked } from "../state/asked.js";
import { standing } from "../state/runup.js";
import { briefly, now } from "../state/time.js";
import { runUpKey } from "./runup_said.js";
import { wayTo } from "./where.js";

/** @typedef {import("./context.js").Context} Context @typedef {import("../state/pointer.js").Json} Json */

const asked = new Asked("run_up");
const ROTATION = { si: "1/s", low: 0, high: 200, above: true };

/** So long after the last touch of a key what stands there is a reading, were the field never left. [ms] */
const PAUSE = 1500;

/** What stands in the field, of which leg; another leg is another run-up. */
const reading = { leg: "", typed: "", unit: "rpm", way: "along", touched: false };
/** @type {ReturnType<typeof setTimeout> | undefined} */
let pause;
/** A reading that the core has not judged yet: only then it takes an older one's place. @type {undefined | { leg: string, typed: string, unit: string, way: string, at: string }} */
let fresh;
const judged = new Asked("run_up", "run-up-kept");

/** @param {{ typed: string, unit: string, way: string }} one @param {{ typed: string, unit: string, way: string } | undefined} other */
const same = (one, other) => other !== undefined && one.typed === other.typed && one.unit === other.unit && one.way === other.way;

/** What stands in the field is a reading now. @param {Context} context */
function settle({ redraw }) {
  clearTimeout(pause);
  if (!reading.touched || looseValue({ ...reading, quantity: ROTATION }).value === undefined) return;
  const { leg, typed, unit, way } = reading;
  reading.touched = false;
  fresh = { leg, typed, unit, way, at: now() };
  redraw();
}

/** @param {Context} context @param {string} leg @param {typeof fresh & {}} one @param {Json} found */
function keep({ store }, leg, { typed, unit, way, at }, found) {
  const [reason] = found.reasons;
  // no baseline, no air: nothing was told by the reading, for or against
  const tells = found.expected !== null || reason?.text === "reason.run_up_outside";
  store.setDevice({ runups: { ...standing(store.device.runups), [leg]: { typed, unit, way, at, verdict: found.verdict, reason, tells } } });
}

/** @param {Context} context @param {{ way: string }} one @param {number} value */
const question = ({ plan, store }, one, value) => ({ documents: store.texts(), trip: plan?.trip.id, leg: plan?.leg.id, now: now(), rotation: value, across: one.way === "across" });

/** Have a reading judged and kept, whichever screen is open by then. @param {Context} context */
export function keepRunUp(context) {
  const { plan, place, store } = context;
  if (!plan) return;
  const leg = runUpKey(plan.trip, plan.leg);
  // gone from the screen without leaving the field
  if (place.screen !== "runup" && reading.leg === leg && reading.touched) queueMicrotask(() => settle(context));
  const one = fresh;
  if (one?.leg !== leg) return;
  const { value = 0 } = looseValue({ ...one, quantity: ROTATION });
  const { found } = judged.now(context, `${store.version}/${leg}/${value}/${one.way}/${one.at}`, () => question(context, one, value));
  if (!found) return;
  // a drawing does not change what it draws
  queueMicrotask(() => {
    if (fresh !== one) return;
    fresh = undefined;
    keep(context, leg, one, found);
  });
}

/** @param {Context} context */
export function runUpScreen(context) {
  const { plan, store, t } = context;
  if (!plan) return nothing;
  // Nothing to be read there: the governor holds the rotation whatever the engine gives.
  if (plan.aeroplane?.propeller?.pitch_is === "constant_speed") {
    return html`${head(context)}
      <section class="block lead"><p class="headline-big">${t("reason.run_up_governed")}</p></section>
      <p class="caution">${t("caution")}</p>`;
  }
  const leg = runUpKey(plan.trip, plan.leg);
  const kept = standing(store.device.runups)[leg];
  // what stood here on another day, or before the trip was put in its own place, is no reading of now
  const over = !kept && !reading.touched && fresh?.leg !== leg;
  if (reading.leg !== leg || over) Object.assign(reading, { leg, typed: kept?.typed ?? "", unit: kept?.unit ?? reading.unit, way: kept?.way ?? "along", touched: false });
  const { value } = looseValue({ ...reading, quantity: ROTATION });
  const { found, problem } =
    value === undefined
      ? { found: undefined, problem: "" }
      : asked.now(context, `${store.version}/${leg}/${value}/${reading.way}`, () => question(context, reading, value));
  // other air, another baseline: the same reading says something else
  if (found && kept && same(reading, kept) && JSON.stringify([found.verdict, found.reasons[0]]) !== JSON.stringify([kept.verdict, kept.reason])) queueMicrotask(() => keep(context, leg, { leg, ...kept }, found));
  const put = (/** @type {string} */ typed, /** @type {string} */ unit) => {
    Object.assign(reading, { typed, unit, touched: true });
    clearTimeout(pause);
    pause = setTimeout(() => settle(context), PAUSE);
    context.redraw();
  };
  const clear = () => {
    clearTimeout(pause);
    fresh = undefined;
    Object.assign(reading, { typed: "", touched: false });
    const { [leg]: _, ...others } = standing(store.device.runups);
    store.setDevice({ runups: others });
  };
  return html`
    ${head(context, found)}
    <section class="block stack runup" @change=${() => settle(context)}>
      ${loose({ id: "run-up-rotation", label: t("tuned.rotation"), dimension: "rotation", quantity: ROTATION, ...reading, put })}
      ${choice({
        name: "run-up-way",
        label: t("tuned.way"),
        value: reading.way,
        options: ["across", "along"].map((way) => ({ value: way, label: t(`tuned.way.${way}`) })),
        set: (way) => {
          Object.assign(reading, { way, touched: true });
          context.redraw();
        },
      })}
      ${kept
        ? html`<div class="buttons">
            <span>${t("tuned.run_up_kept", { at: briefly(kept.at), typed: kept.typed, unit: kept.unit })}</span>
            <button type="button" class="plain" @click=${clear}>${t("tuned.run_up_clear")}</button>
          </div>`
        : nothing}
      <p class="small">${t("tuned.run_up_how", { strip: plan.from?.name ?? "" })}</p>
    </section>
    <div aria-live="polite">
      ${problem
        ? html`<p class="block wrong">${problem}</p>`
        : found
          ? result(context, found)
          : value === undefined
            ? nothing
            : html`<p class="block">${t(context.boot.state === "ready" ? "shell.status.working" : "device.sums.starting")}</p>`}
    </div>
    <p class="caution">${t("caution")}</p>
  `;
}

/** @param {Context} context @param {Json} [found] */
function head({ t }, found) {
  return html`<header class="head open-head">
    <a class="back" href="#/answer/lifts_off"><span aria-hidden="true">‹&nbsp;</span>${t("question.lifts_off")}</a>
    <h1 tabindex="-1">${t("shell.tab.runup")}</h1>
    ${found ? verdictLabel(found.verdict) : nothing}
  </header>`;
}

/** @param {Context} context @param {Json} found */
function result(context, found) {
  const { t, chosen, plan } = context;
  const rpm = (/** @type {number} */ value) => amount(value, "rotation", chosen);
  const baseline = found.reasons.some((/** @type {Json} */ { text }) => text === "tune.no_baseline");
  return html`
    <section class="block lead">
      ${found.reasons.map((/** @type {Json} */ reason, /** @type {number} */ i) => html`<p class=${i ? "" : "headline-big"}>${words(reason, chosen)}</p>${wayTo(context, reason)}`)}
      ${baseline && plan?.aeroplane ? html`<a class="plain way-to" href=${linkTo(plan.aeroplane.id, "/run_up")}>${t("shell.give_it")}</a>` : nothing}
      ${found.notes.map((/** @type {Json} */ note) => html`<p><b>${words(note, chosen)}</b></p>${note.text === "note.run_up_air" ? html`<a class="plain" href="#/air">${t("shell.tab.air")}</a>` : nothing}`)}
    </section>
    ${found.expected === null
      ? nothing
      : html`<section class="block">
          <ul class="tuned-list">
            <li class="tuned-row"><span class="tuned-name">${t("tuned.expected")}</span><b>${rpm(found.expected)}</b></li>
            <li class="tuned-row"><span class="tuned-name">${t("tuned.seen")}</span><b>${rpm(found.rotation)}</b></li>
            ${found.roll
              ? html`<li class="tuned-row">
                  <span class="tuned-name">${t("tuned.roll")}</span
                  ><b>${found.roll.after === null ? t("tuned.roll_never") : t("tuned.roll_from_to", { before: amount(found.roll.before, "length", chosen), after: amount(found.roll.after, "length", chosen) })}</b>
                  <span class="small">${t("tuned.roll_by", { source: found.roll.source })}</span>
                </li>`
              : nothing}
          </ul>
        </section>`}
    <section class="block">
      <ul class="said">
        ${found.assumptions.map((/** @type {Json} */ one) => html`<li>${words(one, chosen)}</li>`)}
      </ul>
    </section>
    ${found.working.length
      ? html`<details class="block more">
          <summary>${t("shell.working", { n: found.working.length })}</summary>
          <ol class="working">
            ${found.working.map((/** @type {Json} */ step) => workingStep(step, chosen))}
          </ol>
        </details>`
      : nothing}
  `;
}
