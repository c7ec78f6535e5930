// What a scale said: read off, or "me holding it" less "me alone", as one weighs a bag on a bathroom scale.
import { html, nothing } from "lit";
import { display, numeral, t } from "../text.js";
import { readTyped } from "./typed.js";
import { unbroken } from "./words.js";

/** @typedef {{ direct: string, held: string, alone: string }} Scale what is typed */

/** What is typed on which item, until it is taken as its mass. @type {Map<string, Scale>} */
const scales = new Map();
let keep = () => {};
/** The person's own mass is the same for every bag. */
let alone = "";

/**
 * What was typed and not taken outlives the page.
 * @param {{ keep: (key: string, value: any) => void, kept: (key: string) => Promise<any> }} store
 */
export async function keepScales(store) {
  for (const [id, scale] of Object.entries((await store.kept("scales")) ?? {})) scales.set(id, scale);
  keep = () => store.keep("scales", Object.fromEntries(scales));
}

/** @param {Scale} typed @param {import("../text.js").Chosen} chosen */
function massOf(typed, chosen) {
  const [direct, both, me] = [typed.direct, typed.held, typed.alone].map((text) => readTyped(text, "mass", chosen));
  const byScale = typed.held.trim() !== "" || typed.direct.trim() === "";
  const mass = byScale ? (both !== undefined && me !== undefined ? both - me : undefined) : direct;
  return { byScale, mass, sound: mass !== undefined && mass > 0 && mass < 1000 };
}

/** What is typed on an item's scale and was not taken, in words; "" where there is nothing. @param {string} id @param {import("../text.js").Chosen} chosen */
export function untaken(id, chosen) {
  const typed = scales.get(id);
  if (!typed || (typed.direct.trim() === "" && typed.held.trim() === "")) return "";
  const { unit } = display("mass", chosen);
  const { mass, sound } = massOf(typed, chosen);
  return unbroken(sound && mass !== undefined ? `${numeral(mass, "mass", chosen)} ${unit}` : `“${(typed.direct || typed.held).trim()}”`);
}

/**
 * @param {object} weigh
 * @param {string} weigh.id unique on the page
 * @param {string} weigh.name of what is weighed
 * @param {import("../text.js").Chosen} weigh.chosen
 * @param {(mass: { value: number, origin: string, typed?: string }) => void} weigh.set [kg]
 * @param {() => void} weigh.redraw
 */
export function weighing({ id, name, chosen, set, redraw }) {
  const { unit } = display("mass", chosen);
  const typed = scales.get(id) ?? { direct: "", held: "", alone };
  const put = (/** @type {Partial<typeof typed>} */ some) => {
    const next = { ...typed, ...some };
    alone = next.alone;
    if (next.direct.trim() || next.held.trim()) scales.set(id, next);
    else scales.delete(id);
    keep();
    redraw();
  };
  const { byScale, mass, sound } = massOf(typed, chosen);
  const something = typed.direct.trim() !== "" || typed.held.trim() !== "";
  const take = () => {
    if (!sound || mass === undefined) return;
    scales.delete(id);
    keep();
    set({ value: Math.round(mass * 1e6) / 1e6, origin: "measured", ...(byScale ? {} : { typed: `${typed.direct.trim()} ${unit}` }) });
  };
  const field = (/** @type {"direct" | "held" | "alone"} */ which, /** @type {string} */ label) =>
    html`<label class="scale-field"
      ><span>${label}</span
      ><span class="entry-value"
        ><input
          type="text"
          inputmode="decimal"
          autocomplete="off"
          size="6"
          .value=${typed[which]}
          @input=${(/** @type {Event} */ { target }) => put({ ...(which === "direct" ? { held: "" } : { direct: "" }), [which]: /** @type {HTMLInputElement} */ (target).value })}
          @keydown=${(/** @type {KeyboardEvent} */ { key }) => key === "Enter" && take()} /><span class="unit">${unit}</span></span
      ></label
    >`;
  return html`<div class="weighing" role="group" aria-label=${t("hand.weigh.of", { name })}>
    ${field("direct", t("hand.weigh.direct"))}
    <p class="small">${t("hand.weigh.or")}</p>
    ${field("held", t("hand.weigh.held"))} ${field("alone", t("hand.weigh.alone"))}
    ${something && !sound ? html`<p class="wrong" role="alert">${t(mass !== undefined && mass <= 0 ? "hand.weigh.nothing" : "hand.weigh.unfinished")}</p>` : nothing}
    <button type="button" class="plain strong" ?disabled=${!sound} @click=${take}>
      ${sound && mass !== undefined ? unbroken(t("hand.weigh.take", { mass: `${numeral(mass, "mass", chosen)} ${unit}` })) : t("hand.weigh.take_none")}
    </button>
  </div>`;
}
