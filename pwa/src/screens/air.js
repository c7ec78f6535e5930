// Today's air by thumb, in four entries: pressure, temperature, how full the sock is, and where the wind comes from.
import { html, nothing } from "lit";
import { choice } from "../parts/choice.js";
import { entry } from "../parts/entry.js";
import { fullnessWords } from "../parts/sock.js";
import { age, clock, day, isToday, now } from "../state/time.js";
import { refusal, set, when } from "./air_edit.js";
import { windPart } from "./air_wind.js";
import { follow, notices, undoButton } from "./status.js";

/** @typedef {import("./context.js").Context} Context */
/** @typedef {import("../state/pointer.js").Json} Json */

/** Where the sliders end; typing goes as far as the document allows. */
const REACH = { temperature: [243.15, 323.15], qnh: [96_000, 105_000] };
/** Beyond these a figure typed is a slip: "270" for 27 °C. [SI] @type {Record<string, [number, number]>} */
const POSSIBLE = { temperature: [223.15, 328.15], qnh: [85_000, 112_000], altitude: [-600, 7_000] };
/** The standard pressure by which an altimeter is set to read pressure altitude. [Pa] */
const STANDARD = 101_325;

/** @param {Context} context */
export function airScreen(context) {
  const { plan, ui, t } = context;
  if (!plan) return nothing;
  const { from, to } = plan;
  const end = ui.end;
  const air = end === "from" ? plan.airFrom : plan.airTo;
  const strip = end === "from" ? from : to;
  return html`
    <header class="head open-head">
      <a class="back back-answers" href="#/"><span aria-hidden="true">‹&nbsp;</span>${t("shell.back")}</a>
      <h1 tabindex="-1">${t("shell.air.title", { strip: strip.name })}</h1>
      ${follow(context)}
    </header>
    ${notices(context)}
    <div class="block">
      ${choice({
        name: "air-end",
        label: t("shell.air.where"),
        hideLabel: true,
        value: end,
        options: [
          { value: "from", label: t("shell.air.end_here", { strip: from.name }) },
          { value: "to", label: t("shell.air.end_there", { strip: to.name }) },
        ],
        set: (value) => context.turn({ end: value === "to" ? "to" : "from" }),
      })}
    </div>
    ${reading(context, air)}
    ${end === "to" && !air ? html`<p class="block">${t("shell.air.derived", { strip: to.name })}</p>` : nothing}
    ${pressure(context, air, strip)} ${temperature(context, air)} ${windPart(context, air, strip)} ${moisture(context, air)}
    ${undoButton(context)}
  `;
}

/** @param {Context} context @param {Json} air @param {Json} strip */
function pressure(context, air, strip) {
  const { t, ui, chosen } = context;
  const place = `pressure-${ui.end}`;
  const by = ui.way[place] ?? air?.pressure?.by ?? "altimeter";
  const given = air?.pressure?.by === by ? air.pressure : undefined;
  const ground = strip.elevation?.value ?? 0;
  const metric = chosen.height === "m";
  const inches = chosen.pressure === "inHg";
  return html`<section id="air-pressure" class="air-part">
    ${choice({
      name: place,
      label: t("shell.air.pressure"),
      hideLabel: true,
      value: by,
      options: [
        { value: "altimeter", label: t("shell.air.way_altimeter", { standard: STANDARD }) },
        { value: "qnh", label: t("shell.air.way_qnh") },
      ],
      set: (value) => context.turn({ way: { ...ui.way, [place]: value } }),
    })}
    ${by === "altimeter"
      ? entry(context, {
          name: `${air?.id ?? place}/pressure_altitude`,
          label: t("shell.air.pressure_altitude"),
          value: given?.pressure_altitude,
          dimension: "height",
          step: metric ? 5 : 20,
          slide: metric ? 10 : 20,
          low: ground - 450,
          high: ground + 450,
          start: ground,
          note: given ? when(context, air, "pressure") : strip.elevation ? t("shell.air.elevation", { elevation: ground }) : "",
          problem: refusal(context, air, "/pressure"),
          possible: POSSIBLE.altitude,
          set: (value) => set(context, "pressure", { by: "altimeter", pressure_altitude: value }),
          clear: () => set(context, "pressure", undefined),
        })
      : entry(context, {
          name: `${air?.id ?? place}/qnh`,
          label: t("shell.air.qnh"),
          value: given?.qnh,
          dimension: "pressure",
          step: inches ? 0.01 : 1,
          low: REACH.qnh[0],
          high: REACH.qnh[1],
          start: STANDARD,
          note: given ? when(context, air, "pressure") : undefined,
          problem: refusal(context, air, "/pressure"),
          possible: POSSIBLE.qnh,
          set: (value) => set(context, "pressure", { by: "qnh", qnh: value }),
          clear: () => set(context, "pressure", undefined),
        })}
  </section>`;
}

