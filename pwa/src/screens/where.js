// Where a figure is entered that an answer asks for, so that "can't say" is no dead end.
import { html, nothing } from "lit";

/** @typedef {import("./context.js").Context} Context @typedef {import("../state/pointer.js").Json} Json @typedef {import("../text.js").Message} Message */

const AIR = /^(missing\.(air|temperature|pressure|wind)|reason\.(stale_air|air_old_by_then|no_such_qnh|dew_point_decides|wing_wet))$/;
const STRIP = /^(missing\.(elevation|position|surface|grass_height|slope|obstacles|approach|go_around|go_around_way)|reason\.stale_surface)$/;
/** What a leg says, and in which part of its page. @type {[RegExp, string][]} */
const LEG = [
  [/^missing\.(direction_from|direction_to|takeoff_flap|landing_flap)$/, "flap"],
  [/^missing\.(cruise|cruise_altitude)$/, "cruise"],
];
const AEROPLANE =
  /^missing\.(weighing|record_oil|record_unusable|oil|unusable|arm|tanks|usable|grades|takeoff_limit|bay_\w+|packing_fraction|restraint|restraint_rating|envelope|category|mass_cap|undercarriage|wheel_arms|stall|constants|rolling_friction|braking_friction|takeoff_source|landing_source|climb_source|climb_source_flap|climb_speed|taxi_fuel|climb_flow|dip_error|cruise_dial|cruise_figures|seat_height|crosswind_limit|tailwind_limit|gust_spread_limit)$/;

/** What entries of the notebook hold back is seen entry by entry. */
const NOTEBOOK = /^(reason\.(gone_worse|latest_worse|too_few_noted|flow_noted|stall_noted|roll_only|outside_seen)|note\.notebook_unused|assumed\.flow_noted)$/;

/** @param {string} document @param {string[]} place */
const form = (document, ...place) => `#/edit/${[document, ...place].map(encodeURIComponent).join("%2F")}`;

/**
 * @param {Context} context
 * @param {Message} message
 * @returns {{ href: string, end?: "from" | "to", label?: string } | undefined}
 */
export function whereOf({ plan, store }, { text, values = {} }) {
  if (!plan) return undefined;
  const end = values.strip !== undefined && values.strip === plan.to?.name && values.strip !== plan.from?.name ? "to" : "from";
  const strip = end === "to" ? plan.to : plan.from;
  if (AIR.test(text)) return { href: "#/air", end };
  if (STRIP.test(text) && strip) return { href: form(strip.id) };
  for (const [texts, part] of LEG) if (texts.test(text)) return { href: `#/trip/leg%2F${part}` };
  if (NOTEBOOK.test(text)) return { href: "#/tune", label: "shell.see_notebook" };
  if (text === "missing.reserve") return { href: "#/trip/rules" };
  if (text === "missing.approach_gradient" && plan.aeroplane) return { href: form(plan.aeroplane.id, "approach_gradient") };
  if (text === "reason.outside_curve" && plan.aeroplane) return { href: form(plan.aeroplane.id, "propeller") };
  if ((AEROPLANE.test(text) || text === "reason.placing.which_side") && plan.aeroplane) return { href: form(plan.aeroplane.id) };
  if (["missing.fuel", "missing.bag", "reason.nobody_flies"].includes(text)) return { href: "#/load" };
  if (/^missing\.person_/.test(text)) {
    const person = store.all("person").find(({ name }) => name === values.person);
    return person && { href: form(person.id) };
  }
  if (/^missing\.item_/.test(text)) {
    for (const kit of store.all("kit")) {
      const item = kit.items?.find((/** @type {Json} */ { name }) => name === values.item);
      if (item) return { href: form(kit.id, "items", item.id) };
    }
  }
  return undefined;
}

/** The way there, as something to touch. @param {Context} context @param {Message} message */
export function wayTo(context, message) {
  const place = whereOf(context, message);
  if (!place) return nothing;
  const { href, end, label = "shell.give_it" } = place;
  const go = () => {
    if (end) setTimeout(() => context.turn({ end }));
  };
  return html`<a class="plain way-to" href=${href} @click=${go}>${context.t(label)}</a>`;
}
