// Which of the six questions an aeroplane can already answer, and what is missing for the next. The core says it, of
// what is stored; what is asked again and again while somebody types waits until the finger rests.
import { html, nothing } from "lit";
import { say, t } from "../text.js";
import { shown } from "./form.js";

/** @typedef {import("./form.js").Form} Form @typedef {import("./schema.js").Json} Json @typedef {import("./sketches.js").Core} Core */

const REST = 1200;

/** No more missing things than this are shown at once; more would push the way to them off the screen. */
const FEW = 4;

/** What is known, and for which state of the documents. @type {Map<string, { version: number, result: Json }>} */
const known = new Map();
let asked = "";
/** @type {ReturnType<typeof setTimeout> | undefined} */
let timer;

/** Ask when the finger rests. @param {Form} form @param {Core} core */
function ask(form, core) {
  const { store, id } = form;
  const key = `${id} ${store.version}`;
  if (asked === key || known.get(id)?.version === store.version || !store.get(id)) return;
  asked = key;
  clearTimeout(timer);
  timer = setTimeout(async () => {
    const { version } = store;
    try {
      const result = await core.ask("readiness", { documents: store.texts(), aeroplane: id });
      known.set(id, { version, result });
    } catch {
      asked = ""; // it is asked again with the next edit; the notices say what is wrong with the documents
    }
    form.redraw();
  }, known.has(id) ? REST : 0);
}

/** @param {string} id @param {string} pointer */
export const linkTo = (id, pointer) => `#/edit/${encodeURIComponent(id + pointer)}`;

/** @param {Form} form @param {Core} core @param {{ brief?: boolean }} [options] */
export function readiness(form, core, { brief = false } = {}) {
  if (form.document.kind !== "aeroplane") return nothing;
  ask(form, core);
  const here = known.get(form.id);
  if (!here) return brief || !form.store.get(form.id) ? nothing : html`<p class="block small">${t("form.ready.asking")}</p>`;
  const { questions, next } = here.result;
  const old = here.version !== form.store.version;
  const n = questions.filter((/** @type {Json} */ { ready }) => ready).length;
  const estimated = new Set(questions.flatMap((/** @type {Json} */ one) => one.estimated.map((/** @type {Json} */ each) => JSON.stringify(each)))).size;
  const head = html`<p><b>${t("form.ready.count", { n, of: questions.length })}</b> ${estimated ? t("form.ready.estimated", { n: estimated }) : nothing}</p>`;
  const link = next ? html`<p>${t("form.ready.next")} <a href=${linkTo(form.id, next.pointer)}>${say(next, form.chosen)}</a></p>` : nothing;
  if (brief) return html`<aside class="block f-ready ${old ? "stale" : ""}" aria-label=${t("form.ready")}>${head} ${link}</aside>`;
  const few = questions.flatMap((/** @type {Json} */ one) => one.missing).length <= FEW;
  return html`<section class="block f-ready ${old ? "stale" : ""}" aria-label=${t("form.ready")}>
    <h2>${t("form.ready")}</h2>
    ${head}
    <ul>
      ${questions.map(
        (/** @type {Json} */ { question, ready, missing, estimated: guesses }) => html`<li class="f-question ${ready ? "f-question-ready" : ""}" data-question=${question}>
          ${missing.length
            ? folded(form, question, missing, few)
            : html`<b>${t(`question.${question}`)}</b> <span>${guesses.length ? t("form.ready.by_estimate") : t("form.ready.yes")}</span>`}
        </li>`,
      )}
    </ul>
  </section>`;
}

/** What one question still misses, to unfold. @param {Form} form @param {string} question @param {Json[]} missing @param {boolean} few */
function folded(form, question, missing, few) {
  const key = `ready${form.id} ${question}`;
  const toggle = (/** @type {Event} */ { target }) => {
    const { open } = /** @type {HTMLDetailsElement} */ (target);
    if (open === (shown.open[key] ?? few)) return;
    shown.open[key] = open;
    form.redraw();
  };
  return html`<details ?open=${shown.open[key] ?? few} @toggle=${toggle}>
    <summary><b>${t(`question.${question}`)}</b> <span>${t("form.ready.no", { n: missing.length })}</span></summary>
    <ul class="f-missing">
      ${missing.map((/** @type {Json} */ one) => html`<li><a href=${linkTo(form.id, one.pointer)}>${say(one, form.chosen)}</a></li>`)}
    </ul>
  </details>`;
}
