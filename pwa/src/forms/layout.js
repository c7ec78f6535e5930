// How forms are laid out: sections of a document, which lists have pages of their own, what a reference points to, and
// in which unit a field is shown where its dimension alone does not say it. Labels and orders are in the catalogue.
import { day } from "../state/time.js";
import { has, t } from "../text.js";
import { fieldsOf, keyOf } from "./schema.js";

/** @typedef {import("./schema.js").Field} Field @typedef {import("./schema.js").Json} Json */

/** Sections by kind of document: the name of each, and its fields. @type {Record<string, [string, string[]][]>} */
export const SECTIONS = {
  aeroplane: [
    ["basics", ["name", "registration", "class_of", "datum", "note", "base", "variant_of"]],
    ["wheels", ["undercarriage", "wing"]],
    ["seats", ["seats"]],
    ["bays", ["bays", "joint_limits"]],
    ["tanks", ["tanks"]],
    ["envelope", ["limits", "envelopes"]],
    ["configurations", ["configurations"]],
    ["owner", ["owner", "turn_bank"]],
    ["engine", ["engine", "propeller", "run_up"]],
    ["flaps", ["flaps", "speeds", "dial_first_mark", "approach_gradient"]],
    ["performance", ["performance", "prefer"]],
    ["fuel", ["fuel", "cruises"]],
    ["notes", ["quirks"]],
  ],
  strip: [
    ["place", ["name", "code", "position", "elevation", "note"]],
    ["ground", ["ground"]],
    ["directions", ["directions"]],
    ["around", ["mass_limit", "ridge_shadow", "fuel", "has_sock", "has_water"]],
  ],
  kit: [["items", ["name", "items", "note"]]],
  person: [["person", ["name", "is_a", "mass", "height", "width", "flies", "limits", "mass_is_private", "note"]]],
  notebook: [["entries", ["name", "entries", "note"]]],
};

/** Lists of a document whose elements have a page each. */
const PAGED = ["seats", "bays", "tanks", "configurations", "envelopes", "flaps", "performance", "cruises", "directions", "items", "entries"];

/** Fields that are nobody's to type. */
const HIDDEN = ["Constants.fitted"];
/** Fields of every entry of a notebook that are nobody's to type. */
const HIDDEN_ANYWHERE = ["track", "load"];

/** What an element is named by where it is not its name. @type {Record<string, string>} */
const NAMING = { Envelope: "category", Direction: "designator", Quirk: "text" };

/** What a reference points to: lists of the same document, or documents of a kind. @type {Record<string, string[]>} */
const REFERS = {
  "Configuration.based_on": ["configurations"],
  "Configuration.seats_out": ["seats"],
  "Configuration.bays_out": ["bays"],
  "Configuration.tanks_out": ["tanks"],
  "JointLimit.stations": ["seats", "bays", "tanks"],
  "Aeroplane.variant_of": ["-aeroplane"],
  "Item.owner": ["-person"],
  "Item.must_bays": ["-bays"],
  "Item.not_bays": ["-bays"],
  strip: ["-strip"],
  direction: ["-directions"],
  flap: ["flaps"],
  configuration: ["configurations"],
  configurations: ["configurations"],
  takeoff: ["performance"],
  climb: ["performance"],
  landing: ["performance"],
};

/** How a field is shown where its dimension does not say it. @type {Record<string, string>} */
const SHOWN_AS = { "Obstacle.height": "low height", "Wing.height": "low height", "KnownDistance.from_height": "low height", "WindRule.factor": "factor", "FixedPitch.diameter": "short", "FixedPitch.pitch": "short", "ConstantSpeed.diameter": "short" };

const SMALL = ["Bay", "Door", "Rigid", "Soft"];

/** The dimension by whose unit a field is shown. @param {Field} field */
export function shownAs({ cls, name, dimension, low = 0, high = Infinity }) {
  const said = SHOWN_AS[`${cls}.${name}`];
  if (said) return said;
  if (dimension === "length" && low < 0) return "arm";
  if (dimension === "length" && (SMALL.includes(cls) || high <= 2)) return "short";
  if (dimension === "height" && high <= 2.5) return "short";
  if (dimension === "ratio" && /(^|_)factor$/.test(name)) return "factor";
  return dimension ?? "number";
}

