// One leg on one sheet: verdict and six answers with their figures, speeds on the dial, where to stop trying, the load
// by station, the air that it holds for and until when, what was assumed, and the caution.
import { html, nothing } from "lit";
import { doorLines } from "./doors.js";
import { measureName, QUESTIONS, unique } from "./answers.js";
import { degrees, obstacleWords } from "../parts/facts.js";
import { verdictLabel } from "../parts/verdict.js";
import { marginAmount, ruling } from "../parts/margin.js";
import { amount, words } from "../parts/words.js";
import { BUILT } from "../state/device.js";
import { bayOf } from "../state/load.js";
import { itemsOf, stationsOf } from "../state/plan.js";
import { clock, day, isToday, later, now } from "../state/time.js";
import { display, numeral } from "../text.js";

/** @typedef {import("./context.js").Context} Context @typedef {import("../state/pointer.js").Json} Json */
/** @typedef {NonNullable<ReturnType<typeof import("../state/plan.js").planOf>>} Plan */

/** How long a reading of the air counts where the settings do not say it, as the core takes it. [s] */
const AIR_AGE = 3600;

/** @param {Context} context @param {Plan} plan @param {number} of */
export function sheet(context, plan, of) {
  const { answers, t } = context;
  const known = answers.known.get(plan.leg.id)?.leg;
  const older = known && !context.holds(plan.trip, plan.leg);
  return html`<article class="sheet sheet-0 ${known && !older ? "" : "sheet-stale"}" aria-label=${t("shell.leg.of", { n: plan.number, of })}>
    ${head(context, plan, of, known)}
    ${older ? html`<p class="sheet-older">${t("device.sheet.older")}</p>` : nothing}
    ${known
      ? html`${six(context, known)}
          <div class="sheet-columns">
            <div>${speeds(context, plan, known)}${ways(context, plan, known)}</div>
            <div>${airs(context, plan, known)}<div class="sheet-detail">${around(context, plan, known)}</div></div>
          </div>
          <div class="sheet-detail">${load(context, plan, known)} ${said(context, known)} ${doors(context, known)}</div>`
      : html`<p>${t("shell.not_yet")}</p>`}
    <footer class="sheet-foot">
      <p><b>${answers.caution ? words(answers.caution, context.chosen) : t("caution")}</b></p>
      <p>${t("device.sheet.made", { when: moment(now()), build: context.offline.version || BUILT })}</p>
    </footer>
  </article>`;
}

/** @param {string} time */
const moment = (time) => `${day(time)} ${clock(time)}`;

/** A later time: its clock alone where it is the same day. @param {string} from @param {string} time */
const until = (from, time) => (isToday(time, Date.parse(from ?? time)) ? clock(time) : moment(time));

/** @param {Context} context @param {Plan} plan @param {number} of @param {Json} known */
function head({ t, chosen }, plan, of, known) {
  const { trip, leg, number, from, to, takeoff, landing, aeroplane, configuration } = plan;
  const figures = known?.figures ?? {};
  const worst = known?.answers.find((/** @type {Json} */ { question }) => question === known.worst);
  const reason = worst?.reasons[0];
  const way = [
    typeof figures.distance === "number" ? amount(figures.distance, "distance", chosen) : "",
    typeof figures.bearing === "number" ? t("shell.strip.bearing", { bearing: degrees(figures.bearing) }) : "",
    typeof figures.flight_time === "number" ? amount(figures.flight_time, "time", chosen) : "",
  ];
  return html`<header class="sheet-head">
    <p class="sheet-line"><span>${trip.name}, ${t("shell.leg.of", { n: number, of })}</span> <span>${figures.departure ? t("device.sheet.leaves", { when: moment(figures.departure) }) : leg.departure ? moment(leg.departure) : t("shell.no_departure")}</span></p>
    <h2>${from?.name} ${takeoff?.designator ?? ""} → ${to?.name} ${landing?.designator ?? ""}</h2>
    <p class="sheet-line">
      <span>${[aeroplane?.name, aeroplane?.registration, configuration?.name].filter(Boolean).join(", ")}</span>
      <span>${way.filter(Boolean).join(", ")}${figures.arrival ? html`, ${t("device.sheet.lands", { when: until(figures.departure, figures.arrival) })}` : nothing}</span>
    </p>
    <div class="sheet-verdict">
      ${verdictLabel(known?.verdict, { big: true })}
      <p><b>${known ? (known.verdict === "yes" ? t("shell.all_yes") : `${t(`question.${known.worst}`)}.`) : nothing}</b> ${reason ? words(reason, chosen) : nothing}</p>
    </div>
  </header>`;
}

