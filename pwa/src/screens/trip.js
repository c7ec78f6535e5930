// The trip: its legs with their verdicts, the worst named first; when the open leg departs; what its strips are like.
import { html, nothing } from "lit";
import { degrees, facts, figureFact, obstacleWords, originKey } from "../parts/facts.js";
import { VERDICTS, verdictLabel } from "../parts/verdict.js";
import { sourced, words } from "../parts/words.js";
import { clock, day, iso, isToday, later, now, offsetOf } from "../state/time.js";
import { select } from "../parts/select.js";
import { pickers } from "./pickers.js";
import { withRunUp } from "./runup_said.js";
import { notices, undoButton } from "./status.js";
import { legPage } from "./trip_leg.js";
import { newLegPage, newTripPage } from "./trip_new.js";
import { rulesPage, wholePage } from "./trip_whole.js";

/** @typedef {import("./context.js").Context} Context */
/** @typedef {import("../state/pointer.js").Json} Json */

/** Minutes by which the buttons move the departure. */
const STEPS = [-60, -15, 15, 60];

/** Pages of a trip, by the part after its name in the address. @type {Record<string, (context: Context) => unknown>} */
const PAGES = { new: newTripPage, add: newLegPage, leg: legPage, whole: wholePage, rules: rulesPage };

/** @param {Context} context */
export function tripScreen(context) {
  const [part] = context.place.part.split("/");
  const page = context.plan ? PAGES[part] : newTripPage;
  return page ? page(context) : overview(context);
}

/** @param {Context} context */
function overview(context) {
  const plan = /** @type {NonNullable<Context["plan"]>} */ (context.plan);
  const { trip, from, to } = plan;
  return html`
    <header class="head open-head"><h1 tabindex="-1">${trip.name}</h1></header>
    ${notices(context)} ${others(context)} ${worst(context)}
    <ol class="legs">
      ${trip.legs.map((/** @type {Json} */ leg, /** @type {number} */ index) => legRow(context, leg, index))}
    </ol>
    <div class="block buttons">
      <a class="plain" href="#/trip/leg">${context.t("trips.leg.change", { n: plan.number })}</a>
      <a class="plain" href="#/trip/add">${context.t("trips.leg.new")}</a>
      <a class="plain" href="#/trip/whole">${context.t("trips.whole")}</a>
      <a class="plain" href="#/trip/rules">${context.t("trips.rules")}</a>
      <a class="plain" href="#/trip/new">${context.t("trips.new")}</a>
      <a class="plain" href="#/print">${context.t("device.print.whole_trip")}</a>
    </div>
    ${departure(context)} ${undoButton(context)} ${pickers(context, { legs: false })} ${stripFacts(context, from)}
    ${to && to !== from ? stripFacts(context, to) : nothing}
    <div class="block">${originKey(context)}</div>
  `;
}

/** Other trips, to switch to. @param {Context} context */
function others({ store, plan, t }) {
  const trips = store.all("trip");
  if (!plan || trips.length < 2) return nothing;
  return html`<div class="block">
    <label class="f-label" for="trip-pick">${t("trips.pick")}</label>
    ${select({ id: "trip-pick", value: plan.trip.id, options: trips.map(({ id, name }) => ({ value: id, label: name })), set: (id) => store.show({ trip: id, leg: store.get(id).legs[0].id }) })}
  </div>`;
}

