// The smallest changes that would turn the answer: they come second, and each can be applied and taken back.
import { html, nothing } from "lit";
import { verdictLabel } from "../parts/verdict.js";
import { marginAmount } from "../parts/margin.js";
import { words } from "../parts/words.js";
import { openLeg } from "../state/plan.js";

/** @typedef {import("./context.js").Context} Context */
/** @typedef {import("../state/pointer.js").Json} Json */

/** Remedies by what is aboard, and the questions that the load alone answers. */
const LOAD = ["mass", "move"];
export const LOADED = ["fits", "balances"];

/** All of the load chosen anew, not only one change of it. @param {Context} context */
export const packLink = ({ t }) => html`<p class="buttons"><a class="plain" href="#/pack">${t("pack.title")}</a></p>`;

/**
 * @param {Context} context
 * @param {string} [question] only those that turn this one
 */
export function remediesList(context, question) {
  const { answers, store, known, current, t } = context;
  const leg = openLeg(store)?.id;
  const found = answers.remedies.get(leg);
  const fresh = found?.version === store.version && current;
  if (!known || known.leg.verdict === "yes") return nothing;
  if (!found) return nothing;
  // What was found for other documents is of no use, and a touch on it would do something else than it says.
  if (found.version !== store.version) return nothing;
  const list = question ? found.list.filter(({ turns }) => turns.includes(question)) : found.list;
  // a list that turns other questions must not hide that none of it turns this one
  const stuck =
    question || found.state !== "done" || !list.length
      ? []
      : known.leg.answers.filter((/** @type {Json} */ one) => one.verdict === "no" && !list.some(({ turns }) => turns.includes(one.question))).map((/** @type {Json} */ one) => t(`question.${one.question}`));
  if (fresh && found.state === "done" && !list.length && question) return nothing;
  return html`<section class="block ${fresh ? "" : "stale"}" aria-live="polite">
    <h2>${t("shell.remedies")}</h2>
    ${found.state === "busy"
      ? html`<p class="small">
          ${t("shell.remedies.busy")}
          <button type="button" class="link" @click=${() => answers.stop()}>${t("shell.stop")}</button>
        </p>`
      : nothing}
    ${found.state === "stopped" || found.state === "failed"
      ? html`<p class="small">
          ${t(`shell.remedies.${found.state}`)}
          <button type="button" class="link" @click=${() => answers.remediesAgain()}>${t("shell.again")}</button>
        </p>`
      : nothing}
    ${found.state === "done" && !list.length ? html`<p class="small">${t(known.leg.answers.some(sought) ? "shell.remedies.none" : "shell.remedies.missing")}</p>` : nothing}
    ${stuck.length ? html`<p class="small">${t("shell.remedies.stuck", { questions: stuck.join(", ") })}</p>` : nothing}
    <ul class="remedies">
      ${list.map((remedy) => remedyRow(context, remedy, fresh))}
    </ul>
    ${list.some(({ kind }) => LOAD.includes(kind)) && !LOADED.includes(question ?? "") ? packLink(context) : nothing}
  </section>`;
}

/** Changes are looked for only where there is an answer to turn: what can't be said wants what is missing. @param {Json} answer */
const sought = ({ verdict }) => verdict === "no" || verdict === "tight";

/** @param {Context} context @param {Json} remedy @param {boolean} fresh */
function remedyRow({ store, t, chosen }, remedy, fresh) {
  const first = remedy.answers.find((/** @type {Json} */ { question }) => question === remedy.turns[0]);
  const margin = first?.margin > 0 && first.dimension ? t("shell.remedies.left", { left: marginAmount(first.margin, first.dimension, chosen) }) : "";
  // what is left is left of the first one turned, and not of a leg that stays a no
  const turned = remedy.turns.map((/** @type {string} */ question, /** @type {number} */ i) => t(`question.${question}`) + (i || !margin ? "" : ` (${margin})`)).join(", ");
  const apply = () => store.edit(remedy.edits, remedy.change, `remedy-${Date.now()}`);
  return html`<li class="remedy">
    <span class="remedy-change">${words(remedy.change, chosen)}</span>
    <span class="remedy-then small">
      ${turned ? html`<span>${t("shell.remedies.turns", { questions: turned })}</span>` : nothing}
      <span>${t("shell.remedies.then")} ${verdictLabel(remedy.verdict)}</span>
    </span>
    ${remedy.edits?.length
      ? html`<button type="button" class="plain" ?disabled=${!fresh} @click=${apply}>${t("shell.remedies.apply")}</button>`
      : nothing}
  </li>`;
}
