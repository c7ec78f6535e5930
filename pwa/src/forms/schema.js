// What the core's schema says of a field, as forms need it: its kind, whether it is needed, what it measures and how
// far it may go. Nothing about single fields is known here.
import schema from "../../generated/schema.json";
import { HEAD } from "../state/stamps.js";

/** @typedef {any} Json */

/**
 * @typedef {object} Field
 * @property {string} cls the class it belongs to
 * @property {string} name
 * @property {"figure"|"number"|"integer"|"yesno"|"choice"|"text"|"id"|"time"|"date"|"whole"|"union"|"list"|"ticks"|"ids"|"numbers"|"grid"|"tag"|"other"} kind
 * @property {boolean} needed
 * @property {Json} [fallback] what the core takes when it is absent
 * @property {string} [dimension]
 * @property {string} [unit] SI
 * @property {number} [low] SI
 * @property {number} [high] SI
 * @property {boolean} [above] `low` itself is refused
 * @property {string[]} [values] of a choice
 * @property {string} [of] class of a whole, or of the elements of a list
 * @property {string} [tag] the field by which the classes of a union are told apart
 * @property {Record<string, string>} [classes] class by tag
 * @property {Field} [cell] of a grid or list of numbers
 * @property {number} [least] elements
 * @property {number} [most] elements, or letters
 * @property {string} [pattern]
 * @property {boolean} [long] a text of more than a line
 */

/** @type {Record<string, Json>} */
const CLASSES = /** @type {any} */ (schema).$defs;

/** Elements that are named by another field than their id. @type {Record<string, string>} */
const KEYS = { FuelOnSale: "grade", FlapDrag: "flap", SurfaceFriction: "surface" };

/** @type {Map<string, Field[]>} */
const known = new Map();

/** Class of a document by its kind. @type {Record<string, string>} */
export const KINDS = { aeroplane: "Aeroplane", strip: "Strip", kit: "Kit", person: "Person", notebook: "Notebook" };

/** The fields of a class in the schema's order. @param {string} cls @returns {Field[]} */
export function fieldsOf(cls) {
  const before = known.get(cls);
  if (before) return before;
  const { properties, required = [] } = CLASSES[cls];
  const fields = Object.entries(properties)
    .filter(([name]) => !HEAD.includes(name))
    .map(([name, given]) => read(cls, name, given, required.includes(name)));
  known.set(cls, fields);
  return fields;
}

/** @param {string} cls @param {string} name @returns {Field | undefined} */
export const fieldOf = (cls, name) => fieldsOf(cls).find((field) => field.name === name);

/** The field that names an element of a list among its own; undefined: elements are counted. @param {string | undefined} cls */
export const keyOf = (cls) => (cls ? (KEYS[cls] ?? (CLASSES[cls].properties.id ? "id" : undefined)) : undefined);

/** The class of a value: that of the field, or that which its tag names. @param {Field} field @param {Json} value @returns {string | undefined} */
export const classOf = (field, value) => (field.classes ? field.classes[value?.[/** @type {string} */ (field.tag)]] : field.of);

/** @param {string} ref */
const named = (ref) => ref.slice(ref.lastIndexOf("/") + 1);

/** @param {string} cls @param {string} name @param {Json} given @param {boolean} needed @returns {Field} */
function read(cls, name, given, needed) {
  const inner = given.anyOf?.find((/** @type {Json} */ one) => one.type !== "null") ?? given;
  const all = { ...given, ...inner };
  const { dimension, unit, low = all.minimum, high = all.maximum, above } = all;
  const fallback = given.default ?? undefined;
  return { cls, name, needed, fallback, dimension, unit, low, high, above, ...kindOf(cls, name, all) };
}

/** @param {string} cls @param {string} name @param {Json} one @returns {Partial<Field> & { kind: Field["kind"] }} */
function kindOf(cls, name, one) {
  if (one.$ref) return named(one.$ref) === "Figure" ? { kind: "figure" } : { kind: "whole", of: named(one.$ref) };
  if (one.discriminator) return { kind: "union", ...union(one) };
  if (one.const !== undefined) return { kind: "tag", values: [one.const] };
  if (one.enum) return { kind: "choice", values: one.enum };
  if (one.type === "array") return list(cls, name, one);
  if (one.type === "number") return { kind: "number" };
  if (one.type === "integer") return { kind: "integer" };
  if (one.type === "boolean") return { kind: "yesno" };
  if (one.type !== "string") return { kind: "other" };
  if (one.format === "date-time") return { kind: "time" };
  if (one.pattern?.startsWith("^\\d{4}-")) return { kind: "date" };
  if (one.title === "id") return { kind: "id" };
  return { kind: "text", most: one.maxLength, pattern: one.pattern, long: one.maxLength > 200 && !one.pattern };
}

/** @param {Json} one */
const union = ({ discriminator }) => ({
  tag: discriminator.propertyName,
  classes: Object.fromEntries(Object.entries(discriminator.mapping).map(([tag, ref]) => [tag, named(ref)])),
});

/** @param {string} cls @param {string} name @param {Json} given @returns {Partial<Field> & { kind: Field["kind"] }} */
function list(cls, name, { items, minItems: least = 0, maxItems: most }) {
  const bounds = { least, most };
  if (items.discriminator) return { kind: "list", ...union(items), ...bounds };
  if (items.$ref) return { kind: "list", of: named(items.$ref), ...bounds };
  if (items.enum) return { kind: "ticks", values: items.enum, ...bounds };
  if (items.title === "id") return { kind: "ids", ...bounds };
  if (items.type === "number") return { kind: "numbers", cell: read(cls, name, items, true), ...bounds };
  const row = items.items;
  if (row?.items) return { kind: "grid", cell: read(cls, name, row.items, false), ...bounds };
  return { kind: "other" };
}

/**
 * The field at a place of a document, and the class it is an element of where it is one.
 * @param {Json} document
 * @param {string} pointer
 * @returns {{ field?: Field, cls?: string, value: Json } | undefined} undefined: there is no such place
 */
export function placeOf(document, pointer) {
  let value = document;
  /** @type {string | undefined} */
  let cls = KINDS[document?.kind];
  /** @type {Field | undefined} */
  let field;
  for (const part of pointer.split("/").slice(1)) {
    if (field?.kind === "list" && Array.isArray(value)) {
      const key = keyOf(field.of ?? Object.values(field.classes ?? {})[0]);
      const index = key ? value.findIndex((/** @type {Json} */ one) => one?.[key] === part) : Number(part);
      value = value[index];
      if (value === undefined) return undefined;
      cls = classOf(field, value);
      field = undefined;
    } else {
      if (!cls) return undefined;
      field = fieldOf(cls, part);
      if (!field) return undefined;
      value = value?.[part];
      cls = field.kind === "whole" || field.kind === "union" ? classOf(field, value) : undefined;
    }
  }
  return { field, cls, value };
}
