// Edit stamps, as the core's documents keep them (its `stamping.py` has the rules): a field at its own pointer; a whole
// that is put in another's place at its pointer, and none below; an element that is removed among the removed.
import { isElement, namedPointer, valueAt, withValue } from "./pointer.js";

/** @typedef {import("./pointer.js").Json} Json */
/** @typedef {{ at: string, count: number, by: string, over?: string }} Stamp */

/** What tells of a document itself, and is no field of it. */
export const HEAD = ["version", "kind", "id", "stamps", "removed", "typed"];

/** @param {string} place @param {string} pointer */
const within = (place, pointer) => place === pointer || place.startsWith(`${pointer}/`);

/** Those entries that do not lie at or below a pointer. @param {Record<string, any> | undefined} by @param {string} pointer */
const outside = (by, pointer) => Object.fromEntries(Object.entries(by ?? {}).filter(([place]) => !within(place, pointer)));

/** More than nought where one is later than the other. @param {Stamp} one @param {Stamp} other */
const isLater = (one, other) => Date.parse(one.at) - Date.parse(other.at) || one.count - other.count || (one.by > other.by ? 1 : -1);

/**
 * The time of the edit that a new one by this device replaces; where that was its own, what that one replaced.
 * @param {Json} document
 * @param {string} pointer
 * @param {string} by
 */
function over(document, pointer, by) {
  const before = [document.stamps, document.removed].flatMap((all) =>
    Object.entries(all ?? {}).flatMap(([place, stamp]) => (within(place, pointer) ? [/** @type {Stamp} */ (stamp)] : [])),
  );
  const last = before.reduce((a, b) => (isLater(b, a) > 0 ? b : a), before[0]);
  return last?.by === by ? last.over : last?.at;
}

/**
 * A document with another value at a pointer, stamped.
 * @param {Json} document
 * @param {string} pointer not ""
 * @param {Json} value undefined: taken away
 * @param {Stamp} stamp
 * @param {Record<string, string>} [typed] what was typed, to the letter, for numbers at and below the pointer
 * @returns {Json}
 */
export function edited(document, pointer, value, stamp, typed = {}) {
  const after = withValue(document, pointer, value);
  const gone = value === undefined;
  const place = namedPointer(gone ? document : after, pointer);
  const replaced = over(document, place, stamp.by);
  const own = replaced === undefined ? stamp : { ...stamp, over: replaced };
  const stamps = outside(after.stamps, place);
  const removed = outside(after.removed, place);
  (gone && isElement(document, pointer) ? removed : stamps)[place] = own;
  const texts = Object.entries(typed).map(([below, text]) => [place + below, text]);
  const kept = { ...after, stamps, removed, typed: { ...outside(after.typed, place), ...Object.fromEntries(texts) } };
  for (const name of ["removed", "typed"]) if (Object.keys(kept[name]).length === 0) delete kept[name];
  return kept;
}

/**
 * A new document, every field of it stamped.
 * @param {Json} document
 * @param {Stamp} stamp
 * @returns {Json}
 */
export function created(document, stamp) {
  const fields = Object.keys(document).filter((name) => !HEAD.includes(name));
  return { ...document, stamps: { ...document.stamps, ...Object.fromEntries(fields.map((name) => [`/${name}`, stamp])) } };
}

/**
 * Has this field, or a whole that holds it, a later edit?
 * @param {Json} document
 * @param {string} place
 * @param {Stamp} stamp
 */
export const isOvertaken = (document, place, stamp) =>
  Object.entries(document.stamps ?? {}).some(([there, other]) => within(place, there) && isLater(/** @type {Stamp} */ (other), stamp) > 0);

/** Does an edit change anything? @param {Json} document @param {string} pointer @param {Json} value */
export const changes = (document, pointer, value) => JSON.stringify(valueAt(document, pointer)) !== JSON.stringify(value);

/**
 * What was typed at and below a pointer, by the way from there.
 * @param {Json} document
 * @param {string} pointer
 * @returns {Record<string, string>}
 */
export function typedBelow(document, pointer) {
  const place = namedPointer(document, pointer);
  const all = Object.entries(document?.typed ?? {}).filter(([there]) => within(there, place));
  return Object.fromEntries(all.map(([there, text]) => [there.slice(place.length), text]));
}
