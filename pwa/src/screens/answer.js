// One answer opened: the picture to scale, every measure, what drives it, what it rests on, and the working.
import { html, nothing } from "lit";
import { measureBar, picture } from "../pictures/index.js";
import { VERDICTS, verdictLabel } from "../parts/verdict.js";
import { workingStep } from "../parts/working.js";
import { marginAmount } from "../parts/margin.js";
import { amount, told, words } from "../parts/words.js";
import { shown } from "../text.js";
import { measureName, QUESTIONS, unique } from "./answers.js";
import { LOADED, packLink, remediesList } from "./remedies.js";
import { TORQUE, ofTorque, runUpNotice } from "./runup_said.js";
import { staleWords, undoButton } from "./status.js";
import { wayTo } from "./where.js";

/** @typedef {import("./context.js").Context} Context */
/** @typedef {import("../state/pointer.js").Json} Json */

/** The question that is open: the one that was touched, else the worst. @param {Context} context */
const openQuestion = ({ place, known }) =>
  place.screen === "answer" && QUESTIONS.includes(place.part) ? place.part : (known?.leg.worst ?? QUESTIONS[0]);

/** @param {Context} context */
export function answerScreen(context) {
  const { known, current, chosen, t, format } = context;
  const question = openQuestion(context);
  const answer = known?.leg.answers.find((/** @type {Json} */ one) => one.question === question);
  const stale = staleWords(context);
  const order = QUESTIONS.indexOf(question);
  return html`
    <header class="head open-head">
      <a class="back back-answers" href="#/"><span aria-hidden="true">‹&nbsp;</span>${t("shell.back")}</a>
      <h1 tabindex="-1">${t(`question.${question}`)}?</h1>
      ${verdictLabel(ofTorque(context, answer))}
    </header>
    ${TORQUE.includes(question) ? runUpNotice(context) : nothing}
    ${!answer
      ? html`<p class="block">${t("shell.not_yet")}</p>`
      : html`<div class=${current ? "" : "stale"}>
          <section class="block lead">
            ${stale ? html`<p class="stale-word">${stale}</p>` : nothing}
            ${answer.reasons.length
              ? answer.reasons.map((/** @type {Json} */ reason, /** @type {number} */ i) => html`<p class=${i ? "" : "headline-big"}>${words(reason, chosen)}</p>${wayTo(context, reason)}`)
              : html`<p class="headline-big">${plainly(answer, chosen, t)}</p>`}
          </section>
          ${answer.picture ? html`<figure class="block drawing">${picture(answer, format)}</figure>` : nothing}
          ${measures(context, answer)}
        </div>
        ${question === "lifts_off" ? html`<div class="block buttons"><a class="plain" href="#/runup">${t("shell.tab.runup")}</a></div>` : nothing}
        ${LOADED.includes(question) ? html`<div class="block">${packLink(context)}</div>` : nothing}
        ${undoButton(context)} ${remediesList(context, question)}
        <div class=${current ? "" : "stale"}>
          ${drivers(context, answer)} ${lines(t("shell.notes"), unique(answer.notes, chosen))}
          ${lines(t("shell.assumptions"), unique(answer.assumptions, chosen))} ${working(context, answer)}
        </div>`}
    <nav class="next" aria-label=${t("shell.questions")}>
      ${[order - 1, order + 1].map((i, side) =>
        QUESTIONS[i]
          ? html`<a class="plain" href="#/answer/${QUESTIONS[i]}"
              >${side ? nothing : html`<span aria-hidden="true">‹&nbsp;</span>`}${t(`question.${QUESTIONS[i]}`)}${side
                ? html`<span aria-hidden="true">&nbsp;›</span>`
                : nothing}</a
            >`
          : html`<span></span>`,
      )}
    </nav>
    <p class="caution">${context.answers.caution ? words(context.answers.caution, chosen) : t("caution")}</p>
  `;
}

/** A yes has no reason to give: its governing measure speaks. @param {Json} answer @param {any} chosen @param {Context["t"]} t */
function plainly(answer, chosen, t) {
  const measure = answer.measures[answer.governing ?? 0];
  if (!measure || measure.needed === null || measure.available === null) return t(`verdict.${answer.verdict}`);
  return told(
    "shell.needs_of",
    {
      what: measureName(measure, chosen),
      needed: shown(measure.needed, measure.dimension, chosen),
      available: shown(measure.available, measure.dimension, chosen),
    },
    chosen,
  );
}

/** So many measures that say yes are shown at once; the rest stay folded. */
const PLAIN = 4;

