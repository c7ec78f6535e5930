// What if: another engine, propeller, tyres or tanks. The six answers of the open leg with them beside those without;
// kept, it is an aeroplane of its own beside the one that it came from.
import { html, nothing } from "lit";
import { live } from "lit/directives/live.js";
import { loose, looseValue } from "../forms/loose.js";
import { Odd, rowsFrom } from "../forms/paste.js";
import { freshId } from "../forms/layout.js";
import { linkTo } from "../forms/readiness.js";
import { choice } from "../parts/choice.js";
import { select } from "../parts/select.js";
import { verdictLabel } from "../parts/verdict.js";
import { marginAmount, ruling } from "../parts/margin.js";
import { amount, words } from "../parts/words.js";
import { Asked } from "../state/asked.js";
import { now } from "../state/time.js";
import { fromSi } from "../text.js";
import { measureName, QUESTIONS, unique } from "./answers.js";

/** @typedef {import("./context.js").Context} Context @typedef {import("../state/pointer.js").Json} Json */

const made = new Asked("what_if");
const answered = new Asked("answer");
/** The same without any change: what today's answers are when they rest on what the changed one's rest on. */
const unchanged = { made: new Asked("what_if", "what-if-unchanged"), answered: new Asked("answer", "answer-unchanged") };

/** An id that no document has: the variant has none of its own before it is kept. */
const TRIED = "what-if-tried";

const [MASS, ARM, FACTOR] = [{ si: "kg" }, { si: "m" }, { si: "1", low: 0, high: 5, above: true }];

/**
 * What can be changed of each part: [name, dimension, quantity, unit of a bare number].
 * @type {Record<string, [string, string, import("../forms/reading.js").Quantity, string][]>}
 */
const PARTS = {
  engine: [
    ["power", "power", { si: "W", low: 0, high: 1e6, above: true }, "hp"],
    ["rotation", "rotation", { si: "1/s", low: 0, high: 200, above: true }, "rpm"],
    ["flow", "factor", FACTOR, "1"],
    ["mass", "mass", MASS, "kg"],
    ["arm", "length", ARM, "mm"],
  ],
  propeller: [
    ["diameter", "length", { si: "m", low: 0, high: 5, above: true }, "cm"],
    ["rotation_limit", "rotation", { si: "1/s", low: 0, high: 200, above: true }, "rpm"],
    ["mass", "mass", MASS, "kg"],
    ["arm", "length", ARM, "mm"],
  ],
  tyres: [
    ["rolling", "factor", FACTOR, "1"],
    ["mass", "mass", MASS, "kg"],
    ["arm", "length", ARM, "mm"],
  ],
  tanks: [
    ["usable", "volume", { si: "m³", low: 0, high: 2, above: true }, "L"],
    ["mass", "mass", MASS, "kg"],
    ["arm", "length", ARM, "mm"],
  ],
};
const BLADE = [{ si: "1", low: 0, high: 5 }, { si: "1", low: -1, high: 2 }, { si: "1", low: 0, high: 2, above: true }];

/**
 * What was typed, for which aeroplane, and what of it is answered: all that stood there when a field was left last.
 * Forgotten at the end.
 * @type {{ aeroplane: string, part: string, typed: Record<string, string>, units: Record<string, string>, answered: Record<string, Record<string, Json>> | undefined }}
 */
const memory = { aeroplane: "", part: "engine", typed: {}, units: {}, answered: {} };
/** The verdict of the leg with what is answered, drawn at the head since the answers lie below the fields. @type {string | undefined} */
let worst;

/** @param {string} part @param {[string, string, import("../forms/reading.js").Quantity, string]} field */
const fieldOf = (part, [name, dimension, quantity, unit]) => {
  const key = `${part}.${name}`;
  return { key, dimension, quantity, typed: memory.typed[key] ?? "", unit: memory.units[key] ?? unit };
};

/** J, CT and CP, a line each; or what is wrong with them. @param {string} text */
function bladesIn(text) {
  if (text.trim() === "") return {};
  try {
    const rows = rowsFrom(text, BLADE.map((quantity) => ({ quantity, unit: "1" })));
    return { blades: rows.map(([advance_ratio, thrust_coefficient, power_coefficient]) => ({ advance_ratio, thrust_coefficient, power_coefficient })) };
  } catch (odd) {
    if (!(odd instanceof Odd)) throw odd;
    return { problem: odd.said };
  }
}

