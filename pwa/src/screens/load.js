// Who and what comes along: people on seats, kit ticked into bays, fuel by tank, and what is left by mass and bulk.
import { html, nothing } from "lit";
import { choice } from "../parts/choice.js";
import { entry } from "../parts/entry.js";
import { marginSigned, ruling } from "../parts/margin.js";
import { select, tickBox } from "../parts/select.js";
import { weighing } from "../parts/weigh.js";
import { amount, sourced, words } from "../parts/words.js";
import { bayFor, bayOf, bulkOf, contentsOf, fuelChanges, insideChanges, placeChanges, placedOf, seatChanges, sittersOf, wholeChanges } from "../state/load.js";
import { byId, itemsOf, stationsOf } from "../state/plan.js";
import { allUpOf, bayLimit, leastOf, sharedOf } from "../state/room.js";
import { measureName } from "./answers.js";
import { figuresBar } from "./spare.js";
import { withRunUp } from "./runup_said.js";
import { follow, notices, staleWords, undoButton } from "./status.js";

/** @typedef {import("./context.js").Context} Context */
/** @typedef {import("../state/pointer.js").Json} Json */

/** The item whose scale is open. */
let scale = "";
/** What of a kit went into no bay when all of it was taken. @type {{ kit: string, load: string, items: string[] }} */
let leftOut = { kit: "", load: "", items: [] };
/** In the list of bays, before the id of a thing that others are packed into. */
const IN = "in ";

/** @param {Context} context */
export function loadScreen(context) {
  const { plan, t } = context;
  if (!plan?.load || !plan.aeroplane) return html`<p class="block">${t("shell.load.none")}</p>`;
  const { trip, load, aeroplane } = plan;
  const legs = trip.legs.map((/** @type {Json} */ leg, /** @type {number} */ i) => (leg.load === load.id ? i + 1 : 0)).filter(Boolean);
  return html`
    <header class="head open-head">
      <h1 tabindex="-1">${load.name}</h1>
      ${follow(context)}${governs(context)}
      ${short(context)}
    </header>
    ${notices(context)} ${reason(context)}
    <p class="block lead small">${t(legs.length > 1 ? "shell.load.legs" : "shell.load.leg", { legs: legs.join(", "), aeroplane: aeroplane.name })}</p>
    <div class="block buttons"><a class="plain" href="#/pack">${t("pack.title")}</a><a class="plain" href="#/hand">${t("hand.give")}</a><a class="plain" href="#/doors">${t("shell.tab.doors")}</a><a class="plain" href="#/edit">${t("shell.edit.mine")}</a></div>
    ${spare(context)} ${undoButton(context)} ${people(context)} ${fuel(context)} ${kit(context)}
  `;
}

/** Which measure of which question decides, where it is not a yes. @param {Context} context */
function governs(context) {
  const { current, chosen, t } = context;
  const worst = worstOf(context);
  if (!worst) return nothing;
  const measure = ruling(worst);
  return html`<span class="governs small ${current ? "" : "stale"}">${t(`question.${worst.question}`)}${measure ? html`: ${measureName(measure, chosen)}` : nothing}</span>`;
}

/** And why, in words. @param {Context} context */
function reason(context) {
  const { current, chosen, t } = context;
  const worst = worstOf(context);
  const said = worst?.reasons?.[0];
  return said
    ? html`<p class="block load-why ${current ? "" : "stale"}" aria-live="polite"><b>${t(`question.${worst.question}`)}</b>: ${words(said, chosen)}</p>`
    : nothing;
}

/** The question that decides, where it is not a yes, nor the run-up that does. @param {Context} context */
function worstOf(context) {
  const leg = context.known?.leg;
  if (!leg || leg.verdict === "yes" || withRunUp(context, leg.verdict) !== leg.verdict) return undefined;
  return leg.answers.find((/** @type {Json} */ { question }) => question === leg.worst);
}

/** Bays, the limits that they share, and the whole aeroplane, as the core measured them. @param {Context} context */
function roomOf({ known, plan }) {
  const [fits, balances] = known?.leg.answers ?? [];
  const [shared, allUp] = [sharedOf(plan?.aeroplane, balances), allUpOf(balances)];
  const bays = (fits?.picture?.bays ?? []).map((/** @type {Json} */ bay) => ({ ...bay, mass_limit: bayLimit(bay, shared, allUp) }));
  return { bays, allUp: leastOf(allUp), shared: bays.length ? shared : [] };
}

