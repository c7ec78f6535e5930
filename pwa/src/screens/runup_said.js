// What the run-up said of a leg, wherever it is asked whether to go: its answers are of an engine that gives its torque.
import { html, nothing } from "lit";
import { worseOf } from "../parts/verdict.js";
import { words } from "../parts/words.js";
import { doubt } from "../state/runup.js";
import { briefly } from "../state/time.js";

/** @typedef {import("./context.js").Context} Context @typedef {import("../state/pointer.js").Json} Json */

/** @param {Json} trip @param {Json} leg */
export const runUpKey = (trip, leg) => `${trip.id}/${leg.id}`;

/** The open leg's reading that speaks against going. @param {Context} context */
const runUpDoubt = ({ store, plan }) => (plan ? doubt(store.device.runups, runUpKey(plan.trip, plan.leg)) : undefined);

/**
 * A leg's verdict, no better than its run-up; undefined while there is none.
 * @param {Context} context @param {string | undefined} verdict @param {Json} [trip] @param {Json} [leg] the open one where none is given
 */
export function withRunUp({ store, plan }, verdict, trip = plan?.trip, leg = plan?.leg) {
  const said = trip && leg ? doubt(store.device.runups, runUpKey(trip, leg)) : undefined;
  return verdict && said ? worseOf(verdict, said.verdict) : verdict;
}

/** The answers of which the torque decides. */
export const TORQUE = ["lifts_off", "climbs_out"];

/** The verdict of one answer of the open leg, no better than its run-up where the torque decides. @param {Context} context @param {Json} answer */
export const ofTorque = (context, answer) => (TORQUE.includes(answer?.question) ? withRunUp(context, answer.verdict) : answer?.verdict);

/** @param {Context} context */
export function runUpNotice(context) {
  const { t, chosen } = context;
  const said = runUpDoubt(context);
  if (!said) return nothing;
  return html`<div class="notice runup-said" role="alert">
    <p><b>${t("tuned.run_up_at", { at: briefly(said.at) })}</b> ${words(said.reason, chosen)}</p>
    <a class="plain" href="#/runup">${t("shell.tab.runup")}</a>
  </div>`;
}
