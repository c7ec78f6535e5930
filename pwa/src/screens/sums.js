// Single sums: every relation of the core by itself, found by subject and by words. Nothing is filled in before the
// person types it; the result follows each key, with its working and source.
import { html, nothing } from "lit";
import { live } from "lit/directives/live.js";
import { select } from "../parts/select.js";
import { dimensionOf, quantity, workingStep } from "../parts/working.js";
import { read, unitsFor, written } from "../forms/reading.js";
import { RELATIONS } from "../forms/relations.js";
import { display, has, t } from "../text.js";

/** @typedef {import("./context.js").Context} Context @typedef {import("../state/pointer.js").Json} Json */
/** @typedef {import("../text.js").Message} Message */

/** Subjects in the order in which the day meets them. */
const SUBJECTS = ["loading", "bulk", "air", "airspeed", "wind", "daycurve", "takeoff", "landing", "factors", "book", "ground", "friction", "climb", "power", "reach", "sun", "places"];

/** A field of the form: a quantity, or what a parameter that is none holds. @typedef {{ key: string, kind: "one"|"many"|"list"|"grid"|"choice"|"date", name: string, unit: string, optional: boolean, of?: string[], axes?: string[] }} Field */

/** What was typed and chosen, by sum and field; forgotten at the end. @type {{ search: string, typed: Record<string, Record<string, string>>, units: Record<string, Record<string, string>>, found: Record<string, { given: string, result?: Json, problem?: any }> }} */
const memory = { search: "", typed: {}, units: {}, found: {} };

/** @param {Context} context */
export function sumsScreen(context) {
  const one = RELATIONS.find(({ name }) => name === context.place.part);
  return one ? oneSum(context, one) : list(context);
}

// --- the list --------------------------------------------------------------------------------------------------

/** All words by which a sum may be looked for. @param {Json} one */
const wordsOf = (one) =>
  [one.title, one.name.replace(/_/g, " "), one.source, t(`device.subject.${one.subject}`), ...[...Object.values(one.inputs), ...Object.values(one.outputs)].map(({ name }) => name)].join(" ").toLowerCase();

/** @param {Context} context */
function list({ redraw }) {
  const wanted = memory.search.toLowerCase().split(/\s+/).filter(Boolean);
  const found = RELATIONS.filter((one) => wanted.every((word) => wordsOf(one).includes(word)));
  const there = new Set(found.map(({ subject }) => subject));
  const subjects = [...SUBJECTS, ...there].filter((subject, index, all) => there.has(subject) && all.indexOf(subject) === index);
  return html`
    <header class="head open-head">
      <a class="back" href="#/settings"><span aria-hidden="true">‹&nbsp;</span>${t("shell.tab.settings")}</a>
      <h1 tabindex="-1">${t("shell.tab.sums")}</h1>
    </header>
    <section class="block stack">
      <p class="small">${t("device.sums.about", { n: RELATIONS.length })}</p>
      <label class="find"
        ><span>${t("shell.load.find")}</span>
        <input
          type="search"
          autocomplete="off"
          .value=${live(memory.search)}
          @input=${(/** @type {Event} */ { target }) => {
            memory.search = /** @type {HTMLInputElement} */ (target).value;
            redraw();
          }}
      /></label>
      <p class="small" role="status">${found.length ? t("device.sums.found", { n: found.length }) : t("shell.load.nothing_found")}</p>
    </section>
    ${subjects.map(
      (subject) => html`<section class="sums-subject" aria-labelledby="subject-${subject}">
        <h2 id="subject-${subject}">${t(`device.subject.${subject}`)}</h2>
        <ul>
          ${found.filter((one) => one.subject === subject).map((one) => html`<li><a class="sums-row" href="#/sums/${one.name}">${one.title}</a></li>`)}
        </ul>
      </section>`,
    )}
  `;
}

// --- one sum ---------------------------------------------------------------------------------------------------

/** @param {Json} one @returns {Field[]} */
const fieldsOf = (one) => [
  ...Object.entries(one.inputs).map(([key, { name, unit }]) => ({ key, kind: one.many.includes(key) ? "many" : "one", name, unit, optional: one.optional.includes(key) })),
  ...one.plain.map((/** @type {string} */ key) => ({ key, unit: "1", ...one.kinds[key], optional: one.optional.includes(key) })),
];

/** Dimensions that are lengths, each with a usual unit of its own. */
const LENGTHS = ["arm", "short", "low height", "distance", "height"];

/** Units that a field can be typed in. @param {Field} field */
const unitsOf = ({ name, unit }) => {
  const dimension = dimensionOf(name, 0, unit);
  return unitsFor(dimension && LENGTHS.includes(dimension) ? "length" : dimension, unit);
};

/** The unit of a field now: as chosen here, else the person's. @param {Context} context @param {string} sum @param {Field} field */
function unitOf({ chosen }, sum, field) {
  const units = unitsOf(field);
  const picked = memory.units[sum]?.[field.key];
  if (picked) return picked;
  const dimension = dimensionOf(field.name, 0, field.unit);
  const usual = dimension ? display(dimension, chosen).symbol : field.unit;
  return units.includes(usual) ? usual : units[0];
}