/** What is left, as the core worked it out. @param {Context} context */
function spare(context) {
  const { current, t } = context;
  const { bays, allUp, shared } = roomOf(context);
  const stale = staleWords(context);
  return html`<section class="block spare ${current ? "" : "stale"}" aria-label=${t("shell.load.spare")} aria-live="polite">
    ${stale ? html`<p class="stale-word">${stale}</p>` : nothing}
    ${allUp ? figuresBar(context, t("shell.load.all_up"), allUp.needed, allUp.available, "mass") : nothing}
    ${shared.map(
      (one) => html`<div class="shared">
        <h2>${one.name}</h2>
        ${figuresBar(context, t("shell.load.mass"), one.needed, one.available, "mass")}
      </div>`,
    )}
    ${bays.map(
      (/** @type {Json} */ bay) => html`<div class="bay">
        <h2>${bay.name}</h2>
        ${figuresBar(context, t("shell.load.mass"), bay.mass, bay.mass_limit, "mass")}
        ${figuresBar(context, t("shell.load.bulk"), bay.volume_used, bay.volume, "bulk")}
        <a class="plain" href="#/stow/${encodeURIComponent(bay.id)}" aria-label=${t("stow.see_in", { bay: bay.name })}>${t("stow.see")}</a>
      </div>`,
    )}
  </section>`;
}

/** The same in a line for each bay, which stays in view while things are ticked. @param {Context} context */
function short(context) {
  const { current, chosen, t } = context;
  const { bays, shared } = roomOf(context);
  const left = (/** @type {number | null} */ used, /** @type {number | null} */ limit, /** @type {string} */ dimension) => {
    if (typeof used !== "number" || typeof limit !== "number") return html`<span>${t("shell.unsaid")}</span>`;
    const over = used > limit;
    return html`<span class=${over ? "over" : ""}>${marginSigned(limit - used, dimension, chosen)}</span>`;
  };
  if (!bays.length) return nothing;
  return html`<ul class="short ${current ? "" : "stale"}" aria-hidden="true">
    <li class="small"><span>${t("shell.load.spare")}</span><span>${t("shell.load.mass")}</span><span>${t("shell.load.bulk")}</span></li>
    ${shared.map((one) => html`<li><span>${one.name}</span>${left(one.needed, one.available, "mass")}<span></span></li>`)}
    ${bays.map(
      (/** @type {Json} */ bay) =>
        html`<li><span>${bay.name}</span>${left(bay.mass, bay.mass_limit, "mass")}${left(bay.volume_used, bay.volume, "bulk")}</li>`,
    )}
  </ul>`;
}

/** @param {Context} context */
function people(context) {
  const { store, t } = context;
  const plan = /** @type {NonNullable<Context["plan"]>} */ (context.plan);
  const { seats } = stationsOf(plan.aeroplane, plan.configuration);
  const infants = store.all("person").some(({ is_a }) => is_a === "infant");
  const rows = seats.flatMap((/** @type {Json} */ seat) => {
    const sitters = sittersOf(plan.load, seat.id);
    const shared = sitters.length > 0 && infants && seat.takes?.includes("lap_infant");
    return [...(sitters.length ? sitters : [""]), ...(shared ? [""] : [])].map((person, index) => ({ seat, person, index, isOut: false }));
  });
  // Somebody on a seat that this configuration leaves out must not be lost from view.
  const out = (plan.load.seats ?? [])
    .filter((/** @type {Json} */ one) => !seats.some((/** @type {Json} */ { id }) => id === one.seat))
    .map((/** @type {Json} */ one) => ({ seat: byId(plan.aeroplane.seats, one.seat), person: one.person, index: 0, isOut: true }));
  return html`<section class="block">
    <h2>${t("shell.load.people")}</h2>
    <ul>
      ${[...rows, ...out].map((row) => seatRow(context, plan, row))}
    </ul>
  </section>`;
}