/** The trip's worst leg, said first. @param {Context} context */
function worst(context) {
  const { answers, chosen, t, store } = context;
  const { trip } = /** @type {NonNullable<Context["plan"]>} */ (context.plan);
  const legs = trip.legs;
  const known = legs
    .map((/** @type {Json} */ leg, /** @type {number} */ index) => ({ leg, index, answer: answers.known.get(leg.id)?.leg, current: context.holds(trip, leg), verdict: withRunUp(context, answers.known.get(leg.id)?.leg.verdict, trip, leg) }))
    .filter((/** @type {Json} */ { answer }) => answer);
  if (!known.length) return nothing;
  const first = known.reduce((/** @type {Json} */ a, /** @type {Json} */ b) => (VERDICTS.indexOf(b.verdict) < VERDICTS.indexOf(a.verdict) ? b : a));
  const all = known.length === legs.length && known.every((/** @type {Json} */ { current }) => current);
  const reason = first.answer.answers.find((/** @type {Json} */ { question }) => question === first.answer.worst)?.reasons[0];
  return html`<section class="verdict-block ${all ? "" : "stale"}" aria-live="polite">
    ${verdictLabel(first.verdict, { big: true })}
    <p class="headline">
      ${first.verdict !== first.answer.verdict
        ? html`<b>${t("shell.trip.worst", { n: first.index + 1, question: "shell.tab.runup" })}</b>`
        : first.verdict === "yes"
        ? t("shell.trip.all_yes")
        : html`<b>${t("shell.trip.worst", { n: first.index + 1, question: `question.${first.answer.worst}` })}</b> ${reason ? words(reason, chosen) : ""}`}
      ${all ? nothing : html`<span class="stale-word">${t(store.version ? "shell.trip.not_all" : "shell.not_yet")}</span>`}
    </p>
  </section>`;
}

/** @param {Context} context @param {Json} leg @param {number} index */
function legRow(context, leg, index) {
  const { store, plan, answers, t, chosen } = context;
  const known = answers.known.get(leg.id)?.leg;
  const current = context.holds(plan?.trip, leg);
  const name = (/** @type {string} */ strip) => store.get(strip)?.name ?? "";
  const reason = known?.answers.find((/** @type {Json} */ { question }) => question === known.worst)?.reasons[0];
  const trip = plan?.trip;
  return html`<li class=${current ? "" : "stale"}>
    <button
      type="button"
      class="leg-row"
      aria-pressed=${leg === plan?.leg ? "true" : "false"}
      @click=${() => store.show({ trip: trip.id, leg: leg.id })}
    >
      ${verdictLabel(withRunUp(context, known?.verdict, trip, leg))}
      <b>${t("shell.leg.named", { n: index + 1, from: name(leg.from_strip), to: name(leg.to_strip) })}</b>
      <span class="small"
        >${leg.departure ? `${isToday(leg.departure) ? t("shell.today") : day(leg.departure)}, ${clock(leg.departure)}` : t("shell.no_departure")}${reason && known.verdict !== "yes"
          ? html` · ${t(`question.${known.worst}`)}: ${words(reason, chosen)}`
          : nothing}</span
      >
    </button>
  </li>`;
}

/** @param {Context} context */
function departure(context) {
  const { t, known, current } = context;
  const plan = /** @type {NonNullable<Context["plan"]>} */ (context.plan);
  const { trip, leg } = plan;
  const set = (/** @type {string | undefined} */ value) => context.edit(trip.id, `/legs/${leg.id}/departure`, value, "shell.undo.departure");
  const typed = (/** @type {Event} */ { target }) => {
    const { value } = /** @type {HTMLInputElement} */ (target);
    // The offset stays that of the time that was there, else the device's on that day.
    if (value) set(leg.departure ? iso(Date.parse(`${value}Z`) - offsetOf(leg.departure) * 60_000, offsetOf(leg.departure)) : iso(Date.parse(value)));
  };
  const arrival = known?.leg.figures?.arrival;
  return html`<section class="block departs">
    <label for="departure"><b>${t("shell.departs", { n: plan.number })}</b></label>
    <input id="departure" type="datetime-local" .value=${leg.departure?.slice(0, 16) ?? ""} @change=${typed} />
    ${leg.departure ? nothing : html`<p>${t("shell.departs.unset")}</p>`}
    <div class="buttons">
      ${STEPS.map(
        (minutes) =>
          html`<button type="button" class="plain" ?disabled=${!leg.departure} @click=${() => set(later(leg.departure, minutes))}>
            ${t(minutes < 0 ? "shell.departs.earlier" : "shell.departs.later", { by: Math.abs(minutes) * 60 })}
          </button>`,
      )}
      <button type="button" class="plain" @click=${() => set(now())}>${t("shell.departs.now")}</button>
      ${leg.departure ? html`<button type="button" class="plain" @click=${() => set(undefined)}>${t("trips.departs.clear")}</button>` : nothing}
    </div>
    ${arrival ? html`<p class=${current ? "small" : "small stale"}>${t("shell.arrives", { clock: clock(arrival), day: day(arrival) })}</p>` : nothing}
  </section>`;
}

