// Pack for me: all six of what was chosen first, then what stays and why, then what goes where; take it or leave it.
import { html, nothing } from "lit";
import { choice } from "../parts/choice.js";
import { verdictLabel } from "../parts/verdict.js";
import { amount, words } from "../parts/words.js";
import { byId } from "../state/plan.js";
import { after, allUpOf, bayLimit, leastOf, sharedOf } from "../state/room.js";
import { notices, undoButton } from "./status.js";
import { figuresBar } from "./spare.js";

/** @typedef {import("./context.js").Context} Context @typedef {import("../state/pointer.js").Json} Json */

/** What is chosen from: "load" or "all". */
let from = "load";

/** @param {Context} context */
export function packScreen(context) {
  const { plan, packing, boot, t } = context;
  if (!plan?.load) return html`<p class="block">${t("shell.load.none")}</p>`;
  const [trip, leg] = [plan.trip.id, plan.leg.id];
  const everything = from === "all";
  const run = packing.now?.of === packing.of(trip, leg) && packing.now.everything === everything ? packing.now : undefined;
  const begin = () => packing.begin(trip, leg, everything);
  return html`
    <header class="head open-head">
      <a class="back" href="#/load"><span aria-hidden="true">‹&nbsp;</span>${t("shell.tab.load")}</a>
      <h1 tabindex="-1">${t("pack.title")}</h1>
    </header>
    ${notices(context)}
    <section class="block stack">
      ${choice({
        name: "pack-from",
        label: t("pack.from"),
        value: from,
        options: ["load", "all"].map((value) => ({ value, label: t(`pack.from.${value}`) })),
        set: (value) => {
          from = value;
          context.redraw();
        },
      })}
    </section>
    ${run
      ? html`${told(context, run, begin)} ${run.taken ? [outcome(context, run), stays(context, run), bays(context, run)] : nothing}`
      : html`<section class="block stack">
          <p>${t("pack.about")}</p>
          <div class="buttons"><button type="button" class="plain strong" ?disabled=${boot.state !== "ready"} @click=${begin}>${t("pack.begin")}</button></div>
          ${undoButton(context)}
        </section>`}
  `;
}

/** How far it is, and how good the choice is proven to be. @param {Context} context @param {import("../state/packing.js").Packed} run @param {() => void} begin */
function told({ packing, t, chosen }, run, begin) {
  const { stage, taken, bound, proven } = run;
  const worth = taken?.worth ?? 0;
  const gap = !proven && taken && bound !== undefined && bound > worth ? (bound - worth) / Math.max(worth, 1) : 0;
  const best = taken && (proven || bound === worth);
  return html`<section class="block stack pack-told" aria-live="polite">
    <p role="status">
      <b>${t(`pack.stage.${stage}`)}</b>
      ${taken ? html`<span>${best ? t("pack.proven") : gap > 0 ? t("pack.gap", { gap }) : t("pack.unproven")}</span>` : nothing}
    </p>
    ${run.problem ? html`<p class="wrong" role="alert">${run.problem}</p>` : nothing}
    ${stage === "impossible" ? html`<ul>${(run.begun?.nowhere ?? []).map((/** @type {Json} */ one) => html`<li><b>${one.name}</b> ${words(one.reason, chosen)}</li>`)}</ul>` : nothing}
    <div class="buttons">
      ${packing.busy ? html`<button type="button" class="plain" @click=${() => packing.stop()}>${t("shell.stop")}</button>` : nothing}
      ${stage === "stopped" || stage === "failed" ? html`<button type="button" class="plain" @click=${begin}>${t("shell.again")}</button>` : nothing}
    </div>
  </section>`;
}

/** All six on every leg that is flown with it, and the yes or no to it. @param {Context} context @param {import("../state/packing.js").Packed} run */
function outcome(context, run) {
  const { store, t, packing, chosen } = context;
  const { taken } = run;
  const take = () => {
    store.edit(taken.edits, taken.change, `pack-${Date.now()}`);
    location.hash = "#/load";
  };
  return html`<section class="block stack">
    ${taken.legs.map(
      (/** @type {Json} */ leg) => html`<div class="pack-leg">
        <h2>${titleOf(context, leg)} ${verdictLabel(leg.verdict)}</h2>
        <ul class="pack-six">
          ${leg.answers.map((/** @type {Json} */ one) => html`<li><span>${t(`question.${one.question}`)}</span>${verdictLabel(one.verdict)}</li>`)}
        </ul>
      </div>`,
    )}
    ${run.cuts?.unguarded ? html`<p>${t("pack.unguarded")}</p>` : nothing}
    ${taken.holds
      ? nothing
      : html`<p class="wrong">${t("pack.not_enough")}</p>
          <ul class="said">
            ${failing(taken.legs).map(
              ({ leg, answer }) => html`<li>${taken.legs.length > 1 ? html`${titleOf(context, leg)}, ` : nothing}<b>${t(`question.${answer.question}`)}</b> ${t(`verdict.${answer.verdict}`)}${answer.reason?.[0] ? html`: ${words(answer.reason[0], chosen)}` : nothing}</li>`,
            )}
          </ul>`}
    <div class="buttons">
      <button type="button" class="plain strong" ?disabled=${!taken.edits.length || packing.busy} @click=${take}>${t(taken.edits.length ? "pack.take" : "pack.same")}</button>
      <a class="plain" href="#/load">${t("pack.leave")}</a>
    </div>
  </section>`;
}