/** @param {Context} context @param {Json} known */
function six({ t, chosen }, known) {
  // On a phone, where the head of the table has no room.
  const label = (/** @type {string} */ name) => html`<span class="sheet-label" aria-hidden="true">${t(`device.sheet.${name}`)} </span>`;
  const cell = (/** @type {number | null} */ value, /** @type {Json} */ measure) => (value === null || !measure ? "–" : amount(value, measure.dimension, chosen));
  return html`<table class="sheet-six">
    <thead>
      <tr>
        ${["verdict", "question", "measure", "needed", "available", "left"].map((name, i) => html`<th scope="col" class=${i > 2 ? "number" : ""}>${t(`device.sheet.${name}`)}</th>`)}
      </tr>
    </thead>
    <tbody>
      ${QUESTIONS.map((question) => {
        const answer = known.answers.find((/** @type {Json} */ one) => one.question === question);
        const measure = answer.measures[answer.governing ?? 0];
        const reasons = question === known.worst ? answer.reasons.slice(1) : answer.reasons;
        // What the row itself says is not said again below it.
        const more = unique(reasons, chosen).filter((line) => !measure || !line.startsWith(`${measureName(measure, chosen)}:`));
        return html`<tr>
            <td>${verdictLabel(answer.verdict)}</td>
            <th scope="row">${t(`question.${question}`)}</th>
            <td>${measure ? measureName(measure, chosen) : nothing}${measure?.band ? html` <span class="sheet-band">${t("device.sheet.own", { band: ends(measure, t, chosen) })}</span>` : nothing}</td>
            <td class="number">${label("needed")}${cell(answer.needed, measure)}</td>
            <td class="number">${label("available")}${cell(answer.available, measure)}</td>
            <td class="number">${label("left")}<b>${answer.margin === null || !ruling(answer) ? "–" : answer.margin < 0 ? t("shell.short", { by: marginAmount(answer.margin, measure.dimension, chosen) }) : marginAmount(answer.margin, measure.dimension, chosen)}</b></td>
          </tr>
          ${more.length && answer.verdict !== "yes" ? html`<tr class="sheet-reason"><td></td><td colspan="5">${more.slice(0, 3).join(". ")}</td></tr>` : nothing}`;
      })}
    </tbody>
  </table>`;
}

/** Both ends of what own runs make of it. @param {Json} measure @param {Context["t"]} t @param {Context["chosen"]} chosen */
function ends({ band, dimension }, t, chosen) {
  if (band.low === null || band.high === null) return t("device.sheet.band_open", { low: band.low === null ? t("shell.unsaid") : amount(band.low, dimension, chosen) });
  return t("device.sheet.ends", { low: numeral(band.low, dimension, chosen), high: amount(band.high, dimension, chosen) });
}

/** @param {Json} known @param {string} question */
const picture = (known, question) => known.answers.find((/** @type {Json} */ one) => one.question === question)?.picture ?? {};

/** True speed of a note that tells one, which a silent dial does not hide. @param {Json} known @param {string} question @param {string} text */
function speedNote(known, question, text) {
  const notes = known.answers.find((/** @type {Json} */ one) => one.question === question)?.notes ?? [];
  return notes.find((/** @type {Json} */ note) => note.text === text || note.text === `${text}_no_dial`)?.values ?? {};
}

/** Speeds as the dial shows them, true second. @param {Context} context @param {Plan} plan @param {Json} known */
function speeds({ t, chosen }, plan, known) {
  const { leg, aeroplane } = plan;
  const climb = picture(known, "climbs_out");
  const flap = (/** @type {string} */ id) => aeroplane?.flaps?.find((/** @type {Json} */ one) => one.id === id)?.name ?? "";
  const rows = [
    ["lift_off", flap(leg.takeoff_flap), speedNote(known, "lifts_off", "note.lift_off")],
    ["climb", flap(leg.takeoff_flap), { indicated: climb.speed_indicated, true: climb.speed_true }],
    ["approach", flap(leg.landing_flap), speedNote(known, "stops", "note.approach")],
  ];
  const cell = (/** @type {Json} */ speed) => (typeof speed === "number" ? amount(speed, "speed", chosen) : "–");
  return html`<table class="sheet-speeds">
    <caption>${t("device.sheet.speeds")}</caption>
    <thead>
      <tr><td></td><th scope="col" class="number">${t("device.sheet.dial")}</th><th scope="col" class="number">${t("device.sheet.true")}</th></tr>
    </thead>
    <tbody>
      ${rows.map(([name, with_, speed]) => html`<tr><th scope="row">${t(`device.sheet.${name}`)}${with_ ? html`, <span>${with_}</span>` : nothing}</th><td class="number"><b>${cell(/** @type {Json} */ (speed).indicated)}</b></td><td class="number">${cell(/** @type {Json} */ (speed).true)}</td></tr>`)}
    </tbody>
  </table>`;
}

