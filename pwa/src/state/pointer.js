// Places in a document: JSON pointers in which an element of a list is named by what identifies it (its `id`, the
// item that is placed, the person who sits, the tank that is filled) or by its index. Documents are never changed
// in place: what an edit touches is copied, the rest is shared.

/** What names an element of a list, in this order. */
const NAMES = ["id", "item", "tank", "person", "grade", "flap", "surface"];

/** @typedef {any} Json */

/** @param {string} pointer */
const parts = (pointer) =>
  pointer === ""
    ? []
    : pointer
        .slice(1)
        .split("/")
        .map((part) => part.replace(/~1/g, "/").replace(/~0/g, "~"));

/** What names an element, or undefined. @param {Json} element */
export const nameOf = (element) => {
  const key = NAMES.find((name) => typeof element?.[name] === "string");
  return key === undefined ? undefined : element[key];
};

/**
 * @param {Json[]} list
 * @param {string} part
 * @returns {number} the list's length when there is no such element
 */
function indexIn(list, part) {
  const named = list.findIndex((element) => nameOf(element) === part);
  if (named >= 0) return named;
  return /^\d+$/.test(part) && Number(part) < list.length ? Number(part) : list.length;
}

/**
 * The value there, or undefined.
 * @param {Json} document
 * @param {string} pointer
 */
export function valueAt(document, pointer) {
  let here = document;
  for (const part of parts(pointer)) {
    if (here === null || typeof here !== "object") return undefined;
    here = Array.isArray(here) ? here[indexIn(here, part)] : here[part];
  }
  return here;
}

/**
 * A copy with another value there. `undefined` takes the field or element away.
 * @param {Json} document
 * @param {string} pointer
 * @param {Json} value
 */
export const withValue = (document, pointer, value) => put(document, parts(pointer), value);

/**
 * @param {Json} here
 * @param {string[]} path
 * @param {Json} value
 * @returns {Json}
 */
function put(here, path, value) {
  if (path.length === 0) return value;
  const [part, ...rest] = path;
  // The first element of a list that is not there yet.
  if ((here === undefined || here === null) && rest.length === 0 && nameOf(value) === part) return [value];
  if (Array.isArray(here)) {
    const index = indexIn(here, part);
    if (value === undefined && rest.length === 0) return here.filter((_, i) => i !== index);
    const copy = here.slice();
    copy[index] = put(here[index], rest, value);
    return copy;
  }
  const copy = { ...here };
  if (value === undefined && rest.length === 0) delete copy[part];
  else copy[part] = put(here?.[part], rest, value);
  return copy;
}

/**
 * The same place with every element of a list by its name, as edit stamps are kept.
 * @param {Json} document
 * @param {string} pointer
 */
export function namedPointer(document, pointer) {
  let here = document;
  let named = "";
  for (const part of parts(pointer)) {
    let name = part;
    if (Array.isArray(here)) {
      const element = here[indexIn(here, part)];
      name = nameOf(element) ?? part;
      here = element;
    } else {
      here = here?.[part];
    }
    named += `/${name.replace(/~/g, "~0").replace(/\//g, "~1")}`;
  }
  return named;
}

/**
 * Is it an element of a list whose elements have names?
 * @param {Json} document
 * @param {string} pointer
 */
export function isElement(document, pointer) {
  const list = valueAt(document, pointer.slice(0, pointer.lastIndexOf("/")));
  return Array.isArray(list) && nameOf(valueAt(document, pointer)) !== undefined;
}
