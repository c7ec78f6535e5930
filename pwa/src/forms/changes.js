// What differs between two versions of a document, in words: where, what stood there, what stands there now.
import { html, nothing } from "lit";
import { labelId, shownAs, wordFor } from "./layout.js";
import { classOf, fieldOf } from "./schema.js";
import { clock, day } from "../state/time.js";
import { valueAt } from "../state/pointer.js";
import { has, shown, t } from "../text.js";
import { unbroken } from "../parts/words.js";

/** @typedef {import("./schema.js").Field} Field @typedef {import("../state/pointer.js").Json} Json */
/** @typedef {import("../text.js").Chosen} Chosen */
/** @typedef {{ chosen: Chosen, name: (id: string) => string }} Words how figures are shown, and what ids are called */

/** @type {Record<string, string>} */
const CLASSES = { aeroplane: "Aeroplane", strip: "Strip", kit: "Kit", person: "Person", air: "Air", trip: "Trip", settings: "Settings", notebook: "Notebook", lesson: "Lesson" };

const NAMING = ["name", "designator", "category", "text", "item", "person", "tank", "grade", "surface", "flap", "id"];

/** @param {string} name */
const spaced = (name) => name.replace(/_/g, " ");

/** What a field is called. @param {Field | undefined} field @param {string} name */
function called(field, name) {
  const id = field ? labelId(field) : "";
  const words = id && has(id) ? t(id) : spaced(name);
  return words.charAt(0).toUpperCase() + words.slice(1);
}

/** What an element of a list is called. @param {Json} element @param {Words} words */
function elementName(element, words) {
  const key = NAMING.find((name) => typeof element?.[name] === "string");
  return key ? words.name(element[key]) : "";
}

/**
 * The way to a place in words, and the field that is there.
 * @param {Json[]} documents versions of one document, the one to look in first before the others
 * @param {string} pointer
 * @param {Words} words
 */
function way(documents, pointer, words) {
  const document = documents.find((one) => one && valueAt(one, pointer) !== undefined) ?? documents.find(Boolean);
  /** @type {string[]} */
  const said = [];
  /** @type {Field | undefined} */
  let field;
  /** @type {string | undefined} */
  let cls = CLASSES[document?.kind];
  let here = document;
  for (const part of pointer.split("/").slice(1)) {
    const name = part.replace(/~1/g, "/").replace(/~0/g, "~");
    if (Array.isArray(here)) {
      here = valueAt(here, `/${part}`);
      cls = field ? classOf(field, here) : undefined;
      field = undefined;
      said.push(elementName(here, words) || words.name(name));
    } else {
      field = cls ? fieldOf(cls, name) : undefined;
      here = here?.[name];
      cls = field && (field.kind === "whole" || field.kind === "union") ? classOf(field, here) : undefined;
      said.push(called(field, name));
    }
  }
  return { said, field };
}

/**
 * A place in a file in words, with the pointer itself after them.
 * @param {string} text the file
 * @param {string} path from the file's root
 * @param {Words} words
 */
export function placeIn(text, path, words) {
  const [, of, index, ...rest] = path.split("/");
  let document;
  try {
    if (of === "documents") document = JSON.parse(text).documents[index];
  } catch {
    // Nothing to be named in what can't be read.
  }
  if (typeof document?.name !== "string" || !(document.kind in CLASSES)) return path;
  const { said } = way([document], rest.length ? `/${rest.join("/")}` : "", words);
  return `${[`${document.name.slice(0, 80)} (${t(`device.kind.${document.kind}`)})`, ...said].join(", ")}; ${path}`;
}

const TIME = /^\d{4}-\d\d-\d\dT/;

/**
 * A value in words.
 * @param {Json} value
 * @param {Field | undefined} field
 * @param {Words} words
 * @returns {string}
 */
function valueWords(value, field, words) {
  if (value === undefined || value === null) return t("device.change.nothing");
  if (typeof value === "boolean") return t(value ? "shell.yes" : "shell.no");
  if (typeof value === "number") return field?.dimension ? unbroken(shown(value, shownAs(field), words.chosen)) : String(value);
  if (typeof value === "string") return stringWords(value, field, words);
  if (Array.isArray(value)) {
    const names = value.map((one) => (typeof one === "string" ? words.name(one) : elementName(one, words)));
    return names.length && names.every(Boolean) && names.length <= 6 ? names.join(", ") : t("device.change.entries", { n: value.length });
  }
  if ("value" in value && "origin" in value) return `${valueWords(value.value, field, words)} (${t(`shell.origin.${value.origin}`)})`;
  const cls = field ? (classOf(field, value) ?? field.cls) : undefined;
  const name = elementName(value, words);
  if (name && value.name) return name;
  const parts = Object.entries(value).map(([key, inner]) => {
    const own = cls && has(`form.any.${key}`) ? fieldOf(cls, key) : cls ? fieldOf(cls, key) : undefined;
    return `${called(own, key).toLowerCase()} ${valueWords(inner, own, words)}`;
  });
  return parts.join(", ");
}

/** @param {string} value @param {Field | undefined} field @param {Words} words */
function stringWords(value, field, words) {
  if (TIME.test(value)) return `${day(value)} ${clock(value)}`;
  if (field?.kind === "choice") return wordFor(field, value);
  return value.length > 80 ? `${value.slice(0, 79)}…` : words.name(value);
}

/**
 * One place that differs, as a line.
 * @param {{ pointer: string, before?: Json, after?: Json, other?: Json, kind?: string }} change
 * @param {Json[]} documents versions of the document
 * @param {Words} words
 */
export function changeLine({ pointer, before, after, other, kind }, documents, words) {
  const { said, field } = way(documents, pointer, words);
  const [old, next] = [valueWords(before, field, words), valueWords(after, field, words)];
  return html`<li class="diff ${kind === "conflict" ? "diff-conflict" : ""}">
    <b>${said.join(", ")}</b>
    ${kind === "conflict"
      ? html`<span>${t("device.change.apart")}</span> <span>${t("device.change.kept", { value: next })}</span> <span>${t("device.change.other", { value: valueWords(other, field, words) })}</span>`
      : html`<span>${old} <span aria-hidden="true">→</span><span class="unseen"> ${t("device.change.to")} </span> ${next}</span>`}
  </li>`;
}

/** So many lines are shown at once; the rest stay folded. */
const PLAIN = 8;

/** Lines of which most are folded where there are many. @param {unknown[]} lines */
export const folded = (lines) =>
  html`<ul class="diffs">
      ${lines.slice(0, PLAIN)}
    </ul>
    ${lines.length > PLAIN
      ? html`<details class="more">
          <summary>${t("device.change.more", { n: lines.length - PLAIN })}</summary>
          <ul class="diffs">
            ${lines.slice(PLAIN)}
          </ul>
        </details>`
      : nothing}`;

/**
 * Names of documents and of what they hold, by id, so that a reference can be read.
 * @param {Iterable<Json>} documents
 * @returns {(id: string) => string}
 */
export function namer(documents) {
  /** @type {Map<string, string>} */
  const names = new Map();
  for (const document of documents) {
    if (!document) continue;
    names.set(document.id, document.name);
    for (const part of Object.values(document)) {
      if (!Array.isArray(part)) continue;
      for (const one of part) if (typeof one?.id === "string" && one.name && !names.has(one.id)) names.set(one.id, one.name);
    }
  }
  return (id) => names.get(id) ?? id;
}
