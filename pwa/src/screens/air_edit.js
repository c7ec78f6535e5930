// What the entries of the air share: setting a figure, its age, and what the core says against it.
import { airChanges, setAt } from "../state/air.js";
import { age, iso } from "../state/time.js";

/** @typedef {import("./context.js").Context} Context */
/** @typedef {import("../state/pointer.js").Json} Json */

/** @param {Context} context @param {string} field @param {any} value @param {string} [label] */
export function set({ store, plan, ui }, field, value, label = field) {
  if (!plan) return;
  const changes = airChanges(store, plan.trip, plan.leg, ui.end, field, value);
  store.edit(changes, { text: `shell.undo.${label}` }, `air-${ui.end}-${field}-${plan.leg.id}`);
}

/** When this figure was read, if the reading is of different ages. @param {Context} context @param {Json} air @param {string} field */
export function when({ t }, air, field) {
  if (!air?.[field]) return undefined;
  const at = iso(setAt(air, field));
  return t(age(at).text, age(at).values);
}

/** What the core says against a field of this document. @param {Context} context @param {Json} air @param {string} path */
export function refusal({ answers, store }, air, path) {
  const refused = answers.refused;
  if (!air || !refused || refused.version !== store.version) return undefined;
  const index = [...store.documents.keys()].indexOf(air.id);
  return refused.problem.path?.startsWith(`/documents/${index}${path}`) ? refused.problem.message : undefined;
}