/** @typedef {{ value: Json } | { problem: Message } | undefined} Typed nothing was typed: undefined */

/** @param {string} text @param {Field} field @param {string} unit @returns {Typed} */
function readOne(text, field, unit) {
  if (text.trim() === "") return undefined;
  const got = read(text, { si: field.unit }, unit);
  return "problem" in got ? got : { value: got.value };
}

/** Numbers parted by spaces, semicolons or lines; so a space never stands inside a number here. @param {string} text @param {Field} field @param {string} unit @returns {Typed} */
function readMany(text, field, unit) {
  const parts = text.split(/[\s;]+/).filter(Boolean);
  if (!parts.length) return undefined;
  const all = parts.map((part) => readOne(part, field, unit));
  const wrong = all.find((got) => got && "problem" in got);
  return wrong ?? { value: all.map((got) => /** @type {{ value: Json }} */ (got).value) };
}

/** @param {Json[]} flat @param {number[]} sizes @returns {Json} */
const folded = (flat, [size, ...rest]) => {
  if (!rest.length) return flat;
  const part = flat.length / size;
  return Array.from({ length: size }, (_, index) => folded(flat.slice(index * part, (index + 1) * part), rest));
};

/**
 * Everything that was typed, as the core takes it; what is lacking; what can't be read.
 * @param {Context} context
 * @param {Json} one
 * @param {Field[]} fields
 */
function argumentsOf(context, one, fields) {
  /** @type {Record<string, Json>} */
  const args = {};
  /** @type {Record<string, Message>} */
  const wrong = {};
  /** @type {Field[]} */
  const lacking = [];
  for (const field of fields) {
    const text = memory.typed[one.name]?.[field.key] ?? "";
    const unit = unitOf(context, one.name, field);
    const got = field.kind === "one" ? readOne(text, field, unit) : field.kind === "choice" || field.kind === "date" ? (text ? { value: text } : undefined) : readMany(text, field, unit);
    if (got === undefined) {
      if (!field.optional) lacking.push(field);
    } else if ("problem" in got) wrong[field.key] = got.problem;
    else args[field.key] = got.value;
  }
  for (const { key, axes } of fields) {
    if (!axes || !args[key]) continue;
    const sizes = axes.map((axis) => args[axis]?.length ?? 0);
    const wanted = sizes.reduce((product, size) => product * size, 1);
    if (wanted && args[key].length !== wanted) wrong[key] = { text: "device.sums.grid", values: { n: args[key].length, of: wanted } };
    else if (wanted) args[key] = folded(args[key], sizes);
  }
  return { args, wrong, lacking };
}

/** @param {Context} context @param {Json} one */
function oneSum(context, one) {
  const { boot } = context;
  const fields = fieldsOf(one);
  const { args, wrong, lacking } = argumentsOf(context, one, fields);
  const whole = lacking.length === 0 && Object.keys(wrong).length === 0;
  if (whole && boot.state === "ready") ask(context, one.name, args);
  const found = whole ? memory.found[one.name] : undefined;
  const wipe = () => {
    delete memory.typed[one.name];
    context.redraw();
  };
  return html`
    <header class="head open-head">
      <a class="back" href="#/sums"><span aria-hidden="true">‹&nbsp;</span>${t("shell.tab.sums")}</a>
      <h1 tabindex="-1">${one.title}</h1>
    </header>
    <form class="block stack sum" @submit=${(/** @type {Event} */ event) => event.preventDefault()}>
      ${fields.map((field) => entry(context, one, field, wrong[field.key]))}
      ${memory.typed[one.name] ? html`<div class="buttons"><button type="button" class="plain" @click=${wipe}>${t("device.sums.wipe")}</button></div>` : nothing}
    </form>
    <section class="block stack sum-result" aria-live="polite" aria-label=${t("device.sums.result")}>
      <h2>${t("device.sums.result")}</h2>
      ${!whole
        ? html`<p>${lacking.length ? t("device.sums.lacking", { what: lacking.map(({ key }) => key.replace(/_/g, " ")).join(", ") }) : t("device.sums.wrong")}</p>`
        : found?.problem
          ? html`<p class="wrong">${found.problem.message}</p>`
          : found?.result
            ? result(context, one, found.result)
            : html`<p>${t(boot.state === "ready" ? "shell.status.working" : "device.sums.starting")}</p>`}
    </section>
    <section class="block stack">
      <h2>${t("device.sums.source")}</h2>
      <p>${one.source}</p>
      <p class="small">${t("device.sums.named", { name: one.name, subject: t(`device.subject.${one.subject}`) })}</p>
    </section>
    <p class="caution">${t("caution")}</p>
  `;
}