/** Everything that was typed as the core takes it; undefined while something of it can't be read. */
function changesNow() {
  /** @type {Record<string, Record<string, Json>>} */
  const changes = {};
  for (const [part, fields] of Object.entries(PARTS)) {
    for (const field of fields) {
      const { value, problem } = looseValue(fieldOf(part, field));
      if (problem) return undefined;
      if (value !== undefined) (changes[part] ??= {})[field[0]] = value;
    }
  }
  const { blades, problem } = bladesIn(memory.typed["propeller.blades"] ?? "");
  if (problem) return undefined;
  if (blades) (changes.propeller ??= {}).blades = blades;
  if (changes.tanks && memory.typed["tanks.tank"]) changes.tanks.tank = memory.typed["tanks.tank"];
  return changes;
}

/** @param {Context} context */
export function whatIfScreen(context) {
  const { plan, t } = context;
  const aeroplane = plan?.aeroplane;
  if (!aeroplane) return html`<p class="block">${t("shell.aeroplane.none")}</p>`;
  if (memory.aeroplane !== aeroplane.id) Object.assign(memory, { aeroplane: aeroplane.id, typed: {}, answered: {} });
  worst = undefined;
  const below = outcome(context);
  return html`
    <header class="head open-head">
      <a class="back" href="#/aeroplane"><span aria-hidden="true">‹&nbsp;</span>${aeroplane.name}</a>
      <h1 tabindex="-1">${t("shell.tab.whatif")}</h1>
      ${worst ? verdictLabel(worst) : nothing}
    </header>
    ${form(context)} ${below}
    <p class="caution">${t("caution")}</p>
  `;
}

/** Half a figure is no question: it is one when its field is left. @param {Context} context */
function settle({ redraw }) {
  const changes = changesNow();
  if (JSON.stringify(changes) === JSON.stringify(memory.answered)) return;
  memory.answered = changes;
  redraw();
}

/** @param {Context} context */
function form(context) {
  const { t } = context;
  const entered = (/** @type {KeyboardEvent} */ { key, target }) => key === "Enter" && /** @type {Element} */ (target).matches("input") && settle(context);
  const put = (/** @type {string} */ key, /** @type {string} */ typed, /** @type {string} */ unit) => {
    memory.typed[key] = typed;
    memory.units[key] = unit;
    context.redraw();
  };
  const { part } = memory;
  const typedIn = (/** @type {string} */ name) => Object.entries(memory.typed).some(([key, typed]) => key.startsWith(`${name}.`) && typed.trim());
  return html`<form class="block stack" @submit=${(/** @type {Event} */ event) => event.preventDefault()} @change=${() => settle(context)} @focusout=${() => settle(context)} @keydown=${entered}>
    ${choice({
      name: "what-if-part",
      label: t("tuned.change"),
      value: part,
      options: Object.keys(PARTS).map((name) => ({ value: name, label: html`${t(`tuned.part.${name}`)}${typedIn(name) ? html` <span aria-hidden="true">•</span><span class="unseen">${t("tuned.part_given")}</span>` : nothing}` })),
      set: (name) => {
        memory.part = name;
        context.redraw();
      },
    })}
    ${part === "tanks" ? tankChoice(context) : nothing}
    ${PARTS[part].map((field) => {
      const { key, ...rest } = fieldOf(part, field);
      return loose({ id: `what-if-${key.replace(".", "-")}`, label: t(`tuned.field.${field[0]}`), help: helpOf(context, part, field[0]), ...rest, put: (typed, unit) => put(key, typed, unit) });
    })}
    ${part === "propeller" ? blades(context) : nothing}
    ${Object.values(memory.typed).some((typed) => typed.trim())
      ? html`<div class="buttons"><button type="button" class="plain" @click=${() => {
          Object.assign(memory, { typed: {}, answered: {} });
          context.redraw();
        }}>${t("tuned.wipe")}</button></div>`
      : nothing}
  </form>`;
}