/** @param {Context} context @param {NonNullable<Context["plan"]>} plan @param {{ seat: Json, person: string, index: number, isOut: boolean }} row */
function seatRow({ store, t, chosen }, plan, { seat, person, index, isOut }) {
  const name = `seat-${seat.id}${index ? `-${index}` : ""}`;
  const sits = store.get(person);
  const put = (/** @type {string} */ next) => store.edit(seatChanges(plan, seat.id, person, next), { text: "shell.undo.seat" });
  const persons = store.all("person").map((one) => ({ value: one.id, label: one.name }));
  return html`<li class="seat">
    <label for=${name}><b>${seat.name}</b>${isOut ? html` <span class="small">${t("shell.load.seat_out")}</span>` : nothing}</label>
    ${select({ id: name, value: person, options: [{ value: "", label: t("shell.load.nobody") }, ...persons], set: put })}
    <span>${sits ? sourced(sits.mass, "mass", chosen) : nothing}</span>
  </li>`;
}

/** @param {Context} context */
function fuel(context) {
  const { store, t, chosen } = context;
  const plan = /** @type {NonNullable<Context["plan"]>} */ (context.plan);
  const { aeroplane, leg } = plan;
  const inTank = (/** @type {string} */ tank) => leg.fuel?.find((/** @type {Json} */ one) => one.tank === tank)?.volume.value;
  const total = (leg.fuel ?? []).reduce((/** @type {number} */ sum, /** @type {Json} */ { volume }) => sum + volume.value, 0);
  return html`<section class="fuel">
    <div class="block entry-head">
      <h2>${t("shell.load.fuel")}${leg.fuel_grade ? html`, ${t(`grade.${leg.fuel_grade}`)}` : nothing}</h2>
      <b>${t("shell.load.fuel_total", { total })}</b>
    </div>
    ${stationsOf(aeroplane, plan.configuration).tanks.map((/** @type {Json} */ tank) =>
      entry(context, {
        name: `${plan.trip.id}/legs/${leg.id}/fuel/${tank.id}`,
        label: tank.name,
        value: inTank(tank.id),
        dimension: "volume",
        step: 1,
        low: 0,
        high: tank.usable?.value ?? 0.2,
        start: 0,
        note: tank.usable ? t("shell.load.usable", { usable: amount(tank.usable.value, "volume", chosen) }) : t("shell.load.usable_unknown"),
        set: (value) => store.edit(fuelChanges(plan, tank.id, value), { text: "shell.undo.fuel" }),
        clear: () => store.edit([{ document: plan.trip.id, pointer: `/legs/${leg.id}/fuel/${tank.id}` }], { text: "shell.undo.fuel" }),
      }),
    )}
  </section>`;
}

/** @param {Context} context */
function kit(context) {
  const { store, ui, t } = context;
  const plan = /** @type {NonNullable<Context["plan"]>} */ (context.plan);
  const kits = itemsOf(store, plan.trip);
  const wanted = ui.search.trim().toLowerCase();
  const aboard = (/** @type {Json} */ item) => bayOf(plan.load, item.id) !== "";
  const shown = kits
    .filter((/** @type {Json} */ { kit: one }) => !ui.kit || ui.kit === "-aboard" || one.id === ui.kit)
    .map((/** @type {Json} */ { kit: one, items }) => ({
      kit: one,
      items: items.filter((/** @type {Json} */ item) => item.name.toLowerCase().includes(wanted) && (ui.kit !== "-aboard" || aboard(item))),
    }))
    .filter((/** @type {Json} */ { items }) => items.length);
  return html`<section class="kit">
    <div class="block kit-find">
      <h2>${t("shell.load.kit")}</h2>
      <label class="find"
        ><span>${t("shell.load.find")}</span>
        <input type="search" .value=${ui.search} @input=${(/** @type {Event} */ { target }) => context.turn({ search: /** @type {HTMLInputElement} */ (target).value })}
      /></label>
      ${choice({
        name: "kit",
        label: t("shell.load.kit"),
        hideLabel: true,
        value: ui.kit,
        options: [
          { value: "", label: t("shell.load.all") },
          { value: "-aboard", label: t("shell.load.aboard") },
          ...kits.map((/** @type {Json} */ { kit: one }) => ({ value: one.id, label: one.name })),
        ],
        set: (value) => context.turn({ kit: value }),
      })}
    </div>
    ${shown.length ? nothing : html`<p class="block">${t("shell.load.nothing_found")}</p>`}
    ${shown.map(
      (/** @type {Json} */ { kit: one, items }) => html`<div class="kit-list">
        <h3><a href="#/edit/${encodeURIComponent(one.id)}">${one.name}</a> <span class="small">${t("shell.load.ticked", { n: items.filter(aboard).length, of: items.length })}</span></h3>
        ${wanted || ui.kit === "-aboard" ? nothing : wholeKit(context, one, items)}
        <ul>
          ${items.map((/** @type {Json} */ item) => itemRow(context, item, one, kits))}
        </ul>
      </div>`,
    )}
  </section>`;
}