/** @param {Context} context @param {Json} strip */
function stripFacts(context, strip) {
  if (!strip) return nothing;
  const { t, chosen } = context;
  const { ground } = strip;
  const state = ground.state;
  const slopes = (ground.segments ?? [])
    .map((/** @type {Json} */ { length, slope }) => t("shell.strip.slope", { length, slope }))
    .join(", ");
  return html`<section class="block">
    <h2>${strip.name}${strip.code ? html` <span class="small">${strip.code}</span>` : nothing}</h2>
    ${facts([
      figureFact(context, "strip.elevation", strip.elevation, "height"),
      figureFact(context, "strip.length", ground.length, "length"),
      ground.width && figureFact(context, "strip.width", ground.width, "length"),
      [t("shell.strip.surface"), state ? t(`surface.${state.surface}`) : t("shell.absent"), state ? t("shell.strip.seen", { day: day(state.seen) }) + (state.note ? ` ${state.note}` : "") : undefined],
      slopes ? [t("shell.strip.slopes", { designator: strip.directions.find((/** @type {Json} */ { along }) => along === "forward")?.designator ?? "" }), slopes] : undefined,
      strip.mass_limit && figureFact(context, "strip.mass_limit", strip.mass_limit, "mass"),
      strip.ridge_shadow?.before_sunset && figureFact(context, "strip.shadow", strip.ridge_shadow.before_sunset, "time"),
      ...(strip.fuel ?? []).map((/** @type {Json} */ one) => /** @type {import("../parts/facts.js").Fact} */ ([t("shell.strip.fuel"), t(`grade.${one.grade}`), [one.hours, one.note].filter(Boolean).join(", ")])),
      strip.note && [t("shell.note"), "", strip.note],
    ])}
    <div class="buttons"><a class="plain" href="#/edit/${strip.id}">${t("shell.edit")}<span class="unseen"> ${strip.name}</span></a></div>
    ${strip.directions.map((/** @type {Json} */ one) => directionFacts(context, strip, one, chosen))}
  </section>`;
}

/** @param {Context} context @param {Json} strip @param {Json} one @param {any} chosen */
function directionFacts(context, strip, one, chosen) {
  const { t } = context;
  const length = (/** @type {string} */ phase) => one[`${phase}_length`] ?? strip.ground.length;
  const takesOff = one.use === "both" || one.use === "takeoff";
  const lands = one.use === "both" || one.use === "landing";
  return html`<div class="direction">
    <h3>${one.designator} <span class="small">${t(`shell.use.${one.use}`)}, ${t("shell.strip.bearing", { bearing: degrees(one.bearing) })}</span></h3>
    ${facts([
      takesOff && [t("shell.strip.takeoff_length"), sourced(length("takeoff"), "length", chosen)],
      takesOff && [t("shell.strip.departure"), obstacleWords(context, one.departure)],
      lands && [t("shell.strip.landing_length"), sourced(length("landing"), "length", chosen)],
      lands && [t("shell.strip.approach"), obstacleWords(context, one.approach)],
      lands && [t("shell.strip.go_around"), t(`shell.go_around.${one.go_around ?? "unknown"}`), one.committed_at ? t("shell.strip.committed", { at: one.committed_at }) : undefined],
      ...(one.way_out?.ridges ?? []).map((/** @type {Json} */ ridge) => /** @type {import("../parts/facts.js").Fact} */ ([t("shell.strip.ridge"), obstacleWords(context, { state: "listed", obstacles: [ridge] })])),
      one.way_out?.valley_width && figureFact(context, "strip.valley", one.way_out.valley_width, "length"),
      one.note && [t("shell.note"), "", one.note],
    ])}
  </div>`;
}
