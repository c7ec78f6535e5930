// The pilot's side of packing together: the list goes out, ticks and weights come back and are looked at before they count.
import { html, nothing } from "lit";
import { codes, wayIn } from "./codes.js";
import { differences } from "./file.js";
import { amount } from "../parts/words.js";
import { uncounted } from "../state/load.js";
import { valueAt } from "../state/pointer.js";
import { now } from "../state/time.js";
import { notices, uncountedWords, undoButton } from "./status.js";

/** @typedef {import("./context.js").Context} Context @typedef {import("../state/pointer.js").Json} Json */

/** The list of the open leg, as the core made it, for which state of the documents. */
const given = { of: "", text: "", file: "", problem: "" };
/** What came back, held against what is here. */
const back = { of: "", merged: /** @type {Json} */ (undefined), problem: "" };

/** @param {Context} context */
function prepare({ store, plan, core, redraw, boot }) {
  const of = `${plan?.trip.id}/${plan?.leg.id}/${store.version}`;
  if (given.of === of || boot.state !== "ready" || !plan) return;
  // nobody shall read the codes of what was so before
  Object.assign(given, { of, text: "", problem: "" });
  core.ask("hand_over", { documents: store.texts(), trip: plan.trip.id, leg: plan.leg.id, now: now() }, { channel: "hand" }).then(
    (list) => {
      if (given.of !== of) return;
      Object.assign(given, { text: JSON.stringify(list), file: `tussock-list-${list.load}` });
      redraw();
    },
    (problem) => {
      if (given.of !== of) return;
      // overtaken by a newer request: that one says
      if (problem.code === "superseded") given.of = "";
      else Object.assign(given, { text: "", problem: problem.message });
      redraw();
    },
  );
}

/** @param {Context} context */
function hold({ store, core, handed, redraw }) {
  const { format, documents, removed } = store.bundle();
  const of = `${store.version}/${handed.brought}`;
  if (back.of === of) return;
  Object.assign(back, { of, merged: undefined, problem: "" });
  core.ask("take_handed", { mine: { format, version: 1, documents, removed }, message: handed.brought }).then(
    (merged) => {
      if (back.of === of) back.merged = merged;
      redraw();
    },
    (problem) => {
      if (back.of === of) back.problem = problem.message;
      redraw();
    },
  );
}

/** @param {Context} context */
export function handScreen(context) {
  const { plan, handed, t } = context;
  prepare(context);
  return html`
    <header class="head open-head">
      <a class="back" href="#/load"><span aria-hidden="true">‹&nbsp;</span>${t("shell.tab.load")}</a>
      <h1 tabindex="-1">${t("hand.title")}</h1>
    </header>
    ${notices(context)} ${handed.brought ? brought(context) : nothing}
    <section class="block stack">
      <h2>${t("hand.out")}</h2>
      ${given.problem ? html`<p class="wrong" role="alert">${given.problem}</p>` : given.text ? codes(context, given) : html`<p role="status">${t("hand.making")}</p>`}
      <p>${t("hand.out_about", { name: plan?.load?.name ?? "" })}</p>
    </section>
    <section class="block stack">
      <h2>${t("hand.back")}</h2>
      <p>${t("hand.back_about")}</p>
      ${wayIn(context, { label: t("hand.scan_back"), whole: (what) => what === "list" && (location.hash = "#/bring") })}
      ${undoButton(context)}
    </section>
  `;
}

/** The load that a place in a trip is in, as it would be with what came back. @param {Json} merged @param {Json} change */
function loadIn(merged, { document, pointer }) {
  const trip = merged.documents.find((/** @type {Json} */ { id }) => id === document);
  return trip && valueAt(trip, pointer.split("/").slice(0, 3).join("/"));
}

/** What would lie packed and in no bay of the load that came back, in words. @param {Context} context @param {Json} merged */
function uncountedIn({ store, handed, t }, merged) {
  const { trip, load } = JSON.parse(handed.brought);
  const one = [...merged.documents, store.get(trip)].find((document) => document?.id === trip)?.loads?.find((/** @type {Json} */ { id }) => id === load);
  return one ? uncountedWords({ store, t }, one) : "";
}

/**
 * What the passenger did to a thing, in a line: "" where there is nothing to say, undefined where the general words do.
 * @param {Context} context @param {Json} merged @param {Json} change @param {(id: string) => string} named
 */
function deedWords({ t, chosen }, merged, change, named) {
  const { pointer, kind, within, before, after } = change;
  if (kind === "conflict") return undefined;
  const field = /^\/loads\/[^/]+\/placed\/[^/]+\/(bay|packed|weighed|inside)$/.exec(pointer)?.[1];
  // The join may put a list in another order; nobody did that.
  if (!field) return /^\/loads(\/[^/]+\/placed)?$/.test(pointer) ? "" : undefined;
  const name = named(within.at(-1));
  if (field === "bay") return after === null ? t("hand.came.home", { name }) : undefined;
  if (field === "inside") return after === null ? t("hand.came.out", { name, bag: named(before) }) : undefined;
  if (field === "packed") return t(!after ? "hand.came.unpacked" : uncounted(loadIn(merged, change)).includes(within.at(-1)) ? "hand.came.uncounted" : "hand.came.packed", { name });
  return after ? t(after.holding?.length ? "hand.came.weighs_whole" : "hand.came.weighs", { name, mass: amount(after.value, "mass", chosen) }) : undefined;
}

/** What came back, and whether to take it. @param {Context} context */
function brought(context) {
  const { store, handed, t, boot } = context;
  if (boot.state === "ready") hold(context);
  const { merged, problem } = back;
  const out = merged ? uncountedIn(context, merged) : "";
  const take = () => {
    store.take(merged, { text: "hand.undo" });
    handed.seen();
    context.turn({ said: out ? `${t("hand.taken_only")} ${out}` : t("hand.taken") });
  };
  const any = merged && merged.documents.length + merged.gone.length > 0;
  return html`<section class="notice" aria-label=${t("hand.came")}>
    <h2>${t("hand.came")}</h2>
    ${problem ? html`<p class="wrong" role="alert">${problem}</p>` : merged ? html`${out ? html`<p class="wrong"><b>${out}</b></p>` : nothing}${differences(context, { merged }, (change, named) => deedWords(context, merged, change, named))}` : html`<p role="status">${t("shell.file.checking")}</p>`}
    <div class="buttons">
      ${any ? html`<button type="button" class="plain strong" @click=${take}>${t("device.file.merge")}</button>` : nothing}
      ${merged || problem ? html`<button type="button" class="plain" @click=${() => handed.seen()}>${t("shell.file.leave")}</button>` : nothing}
    </div>
  </section>`;
}