/** What it is today, where that is known. @param {Context} context @param {string} part @param {string} field */
function helpOf({ plan, chosen, t }, part, field) {
  const { engine, propeller, tanks } = plan?.aeroplane ?? {};
  /** @type {Record<string, [Json, string]>} */
  const known = {
    "engine.power": [engine?.rated_power, "power"],
    "engine.rotation": [engine?.rated_rotation, "rotation"],
    "propeller.diameter": [propeller?.diameter, "short"],
    "propeller.rotation_limit": [propeller?.rotation_limit, "rotation"],
    "tanks.usable": [tanks?.find((/** @type {Json} */ { id }) => id === memory.typed["tanks.tank"])?.usable, "volume"],
  };
  const [figure, dimension] = known[`${part}.${field}`] ?? [];
  // in the unit in which it is typed, and the trade speaks of it
  if (figure && dimension === "power") return t("tuned.today", { value: `${Number(fromSi(figure.value, "hp").toFixed(1))}\u00a0hp` });
  if (figure) return t("tuned.today", { value: amount(figure.value, dimension, chosen) });
  if (field === "mass") return t("tuned.help.mass");
  if (field === "arm") return t("tuned.help.arm");
  if (field === "flow" || field === "rolling") return t(`tuned.help.${field}`);
  return undefined;
}

/** @param {Context} context */
function tankChoice(context) {
  const { plan, t } = context;
  const tanks = plan?.aeroplane?.tanks ?? [];
  return html`<div class="loose">
    <label class="f-label" for="what-if-tank">${t("tuned.tank")}</label>
    <div class="f-row">
      ${select({
        id: "what-if-tank",
        value: memory.typed["tanks.tank"] ?? "",
        options: [{ value: "", label: t("device.sums.choose") }, ...tanks.map((/** @type {Json} */ { id, name }) => ({ value: id, label: name }))],
        set: (id) => {
          memory.typed["tanks.tank"] = id;
          context.redraw();
        },
      })}
    </div>
  </div>`;
}

/** @param {Context} context */
function blades(context) {
  const { t } = context;
  const governed = context.plan?.aeroplane?.propeller?.pitch_is === "constant_speed";
  const text = memory.typed["propeller.blades"] ?? "";
  const { problem } = bladesIn(text);
  return html`<div class="loose ${problem ? "f-wrong" : ""}">
    <label class="f-label" for="what-if-blades">${t("tuned.blades")}</label>
    <p class="small" id="what-if-blades-help">${t("tuned.help.blades")}${governed ? html` <b>${t("tuned.help.blades_governed")}</b>` : nothing}</p>
    <textarea
      class="f-text"
      id="what-if-blades"
      rows="5"
      autocomplete="off"
      spellcheck="false"
      aria-describedby="what-if-blades-help"
      aria-invalid=${problem ? "true" : "false"}
      .value=${live(text)}
      @input=${(/** @type {Event} */ { target }) => {
        memory.typed["propeller.blades"] = /** @type {HTMLTextAreaElement} */ (target).value;
        context.redraw();
      }}
    ></textarea>
    ${problem ? html`<p class="wrong">${t(problem.text, problem.values)}</p>` : nothing}
  </div>`;
}

/** @param {Context} context */
function outcome(context) {
  const { plan, store, t, chosen } = context;
  const changes = memory.answered;
  if (!plan || !changes) return html`<p class="block" role="status">${t("tuned.what_if_unread")}</p>`;
  const typed = JSON.stringify(changesNow()) !== JSON.stringify(changes);
  if (!Object.keys(changes).length) return typed ? html`<p class="block" role="status">${t("tuned.what_if_leave")}</p>` : html`<p class="block">${t("tuned.what_if_about")}</p>`;
  const of = `${store.version}/${plan.aeroplane.id}/${plan.configuration?.id}/${JSON.stringify(changes)}`;
  const asked = (/** @type {Json} */ changed) => ({
    documents: store.texts(),
    aeroplane: plan.aeroplane.id,
    ...(plan.configuration ? { configuration: plan.configuration.id } : {}),
    changes: changed,
    id: TRIED,
  });
  const variant = made.now(context, of, () => asked(changes));
  if (variant.problem) return html`<p class="block wrong" role="alert">${variant.problem}</p>`;
  if (!variant.found) return html`<p class="block" role="status">${t("shell.status.working")}</p>`;
  const { document, told, missing, alike } = variant.found;
  const base = unchanged.made.now(context, `${store.version}/${plan.aeroplane.id}/${plan.configuration?.id}`, () => asked({})).found?.document;
  // the sources that the changed one has, and no others
  const likewise = base && { ...base, performance: base.performance.filter((/** @type {Json} */ { source }) => alike || source === "constants") };
  return html`
    ${typed ? html`<p class="block" role="status">${t("tuned.what_if_leave")}</p>` : nothing}
    <div class=${typed ? "stale" : ""}>
      ${compared(context, `${of}/${alike}`, document, likewise, missing)}
      <section class="block">
        <ul class="said">
          ${told.map((/** @type {Json} */ one) => html`<li>${words(one, chosen)}</li>`)}
        </ul>
        <p class="small">${t(alike ? "tuned.what_if_alike" : "tuned.what_if_left")}</p>
        <div class="buttons"><button type="button" class="plain strong" ?disabled=${typed} @click=${() => keep(context, document)}>${t("tuned.what_if_keep")}</button></div>
      </section>
    </div>
  `;
}

