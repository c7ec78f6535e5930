// One bay to scale: what goes in first, what next, and where each box stands. Turned by thumb or keys, stepped through.
import { html, nothing } from "lit";
import { choice } from "../parts/choice.js";
import { amount } from "../parts/words.js";
import { stowedPicture } from "../pictures/stowed.js";
import { now } from "../state/time.js";
import { notices } from "./status.js";
import { wayTo } from "./where.js";

/** @typedef {import("./context.js").Context} Context @typedef {import("../state/pointer.js").Json} Json */

/** The bays of the open leg, as the core stowed them, for which state of the documents. */
const stowed = { of: "", bays: /** @type {Json[] | undefined} */ (undefined), problem: "" };
/** How one looks at which bay: turned by so much, from how high, with how many things in. */
const seen = { bay: "", turn: 30, above: "30", step: Infinity };
/** From where one looks in by the door, a little from one side. [deg] @type {Record<string, number>} */
const AT_DOOR = { rear: 30, right: 60, front: 150, left: -60, top: 30 };
/** Where the thumb took hold. */
const held = { x: 0, turn: 0 };

/** @param {Context} context */
function prepare({ store, plan, core, redraw, boot }) {
  const of = `${plan?.trip.id}/${plan?.leg.id}/${store.version}`;
  if (stowed.of === of || boot.state !== "ready" || !plan) return;
  Object.assign(stowed, { of, problem: "" });
  core.ask("stowing", { documents: store.texts(), trip: plan.trip.id, leg: plan.leg.id, now: now() }, { channel: "stow" }).then(
    ({ bays }) => {
      if (stowed.of !== of) return;
      stowed.bays = bays;
      redraw();
    },
    (problem) => {
      if (stowed.of !== of) return;
      // overtaken by a newer request: that one says
      if (problem.code === "superseded") stowed.of = "";
      else Object.assign(stowed, { bays: undefined, problem: problem.message });
      redraw();
    },
  );
}

/** @param {Context} context */
export function stowScreen(context) {
  const { place, t } = context;
  prepare(context);
  const bay = stowed.bays?.find((one) => one.id === place.part);
  if (bay && seen.bay !== bay.id) Object.assign(seen, { bay: bay.id, turn: AT_DOOR[bay.face] ?? 30, above: "30", step: Infinity });
  return html`
    <header class="head open-head">
      <a class="back" href="#/load"><span aria-hidden="true">‹&nbsp;</span>${t("shell.tab.load")}</a>
      <h1 tabindex="-1">${bay?.name ?? t("shell.tab.stow")}</h1>
    </header>
    ${notices(context)}
    ${bay
      ? opened(context, bay)
      : stowed.problem
        ? html`<p class="block wrong" role="alert">${stowed.problem}</p>`
        : html`<p class="block" role="status">${t(stowed.bays ? "stow.no_bay" : "stow.making")}</p>`}
  `;
}

/** @param {Context} context @param {Json} bay */
function opened(context, bay) {
  const { t, format } = context;
  if (bay.missing) return html`<section class="block stack"><p><b>${format.say(bay.missing)}</b></p>${wayTo(context, bay.missing)}</section>`;
  if (!bay.steps.length && !bay.left.length) return html`<p class="block">${t("stow.empty")}</p>`;
  const total = bay.steps.length;
  const step = Math.min(seen.step, total);
  const said = step ? line(context, bay.steps[step - 1]) : t("stow.nothing_in");
  return html`
    ${bay.message ? html`<section class="block stack"><p><b>${format.say(bay.message)}</b></p></section>` : nothing}
    <section class="block stow" aria-label=${t("stow.picture")}>
      <div class="stow-drawing" @pointerdown=${hold} @pointermove=${(/** @type {PointerEvent} */ event) => drag(context, event)}>
        ${stowedPicture(bay, { step, turn: seen.turn, above: Number(seen.above), told: [t("stow.told", { n: step, of: total })], sides: { front: t("stow.front"), rear: t("stow.rear") } })}
      </div>
      ${stepper(context, step, total, said)} ${turner(context)}
    </section>
    <section class="block stack">
      <h2>${t("stow.order")}</h2>
      <ol class="stow-order">
        ${bay.steps.map((/** @type {Json} */ one, /** @type {number} */ index) => row(context, one, index + 1, step))}
      </ol>
      ${bay.left.length ? html`<h2>${t("stow.left")}</h2><ul>${bay.left.map((/** @type {Json} */ one) => html`<li>${one.name}</li>`)}</ul>` : nothing}
      ${bay.over ? html`<p><b>${t("stow.over")}</b></p>` : nothing}
      <p class="small">${t("stow.soft_about")}</p>
      ${bay.drawn_in ? html`<p class="small">${t("stow.drawn_in", edges(bay.edges))}</p>` : nothing}
      <p class="small">${t("stow.door", { side: t(`form.is.face.${bay.face}`) })}</p>
    </section>
  `;
}

