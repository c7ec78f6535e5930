// Before the doors close: what is aboard, line by line, to be looked at and ticked. Another load opens all of it again.
import { html, nothing } from "lit";
import { tickBox } from "../parts/select.js";
import { words } from "../parts/words.js";
import { staleWords } from "./status.js";

/** @typedef {import("./context.js").Context} Context @typedef {import("../state/pointer.js").Json} Json */

/** The lines of a leg, as they are read. @param {Json} leg @param {Context["chosen"]} chosen @returns {string[]} */
export const doorLines = (leg, chosen) => [...new Set(/** @type {string[]} */ ((leg?.before_doors ?? []).map((/** @type {Json} */ line) => words(line, chosen))))];

/** What was looked at longer ago is looked at again. [ms] */
const COUNTS = 12 * 3_600_000;

/** Ticks that still count, by leg. @param {Context["store"]["device"]["doors"]} kept */
const fresh = (kept = {}) => Object.fromEntries(Object.entries(kept).filter(([, { at }]) => Math.abs(Date.now() - at) < COUNTS));

/** @param {Context} context */
export function doorsScreen(context) {
  const { plan, known, current, chosen, store, t } = context;
  const lines = doorLines(known?.leg, chosen);
  const stale = staleWords(context);
  // what was ticked is of this leg with this load: another line anywhere and it is another list
  const leg = `${plan?.trip.id}/${plan?.leg.id}`;
  const of = JSON.stringify([plan?.aeroplane?.id, plan?.configuration?.id, plan?.load?.placed, plan?.load?.seats, known?.leg.before_doors]);
  const kept = fresh(store.device.doors);
  const seen = kept[leg]?.of === of ? kept[leg].seen : [];
  const left = lines.filter((line) => !seen.includes(line)).length;
  const keep = (/** @type {string[]} */ next) => store.setDevice({ doors: { ...kept, [leg]: { of, at: Date.now(), seen: next } } });
  const turn = (/** @type {string} */ line) => keep(seen.includes(line) ? seen.filter((one) => one !== line) : [...seen, line]);
  return html`
    <header class="head open-head">
      <a class="back" href="#/load"><span aria-hidden="true">‹&nbsp;</span>${t("shell.tab.load")}</a>
      <h1 tabindex="-1">${t("shell.tab.doors")}</h1>
    </header>
    ${lines.length
      ? html`<section class="block stack ${current ? "" : "stale"}">
            ${stale ? html`<p class="stale-word">${stale}</p>` : nothing}
            <p class="headline-big" role="status">${left ? t("doors.left", { n: left }) : t("doors.done")}</p>
            <ul class="doors">
              ${lines.map((line) => html`<li>${tickBox({ ticked: seen.includes(line), disabled: !current, label: line, turn: () => turn(line) })}</li>`)}
            </ul>
            ${seen.length ? html`<div class="buttons"><button type="button" class="plain" @click=${() => keep([])}>${t("doors.again")}</button></div>` : nothing}
          </section>
          <p class="block small">${t("doors.about")}</p>`
      : html`<p class="block">${t("shell.not_yet")}</p>`}
    <p class="caution">${t("caution")}</p>
  `;
}