/** The abort point, and the lengths of both ways. @param {Context} context @param {Plan} plan @param {Json} known */
function ways(context, plan, known) {
  const { t, chosen } = context;
  const { abort } = picture(known, "lifts_off");
  const lines = [];
  if (abort && typeof abort.distance === "number") {
    const values = { distance: abort.distance, speed: abort.indicated };
    lines.push(t(typeof abort.indicated === "number" ? "picture.abort.speed" : abort.rule === "tail_up" ? "picture.abort.tail_up" : "picture.abort.airborne", values));
  } else {
    const notes = known.answers.flatMap((/** @type {Json} */ one) => one.notes).filter((/** @type {Json} */ { text }) => text.startsWith("abort."));
    lines.push(notes.length ? unique(notes, chosen).join(". ") : t("device.sheet.no_abort"));
  }
  const land = picture(known, "stops");
  const roll = (/** @type {Json} */ way, /** @type {string} */ text) =>
    typeof way.roll === "number" && typeof way.over_50ft === "number" && typeof way.length === "number" ? [t(text, { roll: way.roll, over: way.over_50ft, length: way.length })] : [];
  // Below those lengths what own runs make of them, where there is a notebook.
  const own = (/** @type {string} */ question, /** @type {string} */ whole) => {
    const { measures, governing } = known.answers.find((/** @type {Json} */ one) => one.question === question);
    const told = ["roll", whole].flatMap((name) => {
      const measure = measures.find((/** @type {Json} */ one) => one.name === name);
      // the governing one's stands in the table
      return measure?.band && measure !== measures[governing ?? 0] ? [t(`device.sheet.own_${name}`, { band: ends(measure, t, chosen) })] : [];
    });
    return told.length ? [t("device.sheet.own_way", { all: told.join(", ") })] : [];
  };
  const more = [
    ...roll(picture(known, "lifts_off"), "device.sheet.takeoff_way"),
    ...own("lifts_off", "takeoff_distance"),
    ...roll(land, "device.sheet.landing_way"),
    ...own("stops", "landing_distance"),
  ];
  return html`<p class="sheet-abort"><b>${lines.join(" ")}</b></p>
    ${more.map((line) => html`<p class="sheet-way">${line}</p>`)}`;
}

/** What stands beyond the ends, and where the fuel goes. @param {Context} context @param {Plan} plan @param {Json} known */
function around(context, { takeoff, landing }, known) {
  const { t, chosen } = context;
  const obstacles = [
    takeoff && `${t("shell.strip.departure")}: ${obstacleWords(context, takeoff.departure)}`,
    landing && `${t("shell.strip.approach")}: ${obstacleWords(context, landing.approach)}`,
    landing && `${t("shell.strip.go_around")}: ${t(`shell.go_around.${landing.go_around ?? "unknown"}`)}`,
  ].filter(Boolean);
  const fuel = picture(known, "reaches").fuel ?? [];
  return html`<p class="sheet-small">${obstacles.join(". ")}</p>
    ${fuel.length
      ? html`<p class="sheet-small">
          <b>${t("device.sheet.fuel")}</b> ${fuel.map((/** @type {Json} */ one) => `${t(`picture.fuel.${one.part}`)} ${typeof one.volume === "number" ? amount(one.volume, "volume", chosen) : "–"}`).join(", ")}
        </p>`
      : nothing}`;
}

/** The air of both ends, and until when it counts. @param {Context} context @param {Plan} plan @param {Json} known */
function airs(context, plan, known) {
  const { figures } = known;
  return html`${air(context, plan, plan.airFrom, plan.from, picture(known, "lifts_off").wind, figures.density_altitude)}
  ${air(context, plan, plan.airTo, plan.to, picture(known, "stops").wind, figures.far_density_altitude)}`;
}