const edges = (/** @type {number[]} */ [length, width, height]) => ({ length, width, height });

/** What a thing is called, and how heavy it is. @param {Context} context @param {Json} one */
function line({ t, chosen }, one) {
  const mass = typeof one.mass === "number" ? `, ${amount(one.mass, "mass", chosen)}` : "";
  const how = [one.in ? t("shell.load.in", { holder: one.in }) : "", one.with?.length ? t("shell.load.with", { items: one.with.join(", ") }) : "", one.corner ? "" : t("stow.soft"), one.upright ? t("stow.upright") : "", one.stays_accessible ? t("stow.reach") : ""].filter(Boolean);
  return `${one.name}${mass}${how.length ? `, ${how.join(", ")}` : ""}`;
}

/** @param {Context} context @param {number} step @param {number} total @param {string} said */
function stepper({ t, redraw }, step, total, said) {
  const go = (/** @type {number} */ next) => {
    seen.step = next;
    redraw();
  };
  return html`<div class="stow-steps">
    <button type="button" class="plain" ?disabled=${step <= 0} @click=${() => go(step - 1)}>${t("stow.back")}</button>
    <p aria-live="polite"><b>${t("stow.step", { n: step, of: total })}</b> ${said}</p>
    <button type="button" class="plain" ?disabled=${step >= total} @click=${() => go(step + 1)}>${t("stow.next")}</button>
  </div>`;
}

/** @param {Context} context */
function turner({ t, redraw }) {
  const turned = (/** @type {Event} */ { target }) => {
    seen.turn = Number(/** @type {HTMLInputElement} */ (target).value);
    redraw();
  };
  return html`<div class="stow-turn">
    <label><span>${t("stow.turn")}</span><input class="slider" type="range" min="-180" max="180" step="5" .value=${String(seen.turn)} @input=${turned} /></label>
    ${choice({
      name: "stow-above",
      label: t("stow.look"),
      hideLabel: true,
      value: seen.above,
      options: [
        { value: "30", label: t("stow.aslant") },
        { value: "70", label: t("stow.above") },
        { value: "5", label: t("stow.side") },
      ],
      set: (value) => {
        seen.above = value;
        redraw();
      },
    })}
  </div>`;
}

/** @param {Context} context @param {Json} one @param {number} number @param {number} step */
function row(context, one, number, step) {
  const go = () => {
    seen.step = number;
    context.redraw();
  };
  return html`<li class=${number > step ? "stow-later" : ""}>
    <button type="button" class="stow-row" aria-current=${number === step ? "step" : nothing} @click=${go}><b>${number}</b> <span>${line(context, one)}</span></button>
  </li>`;
}

/** @param {PointerEvent} event */
function hold({ clientX }) {
  Object.assign(held, { x: clientX, turn: seen.turn });
}

/** A thumb's breadth turns it by a fifth of a circle. @param {Context} context @param {PointerEvent} event */
function drag({ redraw }, { buttons, clientX }) {
  if (!buttons) return;
  const turn = held.turn - (clientX - held.x) * 0.6;
  seen.turn = Math.round((((turn + 180) % 360) + 360) % 360) - 180;
  redraw();
}
