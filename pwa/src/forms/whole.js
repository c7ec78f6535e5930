// What of a document can be stored: what is whole. What is half typed stays apart, and what was stored before stays as
// it was until the new is whole. A list whose elements have no names is one field: it is whole, or it waits.
import { namedPointer, valueAt, withValue } from "../state/pointer.js";
import { KINDS, classOf, fieldOf, fieldsOf, keyOf, placeOf } from "./schema.js";
import { parse } from "./reading.js";

/** @typedef {import("./schema.js").Field} Field @typedef {import("./schema.js").Json} Json */
/** @typedef {import("../state/store.js").Change} Change */

const NOT_WHOLE = Symbol("not whole");

const given = (/** @type {Json} */ value) => value !== undefined && value !== null;

/**
 * The document without what is not whole; undefined when nothing of it can be stored.
 * @param {Json} work
 * @param {Json} stored what counts until then
 */
export function wholePart(work, stored) {
  const kept = wholeObject(KINDS[work.kind], work, stored);
  return kept === NOT_WHOLE ? stored : kept;
}

/** @param {string} cls @param {Json} work @param {Json} stored @returns {Json} */
function wholeObject(cls, work, stored) {
  const kept = { ...work };
  for (const field of fieldsOf(cls)) {
    const before = stored?.[field.name];
    const value = given(work[field.name]) ? wholeField(field, work[field.name], before) : undefined;
    if (value !== NOT_WHOLE && value !== undefined) kept[field.name] = value;
    else if (given(before) && (field.needed || value === NOT_WHOLE)) kept[field.name] = before;
    else if (field.needed) return NOT_WHOLE;
    else delete kept[field.name];
  }
  return kept;
}

/** @param {Field} field @param {Json} value @param {Json} before @returns {Json} */
function wholeField(field, value, before) {
  const { kind, least = 0 } = field;
  if (kind === "whole" || kind === "union") {
    const cls = classOf(field, value);
    return cls ? wholeObject(cls, value, classOf(field, before) === cls ? before : undefined) : NOT_WHOLE;
  }
  if (kind !== "list") return Array.isArray(value) && value.length < least ? NOT_WHOLE : value;
  const kept = [];
  for (const element of value) {
    const cls = classOf(field, element);
    const key = keyOf(cls);
    const old = key ? before?.find((/** @type {Json} */ one) => one[key] === element[key] && classOf(field, one) === cls) : undefined;
    const whole = cls ? wholeObject(cls, element, old) : NOT_WHOLE;
    if (whole !== NOT_WHOLE) kept.push(whole);
    else if (old) kept.push(old);
    else if (!key) return NOT_WHOLE;
  }
  return kept.length < least ? NOT_WHOLE : kept;
}

/** Pointers of what is needed and not there. @param {Json} work @returns {string[]} */
export const lacking = (work) => lackingIn(KINDS[work.kind], work, "");

/** @param {string} cls @param {Json} work @param {string} pointer @returns {string[]} */
function lackingIn(cls, work, pointer) {
  return fieldsOf(cls).flatMap((field) => {
    const place = `${pointer}/${field.name}`;
    const value = work[field.name];
    if (!given(value)) return field.needed && field.kind !== "tag" ? [place] : [];
    if (field.kind === "whole" || field.kind === "union") {
      const inner = classOf(field, value);
      return inner ? lackingIn(inner, value, place) : [place];
    }
    if (Array.isArray(value) && value.length < (field.least ?? 0)) return [place];
    if (field.kind !== "list") return [];
    return value.flatMap((/** @type {Json} */ element, /** @type {number} */ index) => {
      const inner = classOf(field, element);
      const key = keyOf(inner);
      return inner ? lackingIn(inner, element, `${place}/${key ? element[key] : index}`) : [];
    });
  });
}

/**
 * The edits that make one document of the other, each at its own place, with what was typed.
 * @param {Json} before undefined: there is none
 * @param {Json} after
 * @returns {Change[]}
 */