/** @param {Context} context @param {Json} answer */
function measures(context, answer) {
  if (!answer.measures.length) return nothing;
  const governing = answer.measures[answer.governing ?? 0];
  const rank = (/** @type {Json} */ measure) => VERDICTS.indexOf(measure.verdict) - (measure === governing ? 0.5 : 0);
  const sorted = [...answer.measures].sort((a, b) => rank(a) - rank(b));
  const shownAtOnce = Math.max(PLAIN, sorted.filter(({ verdict }) => verdict !== "yes").length);
  const rest = sorted.slice(shownAtOnce);
  return html`<section class="block">
    <h2>${context.t("shell.measures")}</h2>
    <ul class="measures">
      ${sorted.slice(0, shownAtOnce).map((measure) => measureRow(context, measure))}
    </ul>
    ${rest.length
      ? html`<details class="more">
          <summary>${context.t("shell.measures.more", { n: rest.length })}</summary>
          <ul class="measures">
            ${rest.map((measure) => measureRow(context, measure))}
          </ul>
        </details>`
      : nothing}
  </section>`;
}

/** @param {Context} context @param {Json} measure */
const measureRow = ({ chosen, t, format }, measure) =>
  html`<li class="measure">
    ${verdictLabel(measure.verdict)}
    <span class="measure-name">${measureName(measure, chosen)}</span>
    ${measureBar(measure, format)}
    <span class="measure-figures">${measureFigures(measure, chosen, t)}</span>
    ${measure.band ? html`<span class="measure-reason small">${bandWords(measure, chosen, t)}</span>` : nothing}
    ${measure.reason ? html`<span class="measure-reason small">${words(measure.reason, chosen)}</span>` : nothing}
  </li>`;

/** What own runs make of it, 9 of 10. @param {Json} measure @param {any} chosen @param {Context["t"]} t */
function bandWords({ band, dimension }, chosen, t) {
  const [low, high] = [band.low, band.high].map((end) => (end === null ? t("shell.unsaid") : amount(end, dimension, chosen)));
  return t("tuned.measure_band", { low, high, source: band.source });
}

/** @param {Json} measure @param {any} chosen @param {Context["t"]} t */
function measureFigures({ needed, available, margin, dimension }, chosen, t) {
  const of = (/** @type {number | null} */ value) => (value === null ? t("shell.unsaid") : amount(value, dimension, chosen));
  const spare = margin === null ? "" : t(margin < 0 ? "shell.short" : "shell.left", { by: marginAmount(margin, dimension, chosen) });
  if (needed === null && available === null) return html`${t("shell.unsaid")}`;
  return html`${t("shell.needed_of", { needed: of(needed), available: of(available) })}${spare ? html`, <b>${spare}</b>` : nothing}`;
}

/** @param {Context} context @param {Json} answer */
function drivers({ chosen, t }, answer) {
  // What changes nothing that can be seen drives nothing.
  const counting = answer.drivers.filter((/** @type {Json} */ { delta, dimension }) => delta === null || !/^[^1-9]*$/.test(amount(Math.abs(delta), difference(dimension), chosen)));
  if (!counting.length) return nothing;
  return html`<section class="block">
    <h2>${t("shell.drivers")}</h2>
    <ul class="drivers">
      ${counting.map(
        (/** @type {Json} */ { change, delta, dimension }) => html`<li>
          <span>${words(change, chosen)}</span>
          <b>${delta === null ? t("shell.unsaid") : t(delta < 0 ? "shell.takes" : "shell.gives", { by: amount(Math.abs(delta), difference(dimension), chosen) })}</b>
        </li>`,
      )}
    </ul>
  </section>`;
}

/** A change of a temperature is no temperature. @param {string} dimension */
const difference = (dimension) => (dimension === "temperature" ? "temperature difference" : dimension);

/** @param {string} title @param {string[]} said */
const lines = (title, said) =>
  said.length
    ? html`<section class="block">
        <h2>${title}</h2>
        <ul class="said">
          ${said.map((line) => html`<li>${line}</li>`)}
        </ul>
      </section>`
    : nothing;

/** @param {Context} context @param {Json} answer */
function working({ chosen, t }, answer) {
  if (!answer.working.length) return nothing;
  return html`<details class="block more">
    <summary>${t("shell.working", { n: answer.working.length })}</summary>
    <ol class="working">
      ${answer.working.map((/** @type {Json} */ step) => workingStep(step, chosen))}
    </ol>
  </details>`;
}
