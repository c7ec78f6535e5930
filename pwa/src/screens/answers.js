// The first screen: do we go, and why not? Verdict, six questions with their measures, and the air, in one view.
import { html, nothing } from "lit";
import { measureBar } from "../pictures/index.js";
import { sockPicture } from "../parts/sock.js";
import { marginFigure, ruling } from "../parts/margin.js";
import { verdictLabel } from "../parts/verdict.js";
import { amount, figure, told, words } from "../parts/words.js";
import { age, briefly } from "../state/time.js";
import { pickers } from "./pickers.js";
import { remediesList } from "./remedies.js";
import { keepRunUp } from "./runup.js";
import { ofTorque, runUpNotice, withRunUp } from "./runup_said.js";
import { notices, staleWords, statusLine, undoButton } from "./status.js";

/** @typedef {import("./context.js").Context} Context */
/** @typedef {import("../state/pointer.js").Json} Json */

export const QUESTIONS = ["fits", "balances", "lifts_off", "climbs_out", "reaches", "stops"];

/** @param {Context} context */
export function answersScreen(context) {
  const { plan, known, current, t } = context;
  if (!plan) return html`<header class="head">${statusLine(context)}<h1 tabindex="-1">${t("shell.empty")}</h1></header>
      ${notices(context)}
      <div class="block buttons">
        <a class="plain" href="#/trip/new">${t("trips.new")}</a><a class="plain" href="#/edit">${t("shell.edit.mine")}</a>
      </div>`;
  const leg = known?.leg;
  keepRunUp(context);
  return html`
    ${legHead(context)} ${runUpNotice(context)} ${notices(context)}
    <div class=${current ? "answers" : `answers stale ${context.unread ? "unread" : ""}`}>
      ${verdictBlock(context)}
      <ul class="six">
        ${QUESTIONS.map((question) => questionRow(context, question, leg))}
      </ul>
    </div>
    ${airRow(context)} ${below(context)}
  `;
}

/** Which leg, from where to where, with what: touch it to change it. @param {Context} context */
function legHead(context) {
  const { plan, ui, t, chosen } = context;
  if (!plan) return nothing;
  const { trip, leg, number, from, to, takeoff, landing, aeroplane, configuration, load } = plan;
  const litres = (leg.fuel ?? []).reduce((/** @type {number} */ sum, /** @type {Json} */ { volume }) => sum + volume.value, 0);
  const when = leg.departure ? briefly(leg.departure) : t("shell.no_departure");
  return html`<header class="head">
    <div class="head-line small">
      <span><b>${t(trip.id === context.demo ? "shell.demo.of" : "shell.leg.of", { n: number, of: trip.legs.length })}</b> · ${when}</span>
      ${statusLine(context)}
    </div>
    <button
      type="button"
      class="leg-button"
      aria-expanded=${ui.picking ? "true" : "false"}
      aria-controls="pickers"
      @click=${() => context.turn({ picking: !ui.picking })}
    >
      <h1 tabindex="-1">
        <span>${from?.name} ${takeoff ? html`<span class="keep">${takeoff.designator}</span>` : nothing}</span>
        <span aria-hidden="true">→</span><span class="unseen">${t("shell.to")}</span>
        <span>${to?.name} ${landing ? html`<span class="keep">${landing.designator}</span>` : nothing}</span>
      </h1>
      <span class="small leg-with"
        >${aeroplane?.name}, ${configuration?.name} · ${t("shell.aboard", { n: load?.seats?.length ?? 0 })} ·
        ${amount(litres, "volume", chosen)}<span class="change"><span class="change-word">${t(ui.picking ? "shell.close" : "shell.change")}</span><span aria-hidden="true"> ${ui.picking ? "▴" : "▾"}</span></span></span
      >
    </button>
  </header>
  <div id="pickers" ?hidden=${!ui.picking}>${ui.picking ? pickers(context) : nothing}</div>`;
}

/** @param {Context} context */
function verdictBlock(context) {
  const { known, chosen, t } = context;
  const leg = known?.leg;
  const worst = leg?.answers.find((/** @type {Json} */ { question }) => question === leg.worst);
  const reason = worst?.reasons?.[0];
  const verdict = withRunUp(context, leg?.verdict);
  const headline = !leg
    ? t("shell.not_yet")
    : verdict !== leg.verdict
      ? html`<b>${t("shell.tab.runup")}.</b> ${t("tuned.run_up_below")}`
      : html`<b>${leg.verdict === "yes" ? t("shell.all_yes") : `${t(`question.${leg.worst}`)}.`}</b> ${reason ? words(reason, chosen) : nothing}`;
  const stale = staleWords(context);
  return html`<section class="verdict-block" aria-live="polite" aria-label=${t("shell.verdict")}>
    ${verdictLabel(verdict, { big: true })}
    <p class="headline">${stale ? html`<span class="stale-word">${stale}</span> ` : nothing}${headline}</p>
  </section>`;
}

const UNKNOWN = { needed: null, available: null, dimension: "number" };

/** @param {Context} context @param {string} question @param {Json} leg */
function questionRow(context, question, leg) {
  const { chosen, t, place, format } = context;
  const answer = leg?.answers.find((/** @type {Json} */ one) => one.question === question);
  const measure = ruling(answer);
  const open = place.screen === "answer" && place.part === question;
  return html`<li>
    <a class="question" href="#/answer/${question}" aria-current=${open ? "true" : nothing}>
      ${verdictLabel(ofTorque(context, answer))}
      <span class="question-name">${t(`question.${question}`)}</span>
      <span class="question-measure small">${measure ? measureName(measure, chosen) : nothing}</span>
      ${measureBar(measure ?? UNKNOWN, format)}
      ${marginWords(answer, measure, chosen, t)}
    </a>
  </li>`;
}