/** @param {Context} context @param {Plan} plan @param {Json} air @param {Json} strip @param {Json} wind as it counts @param {number | null} density */
function air({ t, chosen }, plan, air, strip, wind, density) {
  const title = html`<b>${t("shell.air.title", { strip: strip?.name ?? "" })}</b>`;
  const high = typeof density === "number" ? t("device.sheet.density_altitude", { density }) : t("device.sheet.no_density_altitude");
  if (!air) return html`<p class="sheet-air">${title}: ${t("device.sheet.derived")} ${high}</p>`;
  const { pressure, temperature } = air;
  const end = later(air.at, (plan.settings?.air_age ?? AIR_AGE) / 60);
  const parts = [
    pressure?.by === "qnh" ? t("device.sheet.qnh", { qnh: pressure.qnh }) : pressure ? t("device.sheet.altimeter", { reading: pressure.pressure_altitude }) : t("device.sheet.no_pressure"),
    typeof temperature === "number" ? amount(temperature, "temperature", chosen) : t("device.sheet.no_temperature"),
    typeof air.dew_point === "number" ? t("device.sheet.dew_point", { dew_point: air.dew_point }) : "",
    windWords(air, wind, t, chosen),
    high,
  ];
  return html`<p class="sheet-air">${title}: ${parts.filter(Boolean).join("; ")}.</p>
    <p class="sheet-until"><b>${t(air.origin === "forecast" ? "device.sheet.until_forecast" : "device.sheet.until", { at: moment(air.at), until: until(air.at, end) })}</b></p>`;
}

/** @param {Json} air @param {Json} wind @param {Context["t"]} t @param {Context["chosen"]} chosen */
function windWords(air, wind, t, chosen) {
  if (!air.wind) return t("device.sheet.no_wind");
  if (air.wind.by === "calm") return t("shell.air.calm_short");
  const numbers = wind && typeof wind.low === "number" && typeof wind.high === "number";
  const speed = !numbers ? "–" : wind.low === wind.high ? amount(wind.high, "speed", chosen) : t("device.sheet.band", { low: numeral(wind.low, "speed", chosen), high: wind.high });
  const from = typeof wind?.from === "number" ? t("shell.from.true", { bearing: degrees(wind.from).replace("°", "") }) : "";
  const along = typeof wind?.headwind === "number" ? t(wind.headwind < 0 ? "device.sheet.tail" : "device.sheet.headwind", { by: Math.abs(wind.headwind) }) : "";
  const across = typeof wind?.crosswind === "number" ? t(wind.crosswind < 0 ? "device.sheet.cross_left" : "device.sheet.cross_right", { by: Math.abs(wind.crosswind) }) : "";
  // A band that reaches up to the gust has told it.
  const told = numbers && wind.high >= air.wind.gust - 0.01;
  const gust = typeof air.wind.gust === "number" && !told ? t("shell.air.gusting", { gust: air.wind.gust }) : "";
  return `${t("shell.air.wind").toLowerCase()} ${[from, [speed, gust].filter(Boolean).join(" "), along, across].filter(Boolean).join(", ")}`;
}

/** To be ticked with a pencil. @param {Context} context @param {Json} known */
const doors = ({ t, chosen }, known) =>
  html`<p class="sheet-small sheet-doors"><b>${t("shell.tab.doors")}</b> ${doorLines(known, chosen).map((line) => html`<span>[\u00a0\u00a0]\u00a0${/[.!?]$/.test(line) ? line : `${line}.`} </span>`)}</p>`;

