// One document being edited: where things are put, drafts, units and origins as they were last chosen, what is wrong.
import { display, t } from "../text.js";
import { namedPointer, valueAt } from "../state/pointer.js";
import { following } from "../state/units.js";
import { labelId, shownAs } from "./layout.js";
import { read, unitsFor } from "./reading.js";
import { placeOf } from "./schema.js";

/** @typedef {import("./schema.js").Field} Field @typedef {import("./schema.js").Json} Json */
/** @typedef {import("../text.js").Message} Message @typedef {import("./sketches.js").Sketches} Sketches */
/** @typedef {import("../state/store.js").Store} Store @typedef {import("../text.js").Chosen} Chosen */

/**
 * @typedef {object} Memory what was chosen last, kept on the device
 * @property {Record<string, string>} units by document and field, and by document and dimension ("~mass")
 * @property {Record<string, string>} origins of new figures, by document
 */

/** @type {Memory} */
let memory = { units: {}, origins: {} };
let asked = false;

/** Units in which ground is measured. */
const OF_GROUND = ["m", "ft"];

/** What a form shows besides the document; forgotten at the end. */
export const shown = {
  /** @type {Record<string, number>} the plane of a table, by place */
  plane: {},
  /** @type {Record<string, string>} text of a box for pasting, by place */
  paste: {},
  /** @type {Record<string, Message>} what came of pasting, of asking for a position */
  said: {},
  /** @type {Record<string, boolean>} what is unfolded */
  open: {},
  /** @type {Record<string, string>} helpers' own entries: paces, angles */
  aid: {},
};

export class Form {
  /**
   * @param {object} given
   * @param {Store} given.store
   * @param {Sketches} given.sketches
   * @param {Chosen} given.chosen
   * @param {() => void} given.redraw
   * @param {string} given.id
   */
  constructor({ store, sketches, chosen, redraw, id }) {
    this.store = store;
    this.sketches = sketches;
    this.chosen = chosen;
    this.redraw = redraw;
    this.id = id;
    this.document = sketches.work(id);
    if (!asked) {
      asked = true;
      store.kept("forms").then((kept) => {
        memory = { ...memory, ...kept };
        redraw();
      });
    }
  }

  /** @param {string} pointer @returns {Json} */
  value(pointer) {
    return valueAt(this.document, pointer) ?? undefined;
  }

  /**
   * @param {Field} field
   * @param {string} pointer
   * @param {Json} value undefined: not known
   * @param {string} [typed]
   */
  put(field, pointer, value, typed) {
    this.store.draft(this.place(pointer), undefined);
    this.putAll([{ pointer, value, ...(typed === undefined ? {} : { typed: { "": typed } }) }], field);
  }

  /** @param {{ pointer: string, value: Json, typed?: Record<string, string> }[]} changes @param {Field} [field] for the words of undo */
  putAll(changes, field) {
    const label = field ? { text: "form.undo", values: { what: labelId(field), of: this.document.name ?? "" } } : undefined;
    this.sketches.put(this.id, changes, label);
  }

  /** Where a draft is kept. @param {string} pointer */
  place(pointer) {
    return `${this.id}${pointer}`;
  }

  /** @param {string} pointer */
  draft(pointer) {
    return this.store.drafts[this.place(pointer)];
  }

  /** @param {string} pointer @param {string | undefined} typed */
  setDraft(pointer, typed) {
    this.store.draft(this.place(pointer), typed);
  }

  /** What was typed for a plain number. @param {string} pointer @returns {string | undefined} */
  typed(pointer) {
    return this.document?.typed?.[namedPointer(this.document, pointer)];
  }

  /** What a field measures, as far as this document decides it. @param {Field} field @param {string} pointer @returns {Field & { unit: string }} */
  measured(field, pointer) {
    const owner = this.value(pointer.replace(/(\/\d+)?\/[^/]*$/, ""));
    if (field.cls === "Vertex" && field.name === "across") {
      const axes = this.value(pointer.replace(/\/vertices\/.*$/, "/axes"));
      return axes === "mass_moment" ? { ...field, dimension: "moment", unit: "kg m" } : { ...field, dimension: "length", unit: "m", low: -50, high: 50 };
    }
    if (field.name === "temperature_axis")
      return owner?.temperature_is === "above_standard"
        ? { ...field, dimension: "temperature difference", unit: "dK", low: -80, high: 80 }
        : { ...field, dimension: "temperature", unit: "K", low: 150, high: 340 };
    return { ...field, unit: field.unit ?? "1" };
  }

