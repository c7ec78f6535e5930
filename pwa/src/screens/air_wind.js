// The wind at a strip: by its sock or by its speed, and where from by touch, against the strip or against true north.
// A wind without its direction is no wind yet: until the dial is touched the answers can't say.
import { html, nothing } from "lit";
import { choice } from "../parts/choice.js";
import { entry } from "../parts/entry.js";
import { angleWords, bearingWords, fullnessWords, sockPicture, turned } from "../parts/sock.js";
import { refusal, set, when } from "./air_edit.js";

/** @typedef {import("./context.js").Context} Context */
/** @typedef {import("../state/pointer.js").Json} Json */

/** The sock's bands. */
const FULLNESS = [0, 0.2, 0.4, 0.6, 0.8, 1];
/** Where the sliders of wind and gust end. [m/s] */
const STRONG = 30;
/** More than any wind somebody reads beside a strip: a slip. [m/s] */
const NO_WIND_TO_FLY = 50;

/** @param {Context} context @param {Json} air @param {Json} strip */
export function windPart(context, air, strip) {
  const { t, ui, plan } = context;
  const place = `wind-${ui.end}-${plan?.leg.id}`;
  const waiting = ui.wind[place];
  const given = waiting ?? air?.wind;
  const way = ui.way[place] ?? (given?.by === "measured" ? "measured" : "sock");
  const chosenDirection = ui.end === "from" ? plan?.takeoff : plan?.landing;
  const direction = strip.directions.find((/** @type {Json} */ { id }) => id === given?.against) ?? chosenDirection ?? strip.directions[0];
  const blows = given && given.by !== "calm";
  const north = blows && !given.against;
  /**
   * Keep the wind when it is whole; else take the one that is kept away, and wait for the rest.
   * @param {Json} next
   */
  const put = (next) => {
    const whole = next.by === "calm" || typeof next.wind_from === "number";
    context.turn({ wind: { ...ui.wind, [place]: whole ? undefined : next } });
    if (whole || air?.wind) set(context, "wind", whole ? next : undefined);
  };
  /** What of the wind given so far stays when it is given another way. */
  const from = blows ? { against: given.against, wind_from: given.wind_from } : { against: direction.id };
  return html`<section id="air-wind" class="air-part block">
    <div class="entry-head">
      <h2>${t("shell.air.wind")}</h2>
      <span class="small">${(waiting ? undefined : when(context, air, "wind")) ?? ""}</span>
    </div>
    ${choice({
      name: place,
      label: t("shell.air.wind_by"),
      hideLabel: true,
      value: way,
      options: ["sock", "measured"].map((value) => ({ value, label: t(`shell.air.way_${value}`) })),
      set: (value) => context.turn({ way: { ...ui.way, [place]: value } }),
    })}
    ${way === "sock"
      ? bySock(context, given, place, (fullness) => put(fullness === 0 ? { by: "calm" } : { by: "sock", fullness, ...from }))
      : bySpeed(context, air, given, (measured) => put(measured ? { by: "measured", ...measured, ...from } : { by: "calm" }))}
    ${blows
      ? html`${choice({
            name: `${place}-frame`,
            label: t("shell.air.frame"),
            hideLabel: true,
            value: north ? "north" : "strip",
            options: [
              { value: "strip", label: t("shell.air.frame_strip", { designator: direction.designator }) },
              { value: "north", label: t("shell.air.frame_north") },
            ],
            // An angle against one is none against the other: the dial has to be touched again.
            set: (value) => put({ ...given, against: value === "north" ? undefined : direction.id, wind_from: undefined }),
          })}
          <p class="dial-words" role="status">
            ${typeof given.wind_from !== "number"
              ? html`<b>${t("shell.air.turn_dial")}</b>`
              : north
                ? bearingWords(given.wind_from)
                : t("shell.air.against", { designator: direction.designator, where: angleWords(given.wind_from) })}
          </p>
          <wind-dial
            .angle=${given.wind_from}
            .designator=${direction.designator}
            .bearing=${north ? direction.bearing : undefined}
            @turn=${(/** @type {CustomEvent} */ { detail }) => put({ ...given, wind_from: detail })}
          ></wind-dial>
          ${typeof given.wind_from === "number"
            ? html`<div class="dial-turns">
                ${[-1, 1].map(
                  (way) => html`<button type="button" class="plain" @click=${() => put({ ...given, wind_from: turned(given.wind_from, way) })}>
                    ${t(way < 0 ? "shell.sock.turn_left" : "shell.sock.turn_right")}
                  </button>`,
                )}
              </div>`
            : nothing}`
      : html`<p class="small">${given ? t("shell.air.calm") : t("shell.air.no_wind_given")}</p>`}
    ${refusal(context, air, "/wind") ? html`<p class="wrong" role="alert">${refusal(context, air, "/wind")}</p>` : nothing}
  </section>`;
}

/** @param {Context} context @param {Json} given @param {string} place @param {(fullness: number) => void} choose */
function bySock({ t }, given, place, choose) {
  const full = given?.by === "calm" ? 0 : given?.by === "sock" ? given.fullness : undefined;
  const near = FULLNESS.find((one) => full !== undefined && Math.abs(one - full) < 1e-6);
  return html`
    ${choice({
      name: `${place}-full`,
      label: t("shell.air.fullness"),
      hideLabel: true,
      pictured: true,
      value: near === undefined ? undefined : String(near),
      options: FULLNESS.map((fullness) => ({
        value: String(fullness),
        label: html`${sockPicture(fullness)}<span>${fullnessWords(fullness)}</span>`,
      })),
      set: (value) => choose(Number(value)),
    })}
    ${full !== undefined && near === undefined ? html`<p class="small">${fullnessWords(full)}</p>` : nothing}
  `;
}

/** @param {Context} context @param {Json} air @param {Json} given @param {(measured: Json) => void} choose undefined: calm */
function bySpeed(context, air, given, choose) {
  const { t, ui } = context;
  const measured = given?.by === "measured" ? given : undefined;
  const name = `${air?.id ?? ui.end}/wind`;
  const withGust = (/** @type {number} */ speed, /** @type {number | undefined} */ gust) => ({
    speed,
    ...(gust !== undefined && gust > speed ? { gust } : {}),
  });
  return html`${entry(context, {
    name: `${name}/speed`,
    label: t("shell.air.speed"),
    value: measured ? measured.speed : given?.by === "calm" ? 0 : undefined,
    dimension: "speed",
    step: 1,
    low: 0,
    high: STRONG,
    start: 0,
    possible: [0, NO_WIND_TO_FLY],
    set: (speed) => choose(speed > 0 ? withGust(speed, measured?.gust) : undefined),
    // no figure is not calm
    clear: () => set(context, "wind", undefined),
  })}
  ${measured
    ? entry(context, {
        name: `${name}/gust`,
        label: t("shell.air.gust"),
        value: measured.gust ?? measured.speed,
        dimension: "speed",
        step: 1,
        low: measured.speed,
        high: STRONG + 10,
        start: measured.speed,
        possible: [0, NO_WIND_TO_FLY],
        set: (gust) => choose(withGust(measured.speed, gust)),
        clear: () => choose(withGust(measured.speed, undefined)),
      })
    : nothing}`;
}