/** Asked once for what is typed now; a newer key drops it. @param {Context} context @param {string} name @param {Record<string, Json>} args */
function ask({ core, redraw }, name, args) {
  const given = JSON.stringify(args);
  const known = memory.found[name];
  if (known?.given === given) return;
  memory.found[name] = { given };
  core.ask("sum", { name, args }, { channel: "sum" }).then(
    (result) => {
      if (memory.found[name]?.given === given) memory.found[name] = { given, result };
      redraw();
    },
    (problem) => {
      if (memory.found[name]?.given !== given) return;
      if (problem?.code === "superseded" || problem?.code === "stopped") delete memory.found[name];
      else memory.found[name] = { given, problem };
      redraw();
    },
  );
}

/** @param {Context} context @param {Json} one @param {Field} field @param {Message | undefined} wrong */
function entry(context, one, field, wrong) {
  const id = `sum-${one.name}-${field.key}`;
  const text = memory.typed[one.name]?.[field.key] ?? "";
  const put = (/** @type {string} */ value) => {
    memory.typed[one.name] = { ...memory.typed[one.name], [field.key]: value };
    context.redraw();
  };
  const typing = (/** @type {Event} */ { target }) => put(/** @type {HTMLInputElement} */ (target).value);
  const label = field.name.charAt(0).toUpperCase() + field.name.slice(1);
  // Two edges of a box have one name; the parameter tells them apart.
  const hint = field.key.replace(/_/g, " ");
  const units = unitsOf(field);
  const unit = unitOf(context, one.name, field);
  const described = wrong ? `${id}-wrong` : nothing;
  const control =
    field.kind === "choice"
      ? select({ id, value: text, set: put, options: [{ value: "", label: t("device.sums.choose") }, ...(field.of ?? []).map((word) => ({ value: word, label: choiceWords(word) }))] })
      : field.kind === "date"
        ? html`<input class="f-text" id=${id} type="date" .value=${live(text)} @input=${typing} />`
        : field.kind === "one"
          ? html`<input class="f-text" id=${id} type="text" inputmode="text" autocomplete="off" spellcheck="false" aria-invalid=${wrong ? "true" : "false"} aria-describedby=${described} .value=${live(text)} @input=${typing} />`
          : html`<textarea class="f-text" id=${id} rows="3" autocomplete="off" spellcheck="false" aria-invalid=${wrong ? "true" : "false"} aria-describedby=${described} .value=${live(text)} @input=${typing}></textarea>`;
  const setUnit = (/** @type {string} */ symbol) => {
    memory.units[one.name] = { ...memory.units[one.name], [field.key]: symbol };
    context.redraw();
  };
  return html`<div class="sum-entry">
    <label class="f-label" for=${id}>${label}${hint === field.name.toLowerCase() ? nothing : html` <span class="small">${hint}</span>`}${field.optional ? html` <span class="small">${t("device.sums.optional")}</span>` : nothing}</label>
    ${field.kind === "one" || field.kind === "choice" || field.kind === "date" ? nothing : html`<p class="small">${t("device.sums.many")}</p>`}
    <div class="f-row">
      ${control}
      ${field.kind === "choice" || field.kind === "date"
        ? nothing
        : units.length > 1
          ? select({ label: t("device.sums.unit", { what: `${label} ${hint}` }), value: unit, set: setUnit, options: units.map((symbol) => ({ value: symbol, label: written(symbol) || t("device.sums.plain") })) })
          : html`<span class="f-unit-fixed">${written(unit)}</span>`}
    </div>
    ${wrong && text.trim() ? html`<p class="wrong" id="${id}-wrong">${t(wrong.text, wrong.values)}</p>` : nothing}
  </div>`;
}

/** @param {string} word */
const choiceWords = (word) => (has(`surface.${word}`) ? t(`surface.${word}`) : word.replace(/_/g, " "));

/** @param {Context} context @param {Json} one @param {Json} found */
function result({ chosen }, one, found) {
  const beyond = found.outside.map((/** @type {string} */ key) => {
    const { name, unit, low, high } = one.inputs[key];
    const bound = (/** @type {number | null} */ value) => quantity({ name, value, unit }, chosen);
    const text = low === null ? "device.sums.to" : high === null ? "device.sums.from" : "device.sums.between";
    return t(text, { what: name, low: low === null ? "" : bound(low), high: high === null ? "" : bound(high) });
  });
  return html`
    <dl class="sum-outputs">
      ${Object.entries(one.outputs).map(([key, { name, unit }]) => {
        const state = found.state[key];
        const words = state === "impossible" ? t("device.sums.impossible") : state ? t("device.sums.outside") : quantity({ name, value: found.outputs[key], unit }, chosen);
        return html`<div><dt>${name}</dt><dd>${words}</dd></div>`;
      })}
    </dl>
    ${beyond.map((/** @type {string} */ line) => html`<p class="wrong">${line}</p>`)}
    <h3>${t("device.sums.working")}</h3>
    <ol>
      ${found.working.map((/** @type {Json} */ step) => workingStep(step, chosen))}
    </ol>
  `;
}