  /** The unit in which a field is shown now. @param {Field} field */
  unit(field) {
    const units = unitsFor(field.dimension, field.unit ?? "1");
    const own = memory.units[`${this.id}:${field.cls}.${field.name}`];
    const usual = display(shownAs(field), this.units).symbol;
    return [own, usual].find((symbol) => symbol !== undefined && units.includes(symbol)) ?? units[0];
  }

  /** The person's units, and over them those in which this document is being written: its book has one for all arms. @returns {Chosen} */
  get units() {
    const start = `${this.id}:~`;
    const here = Object.entries(memory.units).filter(([key]) => key.startsWith(start));
    return { ...this.chosen, ...Object.fromEntries(here.map(([key, symbol]) => [key.slice(start.length), symbol])) };
  }

  /**
   * A field keeps the unit in which it was written. Whoever turns to another unit goes on in it: what measures the
   * same kind and has no unit of its own yet follows.
   * @param {Field} field @param {string} symbol
   */
  setUnit(field, symbol) {
    const own = `${this.id}:${field.cls}.${field.name}`;
    if (memory.units[own] === symbol) return;
    const turned = this.unit(field) !== symbol;
    const units = { ...memory.units, [own]: symbol };
    const dimension = shownAs(field);
    // The inches of a part, or the miles of a valley, are no habit for ground: a bare "820" of a table would count in them.
    if (turned && (dimension !== "length" || OF_GROUND.includes(symbol))) {
      units[`${this.id}:~${dimension}`] = symbol;
      for (const [other, one] of Object.entries(following(dimension, symbol))) units[`${this.id}:~${other}`] ??= one;
    }
    memory = { ...memory, units };
    this.store.keep("forms", memory);
    this.redraw();
  }

  /** Where new figures of this document come from. Nobody said so: they are estimates. */
  get origin() {
    return memory.origins[this.id] ?? "estimated";
  }

  /** @param {string} origin */
  setOrigin(origin) {
    memory = { ...memory, origins: { ...memory.origins, [this.id]: origin } };
    this.store.keep("forms", memory);
    this.redraw();
  }

  /**
   * What is typed, as a number, or what is wrong with it.
   * @param {Field & { unit: string }} field
   * @param {string} typed
   */
  read(field, typed) {
    const { unit, low, high, above } = field;
    return read(typed, { si: unit, low, high, above }, this.unit(field));
  }

  /** Words against what stands at a place: the draft there, what the core said, or that it is needed. @param {Field} field @param {string} pointer @returns {string} */
  wrong(field, pointer) {
    const draft = this.draft(pointer);
    const id = idOf(pointer);
    if (draft !== undefined && document.activeElement?.id !== id) {
      const problem = this.problem(field, pointer, draft);
      return problem ? t(problem.text, problem.values) : t("form.draft");
    }
    return this.sketches.wrongAt(this.id, pointer) ?? "";
  }

  /** @param {Field} field @param {string} pointer @param {string} typed @returns {Message | undefined} */
  problem(field, pointer, typed) {
    if (typed.trim() === "") return undefined;
    if (field.kind === "figure" || field.kind === "number") {
      const said = this.read(this.measured(field, pointer), typed);
      return "problem" in said ? said.problem : undefined;
    }
    if (field.kind === "integer") return wholeNumber(typed, field);
    if (field.kind === "text") return textProblem(typed.trim(), field);
    return undefined;
  }

  /** Is something needed here that is not there? @param {Field} field @param {string} pointer */
  lacks(field, pointer) {
    return field.needed && this.value(pointer) === undefined;
  }

  /** The field at a place of this document. @param {string} pointer */
  placeOf(pointer) {
    return placeOf(this.document, pointer);
  }
}

/** Id of the control at a place. @param {string} pointer */
export const idOf = (pointer) => `f${pointer.replaceAll("/", ".")}`;

/** @param {string} typed @param {Field} field @returns {Message | undefined} */
function wholeNumber(typed, { low = -Infinity, high = Infinity }) {
  if (!/^\s*[+-]?\d{1,15}\s*$/.test(typed)) return { text: "form.wrong.integer", values: { typed } };
  const value = Number(typed);
  return value < low || value > high ? { text: "form.wrong.between", values: { low: String(low), high: String(high) } } : undefined;
}

/** @param {string} typed @param {Field} field @returns {Message | undefined} */
function textProblem(typed, { cls, name, pattern, most }) {
  if (pattern && !new RegExp(pattern, "u").test(typed)) return { text: `form.wrong.${cls}.${name}`, values: { typed } };
  return most && typed.length > most ? { text: "form.wrong.long", values: { most: String(most) } } : undefined;
}
