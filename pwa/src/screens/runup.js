// The run-up check, at the strip with the engine running: static rotation in, whether the torque is all there out.
import { html, nothing } from "lit";
import { loose, looseValue } from "../forms/loose.js";
import { linkTo } from "../forms/readiness.js";
import { choice } from "../parts/choice.js";
import { verdictLabel } from "../parts/verdict.js";
import { workingStep } from "../parts/working.js";
import { amount, words } from "../parts/words.js";
import { Asked } from "../state/asked.js";
import { now } from "../state/time.js";
import { wayTo } from "./where.js";

/** @typedef {import("./context.js").Context} Context @typedef {import("../state/pointer.js").Json} Json */

const asked = new Asked("run_up");
const ROTATION = { si: "1/s", low: 0, high: 200, above: true };

/** The dial's last reading, of which leg; another leg is another run-up. */
const reading = { leg: "", typed: "", unit: "rpm", way: "along" };

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
  const leg = `${plan.trip.id}/${plan.leg.id}`;
  if (reading.leg !== leg) Object.assign(reading, { leg, typed: "", way: "along" });
  const { value } = looseValue({ ...reading, quantity: ROTATION });
  const { found, problem } =
    value === undefined
      ? { found: undefined, problem: "" }
      : asked.now(context, `${store.version}/${leg}/${value}/${reading.way}`, () => ({ documents: store.texts(), trip: plan.trip.id, leg: plan.leg.id, now: now(), rotation: value, across: reading.way === "across" }));
  const put = (/** @type {string} */ typed, /** @type {string} */ unit) => {
    Object.assign(reading, { typed, unit });
    context.redraw();
  };
  return html`
    ${head(context, found)}
    <section class="block stack runup">
      ${loose({ id: "run-up-rotation", label: t("tuned.rotation"), dimension: "rotation", quantity: ROTATION, ...reading, put })}
      ${choice({
        name: "run-up-way",
        label: t("tuned.way"),
        value: reading.way,
        options: ["across", "along"].map((way) => ({ value: way, label: t(`tuned.way.${way}`) })),
        set: (way) => {
          reading.way = way;
          context.redraw();
        },
      })}
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
