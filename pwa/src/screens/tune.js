// The open aeroplane tuned to its notebook: whether that may be used, each entry against what it should be, what to
// measure next, and the constants that came of it.
import { html, nothing } from "lit";
import { rangePlot } from "../pictures/range.js";
import { linkTo } from "../forms/readiness.js";
import { amount, words } from "../parts/words.js";
import { quantity } from "../parts/working.js";
import { Asked } from "../state/asked.js";
import { day } from "../state/time.js";

/** @typedef {import("./context.js").Context} Context @typedef {import("../state/pointer.js").Json} Json */

const asked = new Asked("tune");

/** So many measurements are offered as the next. */
const NEXT = 3;

/** A part in whole per cent: "12 %". @param {number} part */
const percent = (part) => `${Math.round(part * 100)}\u00a0%`;

/** @param {Context} context */
export function tuneScreen(context) {
  const { plan, store, t } = context;
  if (!plan?.aeroplane) return html`<p class="block">${t("shell.aeroplane.none")}</p>`;
  const [aeroplane, rig] = [plan.aeroplane, plan.configuration];
  const { found, problem } = asked.now(context, `${store.version}/${aeroplane.id}/${rig?.id}`, () => ({
    documents: store.texts(),
    aeroplane: aeroplane.id,
    ...(rig ? { configuration: rig.id } : {}),
  }));
  return html`
    <header class="head open-head">
      <a class="back" href="#/aeroplane"><span aria-hidden="true">‹&nbsp;</span>${aeroplane.name}</a>
      <h1 tabindex="-1">${t("shell.tab.tune")}</h1>
      ${rig ? html`<span class="small">${rig.name}</span>` : nothing}
    </header>
    ${problem
      ? html`<p class="block wrong" role="alert">${problem}</p>`
      : found
        ? whole(context, found)
        : html`<p class="block" role="status">${t(context.boot.state === "ready" ? "tuned.working" : "device.sums.starting")}</p>`}
    <p class="caution">${t("caution")}</p>
  `;
}

/** @param {Context} context @param {Json} found */
function whole(context, found) {
  const { t, chosen } = context;
  return html`
    <section class="block lead">
      <p class="headline-big">${t(found.usable ? "tuned.usable" : found.converged ? "tuned.unusable" : "tuned.none")}</p>
      ${found.reasons.map((/** @type {Json} */ reason) => html`<p>${words(reason, chosen)}</p>`)}
      ${found.usable ? html`<p class="small">${t("tuned.rests_on", { figures: found.figures })}</p>` : nothing}
    </section>
    ${suspects(context, found)} ${next(context, found)} ${entries(context, found)} ${constants(context, found)} ${leftOut(context, found)}
  `;
}

/** The notebook that holds an entry, and the entry. @param {Context} context @param {Json} found @param {string} id */
function entryOf({ store }, found, id) {
  for (const name of found.notebooks) {
    const entry = store.get(name)?.entries?.find((/** @type {Json} */ one) => one.id === id);
    if (entry) return { entry, href: linkTo(name, `/entries/${id}`) };
  }
  return undefined;
}

/** What does not fit the rest is named, and stays in the notebook. @param {Context} context @param {Json} found */
function suspects(context, found) {
  const { t, chosen } = context;
  if (!found.suspects.length) return nothing;
  return html`<section class="notice" aria-labelledby="tuned-suspects">
    <h2 id="tuned-suspects">${t("tuned.suspects")}</h2>
    <ul class="said">
      ${found.suspects.map((/** @type {Json} */ one) => {
        const there = entryOf(context, found, one.entry);
        const name = `${t(`tune.figure.${one.figure}`)}, ${there ? day(there.entry.at) : ""}`;
        return html`<li>${there ? html`<a class="plain" href=${there.href}>${name}</a>` : name} <span>${words(one.said, chosen)}</span></li>`;
      })}
    </ul>
    <p class="small">${t("tuned.suspects_about")}</p>
  </section>`;
}

/** @param {Context} context @param {Json} found */
function next({ t, chosen }, found) {
  const worth = found.next.filter((/** @type {Json} */ { narrows }) => narrows >= 0.01).slice(0, NEXT);
  if (!worth.length) return nothing;
  return html`<section class="block">
    <h2>${t("tuned.next")}</h2>
    <ol class="said">
      ${worth.map((/** @type {Json} */ one) => html`<li>${words(one.what, chosen)}<span class="small">${t("tuned.narrows", { part: percent(one.narrows) })}</span></li>`)}
    </ol>
  </section>`;
}