/** @param {Context} context @param {Json} air */
function temperature(context, air) {
  const { t, ui } = context;
  return html`<section id="air-temperature" class="air-part">
    ${entry(context, {
      name: `${air?.id ?? ui.end}/temperature`,
      label: t("shell.air.temperature"),
      value: air?.temperature,
      dimension: "temperature",
      step: 1,
      low: REACH.temperature[0],
      high: REACH.temperature[1],
      start: 288.15,
      note: when(context, air, "temperature"),
      problem: refusal(context, air, "/temperature"),
      possible: POSSIBLE.temperature,
      set: (value) => set(context, "temperature", value),
      clear: () => set(context, "temperature", undefined),
    })}
  </section>`;
}

/** Dew point and a wet wing: asked for, never needed to go on. @param {Context} context @param {Json} air */
function moisture(context, air) {
  const { t, ui } = context;
  if (!air) return nothing;
  const wet = air.wing_wet === true ? "wet" : air.wing_wet === false ? "dry" : "unsaid";
  return html`<details class="block more">
    <summary>${t("shell.air.more")}</summary>
    ${entry(context, {
      name: `${air.id ?? ui.end}/dew_point`,
      label: t("shell.air.dew_point"),
      value: air.dew_point,
      dimension: "temperature",
      step: 1,
      low: REACH.temperature[0],
      high: REACH.temperature[1],
      start: Math.min(air.temperature ?? 283.15, 283.15),
      problem: refusal(context, air, "/dew_point"),
      possible: POSSIBLE.temperature,
      set: (value) => set(context, "dew_point", value),
      clear: () => set(context, "dew_point", undefined),
    })}
    ${air.dew_point !== undefined && air.dew_point !== null
      ? html`<button type="button" class="plain" @click=${() => set(context, "dew_point", undefined)}>${t("shell.air.no_dew_point")}</button>`
      : nothing}
    ${choice({
      name: "wing",
      label: t("shell.air.wing"),
      value: wet,
      options: ["unsaid", "dry", "wet"].map((value) => ({ value, label: t(`shell.air.wing_${value}`) })),
      set: (value) => set(context, "wing_wet", value === "unsaid" ? undefined : value === "wet"),
    })}
  </details>`;
}

/** The figures that one touch vouches for. @param {Context} context @param {Json} air */
function still({ t, format }, air) {
  const { pressure, temperature, wind } = air;
  if (!pressure || typeof temperature !== "number" || !wind) return t("shell.air.read_now");
  const said = {
    altimeter: () => format.q(pressure.pressure_altitude, "height"),
    qnh: () => format.q(pressure.qnh, "pressure"),
    calm: () => t("shell.air.still_sock", { full: fullnessWords(0) }),
    sock: () => t("shell.air.still_sock", { full: fullnessWords(wind.fullness) }),
    measured: () => format.q(wind.speed, "speed"),
  };
  return t("shell.air.still", {
    pressure: said[/** @type {"altimeter" | "qnh"} */ (pressure.by)](),
    temperature: format.q(temperature, "temperature"),
    wind: said[/** @type {"calm" | "sock" | "measured"} */ (wind.by)](),
  });
}

/** How old the reading is, and one touch for "it is still so". @param {Context} context @param {Json} air */
function reading(context, air) {
  const { t, store, plan } = context;
  if (!air || !plan) return nothing;
  const at = air.at;
  const words = t(`shell.air.origin_${air.origin}`, {
    when: `${isToday(at) ? "" : `${day(at)}, `}${clock(at)}`,
    age: t(age(at).text, age(at).values),
  });
  const again = (/** @type {Json} */ changes) =>
    store.edit(
      Object.entries(changes).map(([field, value]) => ({ document: air.id, pointer: `/${field}`, value })),
      { text: "shell.undo.read" },
    );
  return html`<section class="block reading">
    <p>${plan.trip.id === context.demo && !Object.keys(air.stamps ?? {}).length ? t("shell.air.demo") : words}</p>
    <div class="buttons">
      <button type="button" class="plain strong" @click=${() => again({ at: now(), origin: "read" })}>${still(context, air)}</button>
      ${plan.leg.departure && air.origin !== "forecast"
        ? html`<button type="button" class="plain" @click=${() => again({ at: plan.leg.departure, origin: "forecast" })}>${t("shell.air.as_forecast", { clock: clock(plan.leg.departure) })}</button>`
        : nothing}
    </div>
  </section>`;
}