/** The fields of a class in the order in which they are asked for. @param {string} cls */
export function ordered(cls) {
  const fields = fieldsOf(cls).filter(({ kind, name }) => kind !== "tag" && kind !== "other" && !HIDDEN.includes(`${cls}.${name}`) && !(cls.endsWith("Entry") && HIDDEN_ANYWHERE.includes(name)));
  const order = has(`form.order.${cls}`) ? t(`form.order.${cls}`).split(" ") : [];
  const rank = (/** @type {Field} */ { name }) => (order.includes(name) ? order.indexOf(name) : order.length + (name === "note" ? 1 : 0));
  return [...fields].sort((a, b) => rank(a) - rank(b));
}

/** Text id of a field's label. @param {Field} field */
export const labelId = ({ cls, name }) => (has(`form.${cls}.${name}`) ? `form.${cls}.${name}` : `form.any.${name}`);

/** A word more on a field, "" where there is none. @param {Field} field */
export function help({ cls, name }) {
  const id = [`form.help.${cls}.${name}`, `form.help.any.${name}`].find(has);
  return id ? t(id) : "";
}

/** The words for one value of a choice. @param {Field} field @param {string} value */
export function wordFor({ name }, value) {
  const ids = [`form.is.${name}.${value}`, `form.${name}.${value}`, `surface.${value}`, `grade.${value}`, `question.${value}`, `form.is.${value}`];
  return t(ids.find(has) ?? `form.is.${value}`);
}

/** Has each element of this list a page? @param {string} pointer */
export const isPaged = (pointer) => PAGED.includes(pointer.slice(1));

/** The section that holds a field of a document. @param {string} kind @param {string} name */
export const sectionOf = (kind, name) => SECTIONS[kind].find(([, fields]) => fields.includes(name)) ?? SECTIONS[kind][0];

/** The field by which people know an element; undefined: it has none. @param {string | undefined} cls */
export function namingOf(cls) {
  if (!cls) return undefined;
  const key = keyOf(cls);
  if (key && key !== "id") return key;
  return NAMING[cls] ?? (fieldsOf(cls).some(({ name }) => name === "name") ? "name" : undefined);
}

/** What an element is called. @param {string | undefined} cls @param {Json} element @param {number} [index] */
export function nameOf(cls, element, index = 0) {
  const naming = namingOf(cls);
  const name = naming ? element?.[naming] : undefined;
  const entry = cls?.endsWith("Entry") ? element?.what : undefined;
  if (entry) return t("notebook.named", { what: { text: `notebook.what.${entry}` }, when: day(element.at ?? "") });
  if (!name) return t("form.numbered", { n: index + 1 });
  return naming === "surface" || naming === "grade" ? t(`${naming}.${name}`) : name;
}

/**
 * What a reference may point to, by id and name.
 * @param {Field} field
 * @param {Json} document
 * @param {import("../state/store.js").Store} store
 * @returns {{ value: string, label: string }[]}
 */
export function targets({ cls, name }, document, store) {
  const where = REFERS[`${cls}.${name}`] ?? REFERS[name] ?? [];
  // an entry of a notebook names what its aeroplane has
  const home = document.kind === "notebook" ? (store.get(document.aeroplane) ?? document) : document;
  return where.flatMap((place) => {
    if (place === "-directions") return store.all("strip").flatMap((strip) => strip.directions.map((/** @type {Json} */ one) => ({ value: one.id, label: t("form.of", { what: one.designator, of: strip.name }) })));
    if (place === "-bays") return store.all("aeroplane").flatMap((plane) => (plane.bays ?? []).map((/** @type {Json} */ bay) => ({ value: bay.id, label: t("form.of", { what: bay.name, of: plane.name }) })));
    const there = place.startsWith("-") ? store.all(place.slice(1)).filter(({ id }) => id !== document.id) : (home[place] ?? []);
    return there.map((/** @type {Json} */ one) => ({ value: one.id, label: one.name ?? one.id }));
  });
}

/** Letters and digits of a name, as an id that nothing else has. @param {string} name @param {Iterable<string>} taken */
export function freshId(name, taken) {
  const used = new Set(taken);
  const letters = name.normalize("NFKD").replace(/[\u0300-\u036f]/g, "").toLowerCase();
  const base = letters.replace(/[^a-z0-9]+/g, "-").replace(/^-+|-+$/g, "").slice(0, 48) || "x";
  for (let n = 1; ; n++) {
    const id = n === 1 ? base : `${base}-${n}`;
    if (!used.has(id)) return id;
  }
}