/** A leg by the name that it was given, else from where to where. @param {Context} context @param {Json} told */
function titleOf({ store, plan }, told) {
  const leg = byId(plan?.trip.legs, told.id);
  return leg && !leg.name ? `${store.get(leg.from_strip)?.name ?? "–"} → ${store.get(leg.to_strip)?.name ?? "–"}` : told.name;
}

/** What is still no, or not to be said, however little comes. @param {Json[]} legs @returns {{ leg: Json, answer: Json }[]} */
const failing = (legs) => legs.flatMap((leg) => leg.answers.filter((/** @type {Json} */ { verdict }) => verdict === "no" || verdict === "can't say").map((/** @type {Json} */ answer) => ({ leg, answer })));

/** What stays behind, each with its reason. @param {Context} context @param {import("../state/packing.js").Packed} run */
function stays(context, run) {
  const { plan, packing, chosen, t } = context;
  if (!plan) return nothing;
  const mass = run.taken.stays.reduce((/** @type {number} */ sum, /** @type {Json} */ one) => sum + (one.mass ?? 0), 0);
  return html`<section class="block stack">
    <h2>${t("pack.stays")}</h2>
    ${run.taken.stays.length ? html`<p>${t("pack.stays_total", { n: run.taken.stays.length, mass })}</p>` : html`<p>${t("pack.stays_none")}</p>`}
    <ul class="pack-list">
      ${run.taken.stays.map((/** @type {Json} */ one) => {
        const why = run.why[one.item];
        return html`<li>
          <span class="pack-item"><b>${one.name}</b><span>${one.mass === null ? t("shell.unsaid") : amount(one.mass, "mass", chosen)}</span></span>
          ${why
            ? html`<span aria-live="polite">
                ${(why.breaks ?? []).map((/** @type {Json} */ said) => html`<span class="pack-why">${words(said, chosen)}</span>`)}
                ${why.busy ? html`<span class="small">${t("pack.why_busy")}</span>` : nothing}
                ${why.swap ? html`<span class="pack-why">${words(why.swap.said, chosen)} ${verdictLabel(why.swap.verdict)}</span>` : nothing}
                ${why.none ? html`<span class="pack-why">${t("pack.no_swap")}</span>` : nothing} ${why.problem ? html`<span class="wrong">${why.problem}</span>` : nothing}
              </span>`
            : html`<button type="button" class="link" ?disabled=${packing.busy} aria-label=${t("pack.why_of", { name: one.name })} @click=${() => packing.why(plan.trip.id, plan.leg.id, one.item)}>
                ${t("pack.why")}
              </button>`}
        </li>`;
      })}
    </ul>
  </section>`;
}

/** What goes where. @param {Context} context @param {import("../state/packing.js").Packed} run */
function bays(context, run) {
  const { chosen, t, known, current, plan } = context;
  // What people and fuel take of a limit was measured with the load as it is now.
  const [fits, balances] = (current && known?.leg.answers) || [];
  const before = fits?.picture?.bays ?? [];
  const shared = sharedOf(plan?.aeroplane, balances).map((one) => after(one, before, run.taken.bays));
  const all = allUpOf(balances).map((one) => after(one, before, run.taken.bays));
  const allUp = balances ? leastOf(all) : { needed: null, available: null };
  return html`<section class="block stack">
    <h2>${t("pack.where")}</h2>
    ${allUp ? figuresBar(context, t("shell.load.all_up"), allUp.needed, allUp.available, "mass") : nothing}
    ${shared.map(
      (one) => html`<div class="shared">
        <h3>${one.name}</h3>
        ${figuresBar(context, t("shell.load.mass"), one.needed, one.available, "mass")}
      </div>`,
    )}
    ${run.taken.bays.map((/** @type {Json} */ bay) => {
      const inside = run.taken.comes.filter((/** @type {Json} */ one) => one.bay === bay.id);
      return html`<div class="bay">
        <h3>${bay.name}</h3>
        ${figuresBar(context, t("shell.load.mass"), bay.mass, bayLimit(bay, shared, all), "mass")} ${figuresBar(context, t("shell.load.bulk"), bay.bulk, bay.volume, "bulk")}
        <ul class="pack-list">
          ${inside.map(
            (/** @type {Json} */ one) => html`<li>
              <span class="pack-item"><span>${one.name}${one.with ? html` <span class="small">${t("shell.load.with", { items: one.with.join(", ") })}</span>` : nothing}${one.was === one.bay ? nothing : html` <b class="small">${t("pack.moved")}</b>`}</span><span>${amount(one.mass, "mass", chosen)}</span></span>
            </li>`,
          )}
        </ul>
      </div>`;
    })}
  </section>`;
}