export function differences(before, after) {
  if (before === after) return [];
  if (before === undefined) return [{ document: after.id, pointer: "", value: after }];
  return inObject(KINDS[after.kind], before, after, "").map(({ pointer, value }) => ({
    document: after.id,
    pointer,
    value,
    ...(value === undefined ? {} : typedFor(after, pointer)),
  }));
}

/** @typedef {{ pointer: string, value: Json }} Edit */

/** @param {string} cls @param {Json} a @param {Json} b @param {string} pointer @returns {Edit[]} */
const inObject = (cls, a, b, pointer) => fieldsOf(cls).flatMap((field) => inField(field, a[field.name] ?? undefined, b[field.name] ?? undefined, `${pointer}/${field.name}`));

/** @param {Field} field @param {Json} a @param {Json} b @param {string} pointer @returns {Edit[]} */
function inField(field, a, b, pointer) {
  if (a === b || JSON.stringify(a) === JSON.stringify(b)) return [];
  const change = [{ pointer, value: b }];
  if (a === undefined && field.kind !== "list") return change;
  if (b === undefined) return change;
  if (field.kind === "whole" || field.kind === "union") {
    const cls = classOf(field, b);
    return cls && classOf(field, a) === cls ? inObject(cls, a, b, pointer) : change;
  }
  const key = field.kind === "list" ? keyOf(field.of ?? Object.values(field.classes ?? {})[0]) : undefined;
  if (!key || (a === undefined && b.length === 0)) return change;
  const old = a ?? [];
  const find = (/** @type {Json[]} */ list, /** @type {string} */ name) => list.find((one) => one[key] === name);
  const gone = old.filter((/** @type {Json} */ one) => !find(b, one[key])).map((/** @type {Json} */ one) => ({ pointer: `${pointer}/${one[key]}`, value: undefined }));
  const rest = b.flatMap((/** @type {Json} */ one) => {
    const place = `${pointer}/${one[key]}`;
    const was = find(old, one[key]);
    const cls = classOf(field, one);
    return was && cls && classOf(field, was) === cls ? inObject(cls, was, one, place) : was && JSON.stringify(was) === JSON.stringify(one) ? [] : [{ pointer: place, value: one }];
  });
  return [...gone, ...rest];
}

/** What was typed at and below a place, as far as it still says what stands there. @param {Json} document @param {string} pointer */
function typedFor(document, pointer) {
  const typed = Object.fromEntries(
    Object.entries(document.typed ?? {}).flatMap(([place, text]) => {
      if (place !== pointer && !place.startsWith(`${pointer}/`)) return [];
      return says(document, place, /** @type {string} */ (text)) ? [[place.slice(pointer.length), text]] : [];
    }),
  );
  return Object.keys(typed).length ? { typed } : {};
}

/** @param {Json} document @param {string} place @param {string} text */
function says(document, place, text) {
  try {
    return parse(text, placeOf(document, place)?.field?.unit ?? "1") === valueAt(document, place);
  } catch {
    return false;
  }
}

/**
 * A document with an edit in it, without a stamp. An edit of a place that is no longer there changes nothing.
 * @param {Json} document
 * @param {Change} change
 */
export function applied(document, { pointer, value, typed = {} }) {
  if (pointer === "") return document ?? value;
  if (document === undefined || !reachable(document, pointer)) return document;
  const after = withValue(document, pointer, value);
  const place = namedPointer(value === undefined ? document : after, pointer);
  const others = Object.entries(after.typed ?? {}).filter(([there]) => there !== place && !there.startsWith(`${place}/`));
  const texts = Object.fromEntries([...others, ...Object.entries(typed).map(([below, text]) => [place + below, text])]);
  const { typed: _, ...rest } = after;
  return Object.keys(texts).length ? { ...rest, typed: texts } : rest;
}

/** @param {Json} document @param {string} pointer */
function reachable(document, pointer) {
  const cut = pointer.lastIndexOf("/");
  const parent = placeOf(document, pointer.slice(0, cut));
  if (!parent) return false;
  if (parent.field?.kind === "list") return true;
  return parent.cls !== undefined && fieldOf(parent.cls, pointer.slice(cut + 1)) !== undefined;
}
