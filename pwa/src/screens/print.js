// On paper: one sheet a leg, of the trip or of the open leg alone. Black and white, to be read at arm's length beside
// the aeroplane; what a sheet holds is in sheet.js.
import { html, nothing } from "lit";
import { choice } from "../parts/choice.js";
import { planFor } from "../state/plan.js";
import { notices } from "./status.js";
import { sheet } from "./sheet.js";

/** @typedef {import("./context.js").Context} Context */

/** Sizes of type, the largest first; the last three leave out the single items of the load. */
const LEVELS = 10;

/** @param {Context} context */
export function printScreen(context) {
  const { plan, place, store, t } = context;
  if (!plan) return nothing;
  const { trip } = plan;
  const legs = place.part === "leg" ? [plan.leg] : trip.legs;
  const current = legs.every((/** @type {any} */ leg) => context.holds(trip, leg));
  latest = context;
  fitSoon();
  return html`
    <header class="head open-head no-print">
      <a class="back" href=${place.part === "leg" ? "#/" : "#/trip"}><span aria-hidden="true">‹&nbsp;</span>${t(place.part === "leg" ? "shell.tab.answers" : "shell.tab.trip")}</a>
      <h1 tabindex="-1">${t("shell.tab.print")}</h1>
    </header>
    <div class="no-print">
      ${notices(context)}
      <section class="block stack">
        ${choice({
          name: "print-what",
          label: t("device.print.what"),
          value: place.part === "leg" ? "leg" : "trip",
          options: [
            { value: "trip", label: t("device.print.trip", { n: trip.legs.length }) },
            { value: "leg", label: t("device.print.leg", { n: plan.number }) },
          ],
          set: (value) => {
            location.hash = value === "leg" ? "#/print/leg" : "#/print";
          },
        })}
        <div class="buttons"><button type="button" class="plain strong" @click=${() => printAnew(context)}>${t("device.print.print")}</button></div>
        <p class="small">${t("device.print.about")}</p>
        ${current ? nothing : html`<p class="wrong" role="status">${t("device.print.older")}</p>`}
      </section>
    </div>
    <div class="sheets">
      ${legs.map((/** @type {{ id: string }} */ leg) => sheet(context, planFor(store, trip, leg), trip.legs.length))}
    </div>
  `;
}

/** Whose sheets are on the page. @type {Context | undefined} */
let latest;

/** Answers age while a page lies open: what is printed was drawn, and judged, a moment before. @param {Context} context */
function printAnew({ redraw }) {
  redraw();
  setTimeout(() => print());
}

let waiting = false;

/** Fit when what is being rendered now stands on the page. */
function fitSoon() {
  if (waiting) return;
  waiting = true;
  requestAnimationFrame(() => {
    waiting = false;
    fit();
  });
}

/**
 * Give each sheet the largest type with which it stays on its page. It is measured as it will stand on the paper; a
 * browser that tells when it is about to print has it measured again then.
 */
function fit() {
  for (const all of document.querySelectorAll(".sheets")) {
    all.classList.add("on-paper");
    for (const sheet of all.querySelectorAll(".sheet")) {
      sheet.classList.remove("sheet-long");
      for (let level = 0; level < LEVELS; level++) {
        for (let one = 0; one < LEVELS; one++) sheet.classList.toggle(`sheet-${one}`, one === level);
        if (sheet.scrollHeight <= sheet.clientHeight) break;
      }
      // Rather a second page than a line that is cut off.
      sheet.classList.toggle("sheet-long", sheet.scrollHeight > sheet.clientHeight);
    }
    all.classList.remove("on-paper");
  }
}
addEventListener("beforeprint", () => latest?.redraw());
addEventListener("beforeprint", fit);
