// The open aeroplane, read-only: every figure with where it came from, its configurations, and the owner's notes.
import { html, nothing } from "lit";
import { facts, figureFact, originKey } from "../parts/facts.js";
import { amount, sourced } from "../parts/words.js";
import { day } from "../state/time.js";

/** @typedef {import("./context.js").Context} Context */
/** @typedef {import("../state/pointer.js").Json} Json */
/** @typedef {import("../parts/facts.js").Fact} Fact */

/** @param {Context} context */
export function aeroplaneScreen(context) {
  const { plan, t } = context;
  const one = plan?.aeroplane;
  if (!one) return html`<p class="block">${t("shell.aeroplane.none")}</p>`;
  const section = (/** @type {string} */ title, /** @type {(Fact | undefined | false)[]} */ list) =>
    list.some(Boolean) ? html`<section class="block"><h2>${t(`shell.aeroplane.${title}`)}</h2>${facts(list)}</section>` : nothing;
  return html`
    <header class="head open-head">
      <h1 tabindex="-1">${one.name}</h1>
      <span class="small">${[one.registration, one.class_of].filter(Boolean).join(" · ")}</span>
    </header>
    <div class="block buttons">
      <a class="plain" href="#/edit/${one.id}">${t("shell.edit")}</a> <a class="plain" href="#/notebook">${t("shell.tab.notebook")}</a> <a class="plain" href="#/runup">${t("shell.tab.runup")}</a>
      <a class="plain" href="#/tune">${t("shell.tab.tune")}</a> <a class="plain" href="#/whatif">${t("shell.tab.whatif")}</a> <a class="plain" href="#/edit">${t("form.mine")}</a>
    </div>
    <div class="block lead">${one.note ? html`<p>${one.note}</p>` : nothing} ${originKey(context)}</div>
    ${quirks(context, one)} ${configurations(context, one)} ${section("limits", limits(context, one))}
    ${section("seats", seats(context, one))} ${section("bays", bays(context, one))} ${section("tanks", tanks(context, one))}
    ${section("speeds", speeds(context, one))} ${section("fuel", fuel(context, one))} ${section("build", build(context, one))}
    ${section("performance", performance(context, one))}
  `;
}

/** @param {Context} context @param {Json} one */
function quirks({ t }, one) {
  if (!one.quirks?.length) return nothing;
  return html`<section class="block">
    <h2>${t("shell.aeroplane.quirks")}</h2>
    <ul class="said">
      ${one.quirks.map(
        (/** @type {Json} */ { text, at }) =>
          html`<li>${text} <span class="small">${(at ?? []).map((/** @type {string} */ question) => t(`question.${question}`)).join(", ")}</span></li>`,
      )}
    </ul>
  </section>`;
}

/** @param {Context} context @param {Json} one */
function configurations({ t, chosen, plan }, one) {
  return html`<section class="block">
    <h2>${t("shell.aeroplane.configurations")}</h2>
    ${one.configurations.map((/** @type {Json} */ configuration) => {
      const { weighing, changes = [], based_on } = configuration;
      const base = one.configurations.find((/** @type {Json} */ { id }) => id === based_on);
      const outs = ["seats", "bays", "tanks"].flatMap((what) => configuration[`${what}_out`] ?? []).map(
        (id) => [...(one.seats ?? []), ...(one.bays ?? []), ...(one.tanks ?? [])].find((/** @type {Json} */ station) => station.id === id)?.name ?? id,
      );
      return html`<div class="direction">
        <h3>${configuration.name} ${configuration.id === plan?.configuration?.id ? html`<span class="small">${t("shell.aeroplane.now")}</span>` : nothing}</h3>
        ${facts([
          base && [t("shell.aeroplane.based_on"), base.name],
          weighing?.by === "mass_and_arm" && [t("shell.aeroplane.empty"), html`${sourced(weighing.mass, "mass", chosen)} ${t("shell.aeroplane.at")} ${sourced(weighing.arm, "arm", chosen)}`, weighedWords(weighing, t)],
          ...(weighing?.by === "scales"
            ? weighing.scales.map((/** @type {Json} */ scale) => /** @type {Fact} */ ([scale.name, html`${sourced(scale.reading, "mass", chosen)} ${t("shell.aeroplane.at")} ${sourced(scale.arm, "arm", chosen)}`, scale.tare ? t("shell.aeroplane.tare", { tare: scale.tare.value }) : undefined]))
            : []),
          weighing?.by === "scales" && [t("shell.aeroplane.weighed"), weighing.date ?? t("shell.absent"), weighedWords(weighing, t)],
          ...changes.map((/** @type {Json} */ { name, mass, arm }) => /** @type {Fact} */ ([name, html`${sourced(mass, "mass", chosen)} ${t("shell.aeroplane.at")} ${sourced(arm, "arm", chosen)}`])),
          outs.length > 0 && [t("shell.aeroplane.out"), outs.join(", ")],
          configuration.category && [t("shell.aeroplane.category"), configuration.category],
          configuration.note && [t("shell.note"), "", configuration.note],
        ])}
      </div>`;
    })}
  </section>`;
}

