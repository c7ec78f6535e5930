// One answer opened: the picture to scale, every measure, what drives it, what it rests on, and the working.
import { html, nothing } from "lit";
import { measureBar, picture } from "../pictures/index.js";
import { verdictLabel } from "../parts/verdict.js";
import { amount, told, words } from "../parts/words.js";
import { has, isShown, shown } from "../text.js";
import { measureName, QUESTIONS, unique } from "./answers.js";
import { remediesList } from "./remedies.js";
import { staleWords, undoButton } from "./status.js";

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
      <h2 tabindex="-1">${t(`question.${question}`)}?</h2>
      ${verdictLabel(answer?.verdict)}
    </header>
    ${!answer
      ? html`<p class="block">${t("shell.not_yet")}</p>`
      : html`<div class=${current ? "" : "stale"}>
          <section class="block lead">
            ${stale ? html`<p class="stale-word">${stale}</p>` : nothing}
            ${answer.reasons.length
              ? answer.reasons.map((/** @type {Json} */ reason, /** @type {number} */ i) => html`<p class=${i ? "" : "headline-big"}>${words(reason, chosen)}</p>`)
              : html`<p class="headline-big">${plainly(answer, chosen, t)}</p>`}
          </section>
          ${answer.picture ? html`<figure class="block drawing">${picture(answer, format)}</figure>` : nothing}
          ${measures(context, answer)}
        </div>
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

/** @param {Context} context @param {Json} answer */
function measures({ chosen, t, format }, answer) {
  if (!answer.measures.length) return nothing;
  const worstFirst = answer.measures
    .map((/** @type {Json} */ measure, /** @type {number} */ index) => ({ measure, governs: index === answer.governing }))
    .sort((/** @type {Json} */ a, /** @type {Json} */ b) => Number(b.governs) - Number(a.governs));
  return html`<section class="block">
    <h3>${t("shell.measures")}</h3>
    <ul class="measures">
      ${worstFirst.map(
        (/** @type {Json} */ { measure }) => html`<li class="measure">
          ${verdictLabel(measure.verdict)}
          <span class="measure-name">${measureName(measure, chosen)}</span>
          ${measureBar(measure, format)}
          <span class="measure-figures">${measureFigures(measure, chosen, t)}</span>
          ${measure.reason ? html`<span class="measure-reason small">${words(measure.reason, chosen)}</span>` : nothing}
        </li>`,
      )}
    </ul>
  </section>`;
}

/** @param {Json} measure @param {any} chosen @param {Context["t"]} t */
function measureFigures({ needed, available, margin, dimension }, chosen, t) {
  const of = (/** @type {number | null} */ value) => (value === null ? t("shell.unsaid") : amount(value, dimension, chosen));
  const spare = margin === null ? "" : t(margin < 0 ? "shell.short" : "shell.left", { by: amount(Math.abs(margin), dimension, chosen) });
  return html`${t("shell.needed_of", { needed: of(needed), available: of(available) })}${spare ? html`, <b>${spare}</b>` : nothing}`;
}

/** @param {Context} context @param {Json} answer */
function drivers({ chosen, t }, answer) {
  if (!answer.drivers.length) return nothing;
  return html`<section class="block">
    <h3>${t("shell.drivers")}</h3>
    <ul class="drivers">
      ${answer.drivers.map(
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
        <h3>${title}</h3>
        <ul class="said">
          ${said.map((line) => html`<li>${line}</li>`)}
        </ul>
      </section>`
    : nothing;

/** @param {Context} context @param {Json} answer */
function working({ chosen, t }, answer) {
  if (!answer.working.length) return nothing;
  return html`<section class="block">
    <h3>${t("shell.working")}</h3>
    <ol class="working">
      ${answer.working.map(
        (/** @type {Json} */ step) => html`<li class="work">
          <div class="work-head">
            <span>${step.title}${step.label ? html`<span class="small"> ${words(step.label, chosen)}</span>` : nothing}</span>
            <span class="work-out">${step.outputs.map((/** @type {Json} */ out) => html`<span>${step.outputs.length > 1 ? html`<span class="small">${quantityName(out.name)} </span>` : nothing}<b>${quantity(out, chosen)}</b></span>`)}</span>
          </div>
          <p class="small">
            ${step.inputs.map((/** @type {Json} */ input, /** @type {number} */ i) => html`${i ? " · " : ""}<span class="keep">${quantityName(input.name)} ${quantity(input, chosen)}</span>`)}
          </p>
          <p class="small">${step.source}</p>
        </li>`,
      )}
    </ol>
  </section>`;
}

/** @param {string} name */
const quantityName = (name) => (has(`quantity.${name}`) ? told(`quantity.${name}`) : name.replace(/_/g, " "));

/** The dimension in which a unit of the working is shown. @type {Record<string, string>} */
const BY_UNIT = {
  kg: "mass",
  m: "length",
  "m/s": "speed",
  K: "temperature",
  Pa: "pressure",
  "kg/m³": "density",
  "m³": "volume",
  "m³/s": "flow",
  rad: "angle",
  s: "time",
  "m²": "area",
  N: "force",
  "N m": "torque",
  W: "power",
  "kg m": "moment",
  "1/s": "rotation",
  "m/s²": "acceleration",
};

/**
 * A number of the working in the person's units, with one decimal more than elsewhere where it is small.
 * @param {Json} given
 * @param {any} chosen
 */
function quantity({ name, value, unit }, chosen) {
  if (typeof value === "string") return value;
  if (Array.isArray(value)) return value.map((one) => quantity({ name, value: one, unit }, chosen)).join(", ");
  if (value === null || value === undefined) return told("shell.unsaid");
  if (typeof value === "boolean") return told(value ? "shell.yes" : "shell.no");
  let dimension = BY_UNIT[unit];
  if (dimension === "length" && /altitude|elevation|height/.test(name)) dimension = "height";
  if (dimension === "length" && /distance_m|^way|leg/.test(name) && value > 5000) dimension = "distance";
  if (dimension === "speed" && /climb_rate|vertical|rate|sink/.test(name)) dimension = "vertical speed";
  if (dimension === "temperature" && Math.abs(value) < 100) dimension = "temperature difference";
  if (dimension === "length" && /arm/.test(name)) dimension = "arm";
  if (!dimension || !isShown(dimension)) return `${plainNumber(value)}${unit === "1" ? "" : `\u00a0${unit}`}`;
  return amount(value, dimension, chosen);
}

/** Four significant digits, without an exponent where it can be avoided. @param {number} value */
function plainNumber(value) {
  const size = Math.abs(value);
  if (size !== 0 && (size < 1e-3 || size >= 1e7)) return value.toPrecision(4).replace("-", "−");
  return String(Number(value.toPrecision(4))).replace("-", "−");
}