/** @param {Json} measure @param {import("../text.js").Chosen} chosen */
export const measureName = (measure, chosen) => told(`measure.${measure.name}`, measure.values, chosen);

/** @param {Json} answer @param {Json} measure @param {any} chosen @param {Context["t"]} t */
function marginWords(answer, measure, chosen, t) {
  const margin = answer?.margin;
  if (margin === null || margin === undefined || !measure) return html`<span class="margin"><span class="margin-figure">–</span></span>`;
  const of = measure.available === null ? "" : amount(measure.available, measure.dimension, chosen);
  return html`<span class="margin">
    <span class="margin-figure">${marginFigure(margin, measure.dimension, chosen)}</span>
    <span class="small">${unbrokenOf(t(margin < 0 ? "shell.short_of" : "shell.left_of", { of }))}</span>
  </span>`;
}

const unbrokenOf = (/** @type {string} */ text) => text.replace(/ /g, "\u00a0");

/** The air here in three figures; touch one to change it. @param {Context} context */
function airRow({ plan, chosen, t, known, current }) {
  const air = plan?.airFrom;
  const { pressure, temperature, wind } = air ?? {};
  const by = pressure?.by === "qnh" ? "qnh" : "altimeter";
  const old = air && age(air.at);
  const read = !old ? "" : old.text === "shell.age.ahead" ? t("shell.air.ahead", { when: briefly(air.at) }) : t(old.text, old.values);
  const head = known?.leg.figures?.headwind;
  return html`<section class="air-row" aria-label=${t("shell.air.here")}>
    <a href="#/air/pressure">
      <span class="small">${t(`shell.air.by_${by}`)}${read ? html`, ${read}` : nothing}</span>
      <span class="air-figure">
        ${by === "qnh" ? figure(pressure?.qnh, "pressure", chosen) : figure(pressure?.pressure_altitude, "height", chosen)}
      </span>
    </a>
    <a href="#/air/temperature">
      <span class="small">${t("shell.air.temperature")}</span>
      <span class="air-figure">${figure(temperature, "temperature", chosen)}</span>
    </a>
    <a href="#/air/wind">
      <span class="small">${windWords(wind, plan, t)}</span>
      <span class="air-figure"
        >${wind?.by === "sock" ? sockPicture(wind.fullness) : nothing}
        ${wind?.by === "calm"
          ? t("shell.air.calm_short")
          : wind?.by === "measured"
            ? html`${figure(wind.speed, "speed", chosen)}${wind.gust ? html`<span class="unit">&nbsp;${t("shell.air.gusting", { gust: wind.gust })}</span>` : nothing}`
            : wind && typeof head === "number"
              ? html`<span class=${current ? "head-wind" : "head-wind stale"}>${figure(Math.abs(head), "speed", chosen)}<span class="unit"> ${t(head < 0 ? "shell.air.tail" : "shell.air.head")}</span></span>`
              : wind
                ? nothing
                : "–"}</span
      >
    </a>
  </section>`;
}

/** @param {Json} wind @param {Context["plan"]} plan @param {Context["t"]} t */
function windWords(wind, plan, t) {
  if (!wind) return t("shell.air.wind");
  if (wind.by === "calm") return t("shell.air.wind");
  const against = plan?.from?.directions?.find((/** @type {Json} */ { id }) => id === wind.against);
  const degrees = Math.round(((wind.wind_from ?? 0) * 180) / Math.PI) % 360;
  if (!against) return t("shell.air.sock_true", { n: degrees });
  const off = degrees > 180 ? 360 - degrees : degrees;
  const side = off === 0 || off === 180 ? "" : degrees > 180 ? "_left" : "_right";
  return t(`shell.air.sock${side}`, { n: off, designator: against.designator });
}

/** What follows below the first view. @param {Context} context */
function below(context) {
  const { known, answers, chosen, t, current } = context;
  const leg = known?.leg;
  const said = unique(leg?.answers.flatMap((/** @type {Json} */ answer) => answer.assumptions) ?? [], chosen);
  return html`
    ${undoButton(context)}
    ${remediesList(context)}
    <div class=${current ? "" : "stale"}>
      ${leg?.warnings?.length
        ? html`<section class="block">
            <h2>${t("shell.warnings")}</h2>
            <ul class="said">
              ${unique(leg.warnings, chosen).map((line) => html`<li>${line}</li>`)}
            </ul>
          </section>`
        : nothing}
      ${said.length
        ? html`<section class="block">
            <h2>${t("shell.assumptions")}</h2>
            <ul class="said">
              ${said.map((line) => html`<li>${line}</li>`)}
            </ul>
          </section>`
        : nothing}
    </div>
    <div class="block buttons"><a class="plain" href="#/notebook/new">${t("notebook.after")}</a><a class="plain" href="#/print/leg">${t("device.print.this_leg")}</a></div>
    <p class="caution">${answers.caution ? words(answers.caution, chosen) : t("caution")}</p>
  `;
}

/** @param {Json[]} messages @param {import("../text.js").Chosen} chosen */
export const unique = (messages, chosen) => [...new Set(messages.map((message) => words(message, chosen)))];