/** All of a kit, or none of it, in one step. @param {Context} context @param {Json} kit @param {Json[]} items */
function wholeKit({ store, plan, t, redraw }, kit, items) {
  if (!plan) return nothing;
  const aboard = items.filter(({ id }) => bayOf(plan.load, id) !== "");
  const take = (/** @type {boolean} */ comes) => {
    const { changes, left } = wholeChanges(store, plan, items, comes);
    leftOut = { kit: kit.id, load: plan.load.id, items: left.map(({ id }) => id) };
    store.edit(changes, { text: comes ? "shell.undo.kit_all" : "shell.undo.kit_none", values: { kit: kit.name } }, `whole-${kit.id}-${Date.now()}`);
    redraw(); // what is left is said where nothing changed, too
  };
  const left = leftOut.kit === kit.id && leftOut.load === plan.load.id ? items.filter((one) => leftOut.items.includes(one.id) && !aboard.includes(one)) : [];
  return html`<div class="block buttons kit-whole">
      <button type="button" class="plain" ?disabled=${aboard.length === items.length} @click=${() => take(true)}>${t("shell.load.kit_all")}<span class="unseen"> ${kit.name}</span></button>
      <button type="button" class="plain" ?disabled=${!aboard.length} @click=${() => take(false)}>${t("shell.load.kit_none")}<span class="unseen"> ${kit.name}</span></button>
    </div>
    ${left.length ? html`<p class="block wrong" role="status">${t("shell.load.kit_left", { items: left.map(({ name }) => name).join(", ") })}</p>` : nothing}`;
}