/** @param {Json} weighing @param {Context["t"]} t */
const weighedWords = (weighing, t) =>
  ["oil", "unusable_fuel"]
    .map((what) => {
      const said = weighing[`includes_${what}`];
      return t(`shell.aeroplane.${what}_${said === true ? "in" : said === false ? "out" : "unsaid"}`);
    })
    .join(", ") + (weighing.note ? `. ${weighing.note}` : "");

/** @param {Context} context @param {Json} one @returns {(Fact | undefined | false)[]} */
const limits = (context, { limits: most = {}, owner = {}, joint_limits: joint = [] }) => [
  ...joint.map((/** @type {Json} */ { name, mass_limit }) => /** @type {Fact} */ ([name, sourced(mass_limit, "mass", context.chosen)])),
  ...["ramp", "takeoff", "landing", "zero_fuel"].map((name) => most[name] && figureFact(context, `aeroplane.limit_${name}`, most[name], "mass")),
  ...(owner.mass_caps ?? []).map((/** @type {Json} */ cap) => /** @type {Fact} */ ([context.t("shell.aeroplane.cap", { altitude: cap.density_altitude }), amount(cap.mass, "mass", context.chosen)])),
  ...["wind", "crosswind", "tailwind", "gust_spread"].map((name) => owner[name] && figureFact(context, `aeroplane.own_${name}`, owner[name], "speed")),
];

/** @param {Context} context @param {Json} one @returns {Fact[]} */
const seats = ({ t, chosen }, one) =>
  (one.seats ?? []).map((/** @type {Json} */ seat) => [
    seat.name,
    html`${t("shell.aeroplane.arm")} ${sourced(seat.arm, "arm", chosen)}`,
    html`${t("shell.aeroplane.sits_well")} ${sourced(seat.height_sits_well, "short", chosen)}, ${t("shell.aeroplane.fits")}
    ${sourced(seat.height_fits, "short", chosen)}${seat.mass_limit ? html`, ${t("shell.aeroplane.at_most")} ${sourced(seat.mass_limit, "mass", chosen)}` : nothing}`,
  ]);

/** @param {Context} context @param {Json} one @returns {Fact[]} */
const bays = ({ t, chosen }, one) =>
  (one.bays ?? []).map((/** @type {Json} */ bay) => [
    bay.name,
    html`${sourced(bay.volume, "bulk", chosen)}, ${sourced(bay.mass_limit, "mass", chosen)}`,
    html`${t("shell.aeroplane.arm")} ${sourced(bay.arm, "arm", chosen)}, ${t("shell.aeroplane.longest")}
    ${sourced(bay.longest, "short", chosen)}${bay.restraint ? html`, ${t(`shell.restraint.${bay.restraint.by}`)}` : nothing}${bay.packing_fraction
      ? html`, ${t("shell.aeroplane.packing")} ${sourced(bay.packing_fraction, "ratio", chosen)}`
      : nothing}`,
  ]);