/** The load by station, what is in each, and the masses. @param {Context} context @param {Plan} plan @param {Json} known */
function load(context, plan, known) {
  const { t, chosen, store } = context;
  const { trip, leg, aeroplane, configuration } = plan;
  const stations = stationsOf(aeroplane, configuration);
  const balance = picture(known, "balances");
  const at = (/** @type {string} */ id) => balance.stations?.find((/** @type {Json} */ one) => one.id === id);
  const items = new Map(itemsOf(store, { ...trip, kits: undefined }).flatMap((/** @type {Json} */ kit) => kit.items.map((/** @type {Json} */ item) => [item.id, item])));
  const placed = plan.load?.placed ?? [];
  const kilograms = (/** @type {Json} */ mass) => (typeof mass === "number" ? amount(mass, "mass", chosen) : "–");
  const row = (/** @type {string} */ name, /** @type {unknown} */ what, /** @type {Json} */ mass, /** @type {Json} */ arm) =>
    html`<tr><th scope="row">${name}</th><td>${what}</td><td class="number"><b>${kilograms(mass)}</b></td><td class="number">${typeof arm === "number" ? amount(arm, "arm", chosen) : "–"}</td></tr>`;
  const seats = stations.seats.map((/** @type {Json} */ seat) => {
    const seated = plan.load?.seats?.find((/** @type {Json} */ one) => one.seat === seat.id);
    const person = seated && store.get(seated.person);
    return row(seat.name, person?.name ?? t("shell.load.nobody"), person ? (at(seat.id)?.mass ?? person.mass?.value) : 0, seat.arm?.value);
  });
  const bays = stations.bays.map((/** @type {Json} */ bay) => {
    const inside = placed.filter((/** @type {Json} */ one) => bayOf(plan.load, one.item) === bay.id).map((/** @type {Json} */ { item }) => items.get(item)).filter(Boolean);
    // A thing whose mass nobody told leaves the bay's mass untold; a bay with nothing in it weighs nothing.
    const mass = inside.length ? at(bay.id)?.mass : 0;
    const list = inside.map((/** @type {Json} */ one) => (one.mass ? `${one.name} ${numeral(one.mass.value, "mass", chosen)}` : `${one.name} –`)).join(", ");
    const count = t("device.sheet.things", { n: inside.length });
    const named = inside.length > 3 ? html`<span class="sheet-items">${list}</span><span class="sheet-count">${count}</span>` : list;
    return row(bay.name, inside.length ? named : t("device.sheet.empty_bay"), mass, bay.arm?.value);
  });
  const tanks = stations.tanks.map((/** @type {Json} */ tank) => {
    const line = leg.fuel?.find((/** @type {Json} */ one) => one.tank === tank.id);
    return row(tank.name, line ? amount(line.volume.value, "volume", chosen) : t("shell.absent"), at(tank.id)?.mass, tank.arm?.value);
  });
  const loose = placed.filter((/** @type {Json} */ one) => !bayOf(plan.load, one.item)).map((/** @type {Json} */ { item }) => items.get(item)?.name).filter(Boolean);
  const moments = (balance.states ?? []).filter((/** @type {Json} */ { state }) => ["ramp", "takeoff", "landing", "zero_fuel"].includes(state));
  return html`<table class="sheet-load">
      <caption>${t("device.sheet.load")}</caption>
      <thead>
        <tr>
          ${["station", "what", "mass", "arm"].map((name, i) => html`<th scope="col" class=${i > 1 ? "number" : ""}>${t(`device.sheet.${name}`, { unit: display("mass", chosen).unit })}</th>`)}
        </tr>
      </thead>
      <tbody>
        ${balance.empty ? row(t("device.sheet.empty"), configuration?.name, balance.empty.mass, balance.empty.arm) : nothing} ${seats} ${bays} ${tanks}
      </tbody>
    </table>
    <p class="sheet-states">
      ${moments.length
        ? moments.map((/** @type {Json} */ one) => html`<span><b>${kilograms(one.mass)}</b> ${t("shell.aeroplane.at")} <b>${amount(one.arm, "arm", chosen)}</b> ${t(`state.${one.state}`)}</span>`)
        : t("device.sheet.no_balance")}
    </p>
    ${loose.length ? html`<p class="sheet-small">${t("device.sheet.loose", { what: loose.join(", ") })}</p>` : nothing}`;
}

/** Notes of the owner, what was odd, and what was assumed. @param {Context} context @param {Json} known */
function said({ t, chosen }, known) {
  const notes = known.answers.flatMap((/** @type {Json} */ { notes }) => notes.filter((/** @type {Json} */ { text }) => text === "text" || text === "note.committed"));
  const list = (/** @type {string} */ title, /** @type {Json[]} */ all) => {
    const lines = unique(all, chosen).map((line) => (/[.!?]$/.test(line) ? line : `${line}.`));
    return lines.length ? html`<p class="sheet-said"><b>${t(title)}:</b> ${lines.join(" ")}</p>` : nothing;
  };
  return html`${list("shell.warnings", known.warnings ?? [])} ${list("shell.notes", notes)}
  ${list("shell.assumptions", known.answers.flatMap((/** @type {Json} */ { assumptions }) => assumptions))}`;
}