/** @param {Context} context @param {Json} item @param {Json} kit @param {Json[]} kits */
function itemRow(context, item, kit, kits) {
  const { store, plan, chosen, t, redraw } = context;
  if (!plan) return nothing;
  const place = `#/edit/${encodeURIComponent(kit.id)}%2Fitems%2F${encodeURIComponent(item.id)}`;
  const { bays } = stationsOf(plan.aeroplane, plan.configuration);
  const placed = placedOf(plan.load, item.id);
  const bay = bayOf(plan.load, item.id);
  const contents = contentsOf(plan.load, item.id);
  const every = kits.flatMap(({ items }) => items);
  const named = (/** @type {string} */ id) => every.find((/** @type {Json} */ one) => one.id === id)?.name ?? id;
  const turn = (/** @type {string} */ next) => {
    scale = next;
    redraw();
  };
  const bulk = bulkOf(item);
  const known = bays.some((/** @type {Json} */ { id }) => id === bay);
  const put = (/** @type {string | null} */ next, /** @type {string} */ label) =>
    store.edit(placeChanges(plan, item.id, next), { text: label, values: { item: item.name } });
  const pack = (/** @type {string} */ holder) => store.edit(insideChanges(plan, item.id, holder), { text: "shell.undo.bay", values: { item: item.name } });
  const said = [
    item.size?.shape === "soft" ? t("shell.load.soft") : "",
    item.must_come || (item.role && item.role !== "general") ? t("shell.load.stays") : "",
    bay && placed?.packed ? t("shell.load.packed") : "",
    contents.length ? t("shell.load.with", { items: contents.map(named).join(", ") }) : "",
    !bay && placed?.inside ? t("shell.load.in", { holder: named(placed.inside) }) : "",
  ].filter(Boolean);
  // What *fits* says no to of this thing stands with it, not only with the answer.
  const against = (bay && context.current ? (context.known?.leg.answers[0]?.measures ?? []) : []).filter((/** @type {Json} */ one) => one.verdict === "no" && one.values?.item === item.name && one.reason);
  const astray = placed?.packed && !bay;
  const whole = contents.length ? wholeOf(context, item, contents, every) : undefined;
  const mass = whole ?? placed?.weighed ?? item.mass;
  return html`<li class="item ${bay ? "item-in" : ""}">
    ${tickBox({
      ticked: Boolean(bay),
      disabled: !bay && !bays.length,
      label: html`<span class="item-name">${item.name}</span>${said.length ? html`<span class="small item-said">${said.join(", ")}</span>` : nothing}${against.map((/** @type {Json} */ one) => html`<span class="small item-said wrong">${words(one.reason, chosen)}</span>`)}${astray ? html`<span class="small item-said wrong">${t("shell.load.packed_out")}</span>` : nothing}`,
      turn: () => put(bay ? null : (bayFor(store, plan, item) ?? null), "shell.undo.tick"),
    })}
    <span class="item-figures">
      <span>${mass ? sourced(mass, "mass", chosen) : html`<a class="link" href=${place}>${t("shell.load.no_mass")}</a>`}</span>
      <span>${bulk === undefined ? html`<a class="link" href=${place}>${t("shell.load.no_size")}</a>` : amount(bulk, "bulk", chosen)}</span>
    </span>
    ${bay
      ? select({
          label: t("shell.load.bay_of", { item: item.name }),
          value: placed?.inside ? `${IN}${placed.inside}` : bay,
          options: [
            ...(known || placed?.inside ? [] : [{ value: bay, label: t("shell.load.bay_out") }]),
            ...bays.map((/** @type {Json} */ { id, name }) => ({ value: id, label: name })),
            ...holdersFor(plan, item, every).map(({ id, name }) => ({ value: `${IN}${id}`, label: t("shell.load.in", { holder: name }) })),
          ],
          set: (value) => (value.startsWith(IN) ? pack(value.slice(IN.length)) : put(value, "shell.undo.bay")),
        })
      : nothing}
    ${astray
      ? html`<button type="button" class="link" aria-label=${t("shell.load.unpack_of", { name: item.name })} @click=${() => store.edit([{ document: plan.trip.id, pointer: `/loads/${plan.load.id}/placed/${item.id}/packed`, value: false }], { text: "shell.undo.unpacked", values: { item: item.name } })}>
          ${t("shell.load.unpack")}
        </button>`
      : nothing}
    ${bay
      ? html`<button type="button" class="link" aria-expanded=${scale === item.id ? "true" : "false"} aria-label=${t("hand.weigh.of", { name: item.name })} @click=${() => turn(scale === item.id ? "" : item.id)}>
          ${t(contents.length ? "shell.load.weigh_whole" : placed?.weighed ? "hand.weighed" : "hand.weigh")}
        </button>`
      : nothing}
    ${bay && scale === item.id
      ? weighing({
          id: item.id,
          name: item.name,
          chosen,
          redraw,
          set: (mass) => {
            scale = "";
            const pointer = `/loads/${plan.load.id}/placed/${item.id}/weighed`;
            const value = contents.length ? { ...mass, holding: contents } : mass;
            store.edit([{ document: plan.trip.id, pointer, value }], { text: "hand.undo.weighed", values: { item: item.name } });
          },
        })
      : nothing}
  </li>`;
}

/**
 * What a bag weighs with all that is in it, as the core worked it out last; as good as the worst of it is known.
 * @param {Context} context @param {Json} item @param {string[]} contents @param {Json[]} every
 */
function wholeOf({ known, plan }, item, contents, every) {
  const bays = known?.leg.answers[0]?.picture?.bays ?? [];
  const found = bays.flatMap((/** @type {Json} */ bay) => bay.items).find((/** @type {Json} */ one) => one.id === item.id);
  if (typeof found?.mass !== "number") return undefined;
  const figures = every.filter(({ id }) => id === item.id || contents.includes(id)).map((one) => placedOf(plan?.load, one.id)?.weighed ?? one.mass);
  const guessed = !placedOf(plan?.load, item.id)?.weighed?.holding && figures.some((one) => one?.origin !== "measured");
  return { value: found.mass, origin: guessed ? "estimated" : "measured" };
}

/** The bags and boxes that a thing can be packed into: those that ride along, and the one it is in. @param {NonNullable<Context["plan"]>} plan @param {Json} item @param {Json[]} every */
function holdersFor({ load }, item, every) {
  const inside = contentsOf(load, item.id);
  const now = placedOf(load, item.id)?.inside;
  return every.filter((/** @type {Json} */ one) => one.id === now || (one.holds_things && one.id !== item.id && bayOf(load, one.id) && !inside.includes(one.id)));
}
