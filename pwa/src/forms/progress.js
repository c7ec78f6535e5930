// How far a document is: what is given, what is lacking for it to be whole, section by section.
import { SECTIONS, ordered } from "./layout.js";
import { KINDS, classOf, fieldOf } from "./schema.js";
import { lacking } from "./whole.js";

/** @typedef {import("./form.js").Form} Form @typedef {import("./schema.js").Field} Field @typedef {import("./schema.js").Json} Json */

/** @typedef {{ name: string, fields: string[], given: number, of: number, open: number }} Progress */

/** Is something needed below a place, or half typed there? @param {Form} form @param {string} pointer */
export const lackingBelow = (form, pointer) =>
  lacking(form.document).some((place) => place.startsWith(`${pointer}/`)) || Object.keys(form.store.drafts).some((place) => place.startsWith(`${form.place(pointer)}/`));

/** The sections of a document, with how many of their fields are given. @param {Form} form @returns {Progress[]} */
export function progress(form) {
  const cls = KINDS[form.document.kind];
  const open = [...lacking(form.document), ...Object.keys(form.store.drafts).flatMap((place) => (place.startsWith(`${form.id}/`) ? [place.slice(form.id.length)] : []))];
  return SECTIONS[form.document.kind].map(([name, fields]) => {
    const counts = fields.map((one) => counted(/** @type {Field} */ (fieldOf(cls, one)), form.document[one]));
    return {
      name,
      fields,
      given: counts.reduce((sum, [given]) => sum + given, 0),
      of: counts.reduce((sum, [, of]) => sum + of, 0),
      open: open.filter((place) => fields.includes(place.split("/")[1])).length,
    };
  });
}

/** Fields that are given, and all of them. A list counts by its elements, an empty one as one that is not given. @param {Field} field @param {Json} value @returns {[number, number]} */
function counted(field, value) {
  const there = value !== undefined && value !== null;
  if (field.kind === "list") {
    if (!there || value.length === 0) return [0, 1];
    return sum(value.map((/** @type {Json} */ element) => inside(classOf(field, element), element)));
  }
  if (field.kind === "whole" || field.kind === "union") {
    const cls = classOf(field, there ? value : field.fallback);
    if (!there && field.fallback === undefined) return [0, 1];
    return cls ? inside(cls, value ?? {}) : [0, 1];
  }
  // What has a usual value is never open.
  return there ? [1, 1] : field.fallback === undefined && !["note", "class_of", "registration", "variant_of"].includes(field.name) ? [0, 1] : [0, 0];
}

/** @param {string | undefined} cls @param {Json} value @returns {[number, number]} */
const inside = (cls, value) => (cls ? sum(ordered(cls).map((field) => counted(field, value?.[field.name]))) : [0, 1]);

/** @param {[number, number][]} all @returns {[number, number]} */
const sum = (all) => all.reduce(([a, b], [c, d]) => [a + c, b + d], [0, 0]);