/** @param {Context} context @param {Json} one @returns {Fact[]} */
const tanks = ({ t, chosen }, one) =>
  (one.tanks ?? []).map((/** @type {Json} */ tank) => [
    tank.name,
    html`${sourced(tank.usable, "volume", chosen)} ${t("shell.aeroplane.usable")}`,
    html`${sourced(tank.unusable, "volume", chosen)} ${t("shell.aeroplane.unusable")}, ${t("shell.aeroplane.arm")} ${sourced(tank.arm, "arm", chosen)}`,
  ]);

/** @param {Context} context @param {Json} one @returns {(Fact | undefined | false)[]} */
const speeds = (context, { flaps = [], speeds: most = {} }) => [
  ...flaps.map((/** @type {Json} */ flap) => {
    const { t, chosen } = context;
    return /** @type {Fact} */ ([
      flap.name,
      html`${t("shell.aeroplane.stall")} ${sourced(flap.stall, "speed", chosen)}`,
      html`${flap.stall_mass ? html`${t("shell.aeroplane.at")} ${sourced(flap.stall_mass, "mass", chosen)}, ` : nothing}${flap.climb_speed
        ? html`${t("shell.aeroplane.climb")} ${sourced(flap.climb_speed, "speed", chosen)}, `
        : nothing}${flap.limit_speed ? html`${t("shell.aeroplane.at_most")} ${sourced(flap.limit_speed, "speed", chosen)}` : nothing}`,
    ]);
  }),
  ...["manoeuvring", "normal", "never_exceed"].map(
    (name) =>
      most[name] &&
      /** @type {Fact} */ ([
        context.t(`shell.aeroplane.speed_${name}`),
        html`${sourced(most[name], "speed", context.chosen)} ${context.t("shell.aeroplane.indicated")}`,
        most[name].note,
      ]),
  ),
];

/** @param {Context} context @param {Json} one @returns {(Fact | undefined | false)[]} */
const fuel = (context, { fuel: burnt = {}, cruises = [] }) => [
  figureFact(context, "aeroplane.taxi", burnt.taxi_and_run_up, "volume"),
  figureFact(context, "aeroplane.climb_flow", burnt.climb_flow, "flow"),
  burnt.descent_flow && figureFact(context, "aeroplane.descent_flow", burnt.descent_flow, "flow"),
  figureFact(context, "aeroplane.dip_error", burnt.dip_error, "volume"),
  ...cruises.map((/** @type {Json} */ cruise) => /** @type {Fact} */ ([cruise.name, html`${sourced(cruise.speed, "speed", context.chosen)}, ${sourced(cruise.flow, "flow", context.chosen)}`, context.t(`shell.aeroplane.speed_is_${cruise.speed_is ?? "true"}`)])),
];

/** @param {Context} context @param {Json} one @returns {(Fact | undefined | false)[]} */
const build = (context, { wing = {}, engine = {}, propeller, datum }) => [
  datum && [context.t("shell.aeroplane.datum"), datum],
  engine.name && [context.t("shell.aeroplane.engine"), engine.name],
  engine.rated_power && figureFact(context, "aeroplane.power", engine.rated_power, "power"),
  engine.grades?.length > 0 && [context.t("shell.aeroplane.takes"), engine.grades.map((/** @type {string} */ grade) => context.t(`grade.${grade}`)).join(", ")],
  wing.area && figureFact(context, "aeroplane.area", wing.area, "area"),
  wing.span && figureFact(context, "aeroplane.span", wing.span, "length"),
  propeller && [context.t("shell.aeroplane.propeller"), propeller.name ?? context.t(`shell.aeroplane.${propeller.pitch_is}`)],
];

/** @param {Context} context @param {Json} one @returns {Fact[]} */
const performance = ({ t, chosen }, one) =>
  (one.performance ?? []).map((/** @type {Json} */ source) => [
    source.name,
    t(`shell.source.${source.source}`),
    [
      source.phase ? t(`shell.phase.${source.phase}`) : "",
      source.over_50ft?.value ? t("shell.aeroplane.over_50ft", { length: amount(source.over_50ft.value, "length", chosen) }) : "",
      source.note ?? "",
      source.fitted?.at ? day(source.fitted.at) : "",
    ]
      .filter(Boolean)
      .join(", "),
  ]);