/** @param {Context} context @param {Json} found */
function entries(context, found) {
  const { t, chosen } = context;
  if (!found.residuals.length) return nothing;
  return html`<section class="block">
    <h2>${t("tuned.entries")}</h2>
    <p class="small">${t("tuned.entries_about")}</p>
    <ul class="tuned-list">
      ${found.residuals.map((/** @type {Json} */ one) => {
        const told = (/** @type {number | null} */ value) => (value === null ? t("shell.unsaid") : amount(value, one.dimension, chosen));
        const there = entryOf(context, found, one.entry);
        const name = t(`tune.figure.${one.figure}`);
        const band = t("tuned.band", { low: told(one.low), high: told(one.high) });
        const doubtful = one.counts && one.slip > 0.5;
        return html`<li class="tuned-row">
          <span class="tuned-name">${there ? html`<a href=${there.href}>${name}</a>` : name} <span class="small">${day(one.at)}</span></span>
          <b>${told(one.measured)}</b>
          ${rangePlot({ low: one.low, high: one.high, middle: one.predicted, measured: one.measured, doubtful, label: `${name}: ${told(one.measured)}; ${band}` })}
          <span class="small">${band}${one.counts ? nothing : html`, ${t(`notebook.technique.${one.technique}`)}: ${t("tuned.not_counted")}`}${doubtful ? html`, <b>${t("tuned.doubtful")}</b>` : nothing}</span>
        </li>`;
      })}
    </ul>
  </section>`;
}

/** @param {Context} context @param {Json} found */
function constants({ t, chosen }, found) {
  if (!found.constants.length) return nothing;
  const figure = (/** @type {Json} */ one, /** @type {number} */ value) => quantity({ name: one.name, value, unit: one.unit }, chosen);
  return html`<details class="block more">
    <summary>${t("tuned.constants", { n: found.constants.length })}</summary>
    <ul class="tuned-list">
      ${found.constants.map(
        (/** @type {Json} */ one) => html`<li class="tuned-row">
          <span class="tuned-name">${words(one.label, chosen)}</span>
          <b>${t("tuned.give_or_take", { value: figure(one, one.value), sd: figure(one, one.sd) })}</b>
          ${rangePlot({
            low: one.value - 1.645 * one.sd,
            high: one.value + 1.645 * one.sd,
            middle: one.value,
            measured: one.prior,
            label: t("tuned.before", { value: figure(one, one.prior), sd: figure(one, one.prior_sd) }),
          })}
          <span class="small">${t("tuned.before", { value: figure(one, one.prior), sd: figure(one, one.prior_sd) })}</span>
        </li>`,
      )}
    </ul>
    ${found.technique.map((/** @type {Json} */ one) => html`<p>${t(`tuned.technique.${one.technique}`, { factor: one.factor.toFixed(2), n: one.figures })}</p>`)}
  </details>`;
}

/** @param {Context} context @param {Json} found */
function leftOut(context, found) {
  const { t, chosen } = context;
  if (!found.left_out.length && !found.assumed.length) return nothing;
  return html`
    ${found.left_out.length
      ? html`<section class="block">
          <h2>${t("tuned.left_out")}</h2>
          <ul class="said">
            ${found.left_out.map((/** @type {Json} */ one) => {
              const there = entryOf(context, found, one.entry);
              const name = `${t(`notebook.what.${one.what}`)}${there ? `, ${day(there.entry.at)}` : ""}`;
              return html`<li>${there ? html`<a href=${there.href}>${name}</a>` : name}: ${words(one.reason, chosen)}</li>`;
            })}
          </ul>
        </section>`
      : nothing}
    ${found.assumed.length
      ? html`<details class="block more">
          <summary>${t("shell.assumptions")}</summary>
          <ul class="said">
            ${[...new Set(found.assumed.map((/** @type {Json} */ one) => words(one, chosen)))].map((line) => html`<li>${line}</li>`)}
          </ul>
        </details>`
      : nothing}
  `;
}
