// What of a leg is chosen by touch: the leg itself, the directions, the aeroplane, its configuration and flap.
import { html, nothing } from "lit";
import { choice } from "../parts/choice.js";
import { amount } from "../parts/words.js";
import { swapped } from "../state/swap.js";

/** @typedef {import("./context.js").Context} Context */
/** @typedef {import("../state/pointer.js").Json} Json */

/**
 * @param {Context} context
 * @param {{ legs?: boolean }} [options]
 */
export function pickers(context, { legs = true } = {}) {
  const { store, t } = context;
  const plan = /** @type {NonNullable<Context["plan"]>} */ (context.plan);
  const { trip, leg, from, to } = plan;
  return html`<div class="pickers">
    ${legs && trip.legs.length > 1
      ? choice({
          name: "leg",
          label: t("shell.leg"),
          value: leg.id,
          options: trip.legs.map((/** @type {Json} */ one, /** @type {number} */ index) => ({
            value: one.id,
            label: t("shell.leg.named", {
              n: index + 1,
              from: store.get(one.from_strip)?.name ?? "",
              to: store.get(one.to_strip)?.name ?? "",
            }),
          })),
          set: (id) => store.show({ trip: trip.id, leg: id }),
        })
      : nothing}
    ${directionChoice(context, from, "takeoff")} ${directionChoice(context, to, "landing")} ${aeroplaneChoice(context)}
    ${flapChoice(context, "takeoff")} ${flapChoice(context, "landing")}
  </div>`;
}

/**
 * One-way strips stay one-way: what is not for this use is shown and can't be chosen.
 * @param {Context} context
 * @param {Json} strip
 * @param {"takeoff" | "landing"} phase
 */
function directionChoice(context, strip, phase) {
  const { t, chosen, plan } = context;
  if (!strip || !plan) return nothing;
  const { leg, trip } = plan;
  const options = strip.directions.map((/** @type {Json} */ direction) => {
    const usable = direction.use === "both" || direction.use === phase;
    const length = direction[`${phase}_length`] ?? strip.ground.length;
    return {
      value: direction.id,
      label: direction.designator,
      note: usable ? (length ? amount(length.value, "length", chosen) : "") : t(`shell.use.${direction.use}`),
      disabled: !usable,
    };
  });
  return choice({
    name: phase,
    label: t(`shell.direction.${phase}`, { strip: strip.name }),
    value: leg[`${phase}_direction`],
    options,
    set: (id) =>
      context.edit(trip.id, `/legs/${leg.id}/${phase}_direction`, id, `shell.undo.${phase}_direction`, { strip: strip.name }),
  });
}

/** @param {Context} context */
function aeroplaneChoice(context) {
  const { store, t, plan } = context;
  if (!plan) return nothing;
  const { trip, leg, aeroplane, configuration } = plan;
  const planes = store.all("aeroplane");
  const owner = leg.configuration || leg.aeroplane ? `/legs/${leg.id}/configuration` : "/configuration";
  return html`
    ${planes.length > 1
      ? choice({
          name: "aeroplane",
          label: t("shell.aeroplane"),
          value: aeroplane?.id,
          options: planes.map(({ id, name }) => ({ value: id, label: name })),
          set: (id) => changeAeroplane(context, id),
        })
      : nothing}
    ${aeroplane && aeroplane.configurations.length > 1
      ? choice({
          name: "configuration",
          label: t("shell.configuration"),
          value: configuration?.id,
          options: aeroplane.configurations.map((/** @type {Json} */ { id, name }) => ({ value: id, label: name })),
          set: (id) => context.edit(trip.id, owner, id, "shell.undo.configuration"),
        })
      : nothing}
  `;
}

/** @param {Context} context @param {string} id */
async function changeAeroplane({ store, plan }, id) {
  if (!plan) return;
  const key = `swap-${plan.trip.id}`;
  const { changes, memory } = swapped(store, plan.trip, plan.leg, id, await store.kept(key));
  store.keep(key, memory);
  store.edit(changes, { text: "shell.undo.aeroplane", values: { name: store.get(id).name } });
}

/** @param {Context} context @param {"takeoff" | "landing"} phase */
function flapChoice(context, phase) {
  const { t, plan } = context;
  const flaps = (plan?.aeroplane?.flaps ?? []).filter((/** @type {Json} */ { used_for }) => !used_for?.length || used_for.includes(phase));
  // One flap setting alone is still to be chosen: it may not be the one that is flown.
  if (!plan || flaps.length < (plan.leg[`${phase}_flap`] ? 2 : 1)) return nothing;
  return choice({
    name: `${phase}-flap`,
    label: t(`shell.flap.${phase}`),
    value: plan.leg[`${phase}_flap`],
    options: flaps.map((/** @type {Json} */ { id, name }) => ({ value: id, label: name })),
    set: (id) => context.edit(plan.trip.id, `/legs/${plan.leg.id}/${phase}_flap`, id, `shell.undo.${phase}_flap`),
  });
}