/**
 * The six answers of the open leg, with the change and without.
 * @param {Context} context @param {string} of @param {Json} document @param {Json} likewise today's by the sources of the changed one
 * @param {Json[]} missing what the changed one has not and would need
 */
function compared(context, of, document, likewise, missing) {
  const { plan, store, known, current, chosen, t } = context;
  if (!plan) return nothing;
  const minute = Math.floor(Date.parse(now()) / 60_000);
  const flown = (/** @type {Json} */ one) => () => {
    const trip = structuredClone(plan.trip);
    trip.legs.find((/** @type {Json} */ { id }) => id === plan.leg.id).aeroplane = one.id;
    const others = [...store.documents.keys()].flatMap((id, index) => (id === trip.id ? [] : [store.texts()[index]]));
    return { documents: [...others, JSON.stringify(trip), JSON.stringify(one)], trip: trip.id, leg: plan.leg.id, now: now() };
  };
  const { found, problem } = answered.now(context, `${of}/${plan.leg.id}/${minute}`, flown(document));
  const same = likewise && found ? unchanged.answered.now(context, `${of}/${plan.leg.id}/${minute}`, flown(likewise)).found : undefined;
  if (problem) return html`<p class="block wrong" role="alert">${problem}</p>`;
  if (!found) return html`<p class="block" role="status">${t("shell.status.working")}</p>`;
  const told = (/** @type {Json} */ answer) => {
    const measure = ruling(answer);
    if (!measure || measure.margin === null) return "";
    return t(measure.margin < 0 ? "shell.short" : "shell.left", { by: marginAmount(measure.margin, measure.dimension, chosen) });
  };
  const of_ = (/** @type {Json} */ leg, /** @type {string} */ question) => leg?.answers.find((/** @type {Json} */ one) => one.question === question);
  if (JSON.stringify(changesNow()) === JSON.stringify(memory.answered)) worst = found.legs[0].verdict;
  // why there is no answer stands before the answers
  const unsaid = found.legs[0].answers.filter((/** @type {Json} */ { verdict }) => verdict === "can't say");
  const why = unique([...missing, ...unsaid.flatMap((/** @type {Json} */ { reasons }) => reasons.slice(0, 1))], chosen);
  return html`<section class="block">
    <h2>${t("tuned.compared", { from: plan.from?.name ?? "", to: plan.to?.name ?? "" })}</h2>
    ${why.length ? html`<ul class="said">${why.map((line) => html`<li><b>${line}</b></li>`)}</ul>` : nothing}
    <table class="what-if">
      <thead>
        <tr>
          <td></td>
          <th scope="col">${t("tuned.without")}</th>
          <th scope="col">${t("tuned.with")}</th>
        </tr>
      </thead>
      <tbody>
        ${QUESTIONS.map((question) => {
          const [before, after] = [current ? of_(known?.leg, question) : undefined, of_(found.legs[0], question)];
          const measure = after?.measures?.[after.governing ?? 0];
          const reckoned = told(of_(same?.legs[0], question));
          return html`<tr>
            <th scope="row">${t(`question.${question}`)}${measure ? html` <span class="small">${measureName(measure, chosen)}</span>` : nothing}</th>
            <td>${verdictLabel(before?.verdict)}<span class="small">${told(before)}</span>${reckoned && reckoned !== told(before) ? html`<span class="small">${t("tuned.same_way", { by: reckoned })}</span>` : nothing}</td>
            <td>${verdictLabel(after?.verdict)}<span class="small">${told(after)}</span></td>
          </tr>`;
        })}
      </tbody>
    </table>
  </section>`;
}

/** @param {Context} context @param {Json} document */
function keep(context, document) {
  const { store, t, plan } = context;
  const name = t("tuned.variant_name", { name: plan?.aeroplane.name });
  const id = freshId(name, [...store.documents.keys()]);
  const one = { ...document, id, name };
  store.edit([{ document: id, pointer: "", value: one }], { text: "form.undo.new", values: { name } });
  Object.assign(memory, { typed: {}, answered: {} });
  location.hash = linkTo(id, "");
}
