// The passenger's side: what to bring, which bay, how heavy each may be. Big boxes to tick, and what the scale said.
import { html, nothing } from "lit";
import { tickBox } from "../parts/select.js";
import { untaken, weighing } from "../parts/weigh.js";
import { amount, sourced } from "../parts/words.js";
import { freeMass, insideOf, itemsOf } from "../state/handed.js";
import { clock, day, iso } from "../state/time.js";
import { shownDown } from "../text.js";
import { codes, wayIn } from "./codes.js";

/** @typedef {import("./context.js").Context} Context @typedef {import("../state/pointer.js").Json} Json */
/** @typedef {import("../state/handed.js").Held} Held */

/** The item whose scale is open, and whether the codes are shown. */
const open = { item: "", codes: false };

/** @param {Context} context */
export function bringScreen(context) {
  const { handed, t } = context;
  const held = handed.newest;
  if (!held) return empty(context);
  const items = itemsOf(held);
  const coming = items.filter(({ home }) => !home);
  const left = coming.filter(({ packed }) => !packed).length;
  return html`
    <header class="head open-head bring-head">
      <h1 tabindex="-1">${t("hand.bring", { name: held.list.name })}</h1>
      <p class="bring-left"><b>${left ? t("hand.left", { n: left, of: coming.length }) : t("hand.all_in")}</b></p>
      ${spare(context, held, items)}
    </header>
    ${held.list.bays.map((/** @type {Json} */ bay) => bayList(context, held, items, bay))}
    <section class="block stack">
      <h2>${t("hand.give_back")}</h2>
      ${notTaken(context, coming)}
      ${open.codes
        ? codes(context, { text: handed.back(held), file: `tussock-brought-${held.list.load}` })
        : html`<p>${t("hand.give_back_about")}</p>
            <button type="button" class="plain strong" ?disabled=${held.deeds.length === 0} @click=${() => flip(context, true)}>${t("hand.show_back")}</button>`}
    </section>
    <section class="block stack">
      <h2>${t("hand.newer")}</h2>
      <p class="small">${t("hand.newer_about", { when: `${day(iso(Date.parse(held.list.at)))} ${clock(iso(Date.parse(held.list.at)))}` })}</p>
      ${wayIn(context, { label: t("hand.scan"), whole: (what) => what === "brought" && (location.hash = "#/hand") })}
    </section>
    ${people(context, held)} ${foot(context)}
  `;
}

/** @param {Context} context @param {boolean} codes */
function flip({ redraw }, codes) {
  open.codes = codes;
  redraw();
}

/** What the scale said and nobody took: no code tells it. @param {Context} context @param {Json[]} items */
function notTaken({ t, chosen, redraw }, items) {
  const typed = items.map(({ id, name }) => ({ id, name, mass: untaken(id, chosen) })).filter(({ mass }) => mass);
  const show = (/** @type {string} */ id) => {
    Object.assign(open, { item: id, codes: false });
    redraw();
    setTimeout(() => document.querySelector(".weighing")?.scrollIntoView({ block: "center" }));
  };
  return typed.map(
    ({ id, name, mass }) => html`<p class="wrong" role="status"><b>${t("hand.weigh.untaken", { name, mass })}</b>
      <button type="button" class="plain" @click=${() => show(id)}>${t("hand.weigh.see")}</button></p>`,
  );
}

/** Nothing was handed to this phone yet. @param {Context} context */
function empty(context) {
  const { t } = context;
  return html`
    <header class="head open-head"><h1 tabindex="-1">${t("hand.bring_none")}</h1></header>
    <section class="block stack">
      <p>${t("hand.bring_none_about")}</p>
      ${wayIn(context, { label: t("hand.scan"), whole: (what) => what === "brought" && (location.hash = "#/hand") })}
    </section>
    ${foot(context)}
  `;
}

/** @param {Context} context */
const foot = ({ t }) => html`<section class="block stack">
  <p class="small">${t("hand.caution")}</p>
  <div class="buttons"><a class="plain" href="#/">${t("hand.rest")}</a></div>
</section>`;

/** Kilograms and litres free with everything in. @param {Context} context @param {Held} held @param {Json[]} items */
function spare({ t, chosen }, { list }, items) {
  const bays = list.bays.map((/** @type {Json} */ { id, spare_mass }) => freeMass(items, spare_mass, id));
  const all = freeMass(items, list.spare_mass);
  // What the aeroplane could still take is no use where no bay takes it.
  const room = bays.includes(undefined) ? undefined : bays.reduce((/** @type {number} */ sum, /** @type {number} */ free) => sum + Math.max(free, 0), 0);
  const over = bays.some((/** @type {number | undefined} */ free) => free !== undefined && free < 0);
  const mass = all === undefined || room === undefined ? undefined : over ? Math.min(all, ...bays) : Math.min(all, room);
  const bulk = list.bays.some((/** @type {Json} */ { spare_bulk }) => spare_bulk === undefined)
    ? undefined
    : list.bays.reduce((/** @type {number} */ sum, /** @type {Json} */ { spare_bulk }) => sum + Math.max(spare_bulk, 0), 0);
  return html`<p class="bring-spare">
    ${t("hand.spare")}
    ${left(mass, "mass", chosen, t)}${t("hand.and")} ${left(bulk, "bulk", chosen, t)}
    ${spareNote(list, mass, t)}
  </p>`;
}

/** Do the strips count in what is free? @param {Json} list @param {number | undefined} mass @param {Context["t"]} t */
const spareNote = (list, mass, t) =>
  mass === undefined || (mass <= 0 && !list.by_strips) ? nothing : html`<br /><span class="small">${t(list.by_strips ? "hand.spare_counted" : "hand.spare_strips")}</span>`;

