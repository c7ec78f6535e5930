// What documents were: before every step of editing the whole document is set aside, a bounded number of times, so that
// one can go back to it. Going back is an edit like any other: stamped, and undone by Undo.
import { nameOf } from "./pointer.js";
import { HEAD, typedBelow } from "./stamps.js";

/** @typedef {import("./pointer.js").Json} Json @typedef {import("../text.js").Message} Message */
/** @typedef {import("./store.js").Store} Store @typedef {import("./store.js").Change} Change */

/**
 * @typedef {object} Past
 * @property {string} id of the document
 * @property {string} at ISO time of the edit
 * @property {Message} label what the edit was
 * @property {Json} before the document as it was until then; null: there was none
 * @property {string} name
 * @property {string} kind
 */

const BOUNDS = { most: 30, mostOfAll: 1500 };

/** What tells classes of one place apart: another one there is another thing as a whole. */
const TAGS = ["kind", "by", "shape", "state", "source", "pitch_is"];

export class History {
  /** @type {Past[]} */
  #unwritten = [];
  /** Why the past can't be kept, "" when it can. */
  problem = "";

  /** @param {import("./db.js").Shelf} shelf */
  constructor(shelf) {
    this.shelf = shelf;
  }

  /**
   * Set aside what documents were.
   * @param {Map<string, Json>} before by id; undefined: there was none
   * @param {(id: string) => Json} after
   * @param {Message} label
   */
  note(before, after, label) {
    const at = new Date().toISOString();
    for (const [id, was] of before) {
      const is = after(id);
      if (was === is || (was === undefined && is === undefined)) continue;
      const { name, kind } = was ?? is;
      this.#unwritten.push({ id, at, label, before: was ?? null, name, kind });
    }
  }

  /** Write down what is not written yet; where there is no room, documents come first and this is forgotten. */
  async write() {
    if (!this.#unwritten.length) return;
    const versions = this.#unwritten;
    this.#unwritten = [];
    try {
      await this.shelf.remember(versions, BOUNDS);
      this.problem = "";
    } catch (problem) {
      this.problem = String(problem);
    }
  }

  /** What one document was, or every one, newest first. @param {string} [id] @returns {Promise<Past[]>} */
  async of(id) {
    const written = await this.shelf.history(id);
    return [...written, ...this.#unwritten.filter((one) => id === undefined || one.id === id)].reverse();
  }
}

/** @param {Json} value */
const isObject = (value) => value !== null && typeof value === "object" && !Array.isArray(value);

/** @param {Json} list */
const isNamed = (list) => Array.isArray(list) && list.every((one) => nameOf(one) !== undefined);

/** Do two words, not wholes of that name, differ? @param {Json} a @param {Json} b */
const isTag = (a, b) => a !== b && !isObject(a) && !isObject(b);

/** @param {string} part */
const escaped = (part) => part.replace(/~/g, "~0").replace(/\//g, "~1");

/**
 * Places at which two versions of a document differ, with what stands there. A figure with its origin is one place;
 * elements of a list are told apart by their names; another order alone is no difference.
 * @param {Json} before
 * @param {Json} after
 * @returns {{ pointer: string, before: Json, after: Json }[]}
 */
export function places(before, after) {
  const fields = new Set([...Object.keys(before), ...Object.keys(after)].filter((name) => !HEAD.includes(name)));
  return [...fields].flatMap((name) => placesIn(before[name], after[name], `/${escaped(name)}`));
}

/** @param {Json} a @param {Json} b @param {string} pointer @returns {{ pointer: string, before: Json, after: Json }[]} */
function placesIn(a, b, pointer) {
  if (a === b || JSON.stringify(a) === JSON.stringify(b)) return [];
  const here = [{ pointer, before: a, after: b }];
  if (isNamed(a ?? []) && isNamed(b ?? []) && (a?.length || b?.length)) {
    const names = new Set([...(a ?? []), ...(b ?? [])].map(nameOf));
    const find = (/** @type {Json[] | undefined} */ list, /** @type {string} */ name) => list?.find((one) => nameOf(one) === name);
    return [...names].flatMap((name) => placesIn(find(a, name), find(b, name), `${pointer}/${escaped(name)}`));
  }
  if (!isObject(a) || !isObject(b) || "value" in a || TAGS.some((tag) => isTag(a[tag], b[tag]))) return here;
  const fields = new Set([...Object.keys(a), ...Object.keys(b)]);
  return [...fields].flatMap((name) => placesIn(a[name], b[name], `${pointer}/${escaped(name)}`));
}

/**
 * The edits that make a document again what it was.
 * @param {Store} store
 * @param {Past} past
 * @returns {Change[]}
 */
function backTo(store, { id, before }) {
  const now = store.get(id);
  if (now === undefined) return [{ document: id, pointer: "", value: before }];
  return places(now, before).map(({ pointer, after }) => ({ document: id, pointer, value: after, typed: typedBelow(before, pointer) }));
}

/**
 * Go back, if the core lets the documents through as they then are. Throws what it says; nothing has changed then.
 * @param {Store} store
 * @param {import("../worker/client.js").CoreClient} core
 * @param {Past} past
 * @param {Message} label
 */
export async function goBack(store, core, past, label) {
  const { version } = store;
  const others = store.texts().filter((_, index) => [...store.documents.keys()][index] !== past.id);
  await core.ask("check", { documents: [...others, JSON.stringify(past.before)] });
  // What was edited meanwhile was not looked at.
  if (store.version !== version) return goBack(store, core, past, label);
  store.edit(backTo(store, past), label, `back ${past.id} ${past.at} ${Date.now()}`);
}