/** So much is free, rounded down; what is too much, up. @param {number | undefined} value @param {string} dimension @param {import("../text.js").Chosen} chosen @param {Context["t"]} t */
function left(value, dimension, chosen, t) {
  if (value === undefined) return html`<b>${t("hand.unknown")}</b>`;
  const sure = shownDown(value, dimension, chosen);
  return sure < 0 ? html`<b class="over">${t("hand.over", { by: amount(-sure, dimension, chosen) })}</b>` : html`<b>${amount(sure, dimension, chosen)}</b>`;
}

/** @param {Context} context @param {Held} held @param {Json[]} items @param {Json} bay */
function bayList(context, held, items, bay) {
  const { t, chosen } = context;
  const here = items.filter((item) => item.bay === bay.id);
  if (!here.length) return nothing;
  const [own, all] = [freeMass(items, bay.spare_mass, bay.id), freeMass(items, held.list.spare_mass)];
  // what the bay could bear is not free where the aeroplane takes less
  const mass = own === undefined || all === undefined ? own : Math.min(own, Math.max(all, 0));
  return html`<section class="bring-bay">
    <div class="block">
      <h2>${bay.name}</h2>
      ${bay.bans?.length ? html`<p class="small wrong">${t("hand.bans", { what: bay.bans.map((/** @type {string} */ one) => t(`danger.${one}`)).join(", ") })}</p>` : nothing}
      <p class="small">${t("hand.spare_bay")} ${left(mass, "mass", chosen, t)}${t("hand.and")} ${left(bay.spare_bulk, "bulk", chosen, t)}</p>
    </div>
    <ul>
      ${here.map((item) => itemRow(context, held, items, bay, item))}
    </ul>
  </section>`;
}

/** @param {Context} context @param {Held} held @param {Json[]} items @param {Json} bay @param {Json} item */
function itemRow({ handed, t, chosen, redraw }, held, items, bay, item) {
  const own = [freeMass(items, bay.spare_mass, bay.id), freeMass(items, held.list.spare_mass)];
  // It may weigh what it weighs and what is free, in its bay and in all; where more than that is too much, its own
  // weight is not the answer.
  const most = !item.inside && item.mass && own.every((free) => free !== undefined) ? item.mass.value + Math.min(.../** @type {number[]} */ (own)) : undefined;
  const contents = insideOf(items, item.id);
  const named = (/** @type {string} */ id) => items.find((one) => one.id === id)?.name ?? id;
  const hints = [
    contents.length ? t("shell.load.with", { items: contents.map(named).join(", ") }) : "",
    item.home ? t("hand.at_home") : "",
    item.inside ? t("shell.load.in", { holder: named(item.inside) }) : "",
    item.danger ? t(`hand.danger.${item.danger}`) : "",
    item.upright ? t("hand.upright") : "",
    item.stays_accessible ? t("hand.accessible") : "",
  ].filter(Boolean);
  const isOpen = open.item === item.id;
  const weigh = () => {
    open.item = isOpen ? "" : item.id;
    redraw();
  };
  const rides = (/** @type {string | undefined} */ where) => handed.do(held.list, { item: item.id, field: "bay", value: where });
  return html`<li class="bring-item ${item.inside ? "bring-inside" : ""} ${item.packed ? "item-in" : ""}">
    ${tickBox({
      ticked: item.packed,
      label: html`<span class="item-name">${item.name}</span>${hints.map((hint) => html`<span class="small item-said ${item.danger ? "wrong" : ""}">${hint}</span>`)}${most === undefined || most <= 0 || item.home
          ? nothing
          : html`<span class="small item-said ${most < (item.mass?.value ?? 0) ? "wrong" : ""}">${t("hand.at_most", { mass: amount(shownDown(most, "mass", chosen), "mass", chosen) })}</span>`}`,
      turn: () => handed.do(held.list, { item: item.id, field: "packed", value: !item.packed }),
    })}
    ${item.home
      ? html`<button type="button" class="plain" aria-label=${t("hand.bring_it_of", { name: item.name })} @click=${() => rides(bay.id)}>${t("hand.bring_it")}</button>`
      : html`<div class="bring-figures">
          <button type="button" class="plain bring-weigh" aria-expanded=${isOpen ? "true" : "false"} @click=${weigh}>
            <span>${item.mass ? sourced(item.mass, "mass", chosen) : t("hand.weigh.none")}</span>
            <span>${t(item.is_weighed ? "hand.weighed" : contents.length ? "shell.load.weigh_whole" : "hand.weigh")}</span>
          </button>
          ${item.must_come ? nothing : html`<button type="button" class="link" aria-label=${t("hand.home_of", { name: item.name })} @click=${() => rides(undefined)}>${t("hand.home")}</button>`}
        </div>`}
    ${isOpen && !item.home
      ? weighing({
          id: item.id,
          name: item.name,
          chosen,
          redraw,
          set: (mass) => {
            open.item = "";
            handed.do(held.list, { item: item.id, field: "weighed", value: contents.length ? { ...mass, holding: contents } : mass });
          },
        })
      : nothing}
  </li>`;
}

/** Who comes along. A weight stands here only where its owner chose to show it. @param {Context} context @param {Held} held */
function people({ t, chosen }, { list }) {
  if (!list.people?.length) return nothing;
  return html`<section class="block">
    <h2>${t("shell.load.people")}</h2>
    <ul>
      ${list.people.map((/** @type {Json} */ one) => html`<li>${one.name}${one.mass ? html`, ${amount(one.mass.value, "mass", chosen)}` : nothing}</li>`)}
    </ul>
  </section>`;
}
