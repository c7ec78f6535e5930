// Writes documents down: soon, all of it or nothing, and without losing what another page of ours wrote meanwhile. What
// is not written when the page goes lies in the late slip, a store that is written at once, until the next start.
import { namedPointer, valueAt } from "./pointer.js";
import { edited, isOvertaken } from "./stamps.js";

/** @typedef {import("./pointer.js").Json} Json @typedef {import("./stamps.js").Stamp} Stamp */
/** @typedef {import("./db.js").Shelf} Shelf */
/** @typedef {{ pointer: string, value?: Json, typed?: Record<string, string>, stamp: Stamp }} Edit one field, by named pointer */
/** @typedef {{ document: Json, edits: Edit[] | null }} Due null document: taken away; null edits: put as a whole */

/** Between one writing and the next. [ms] */
const PAUSE = 250;
/** What could not be written, a full store say, is tried again without waiting for the next edit. [ms] */
const AGAIN_AFTER = 5000;
const LATE = "tussock-late";
/** Kept beside the documents, and made anew at the next start. */
const MADE_ANEW = ["answers", "aside"];

/**
 * A document as somebody else left it, with our edits of fields put on it once more; of one field the later edit stays.
 * @param {Json} theirs
 * @param {Edit[]} edits
 */
export function rebased(theirs, edits) {
  return edits.reduce((document, { pointer, value, typed, stamp }) => {
    const parent = pointer.replace(/\/[^/]*$/, "");
    // A field of a thing that is no longer there: what the thing was lies in the history.
    if (parent && valueAt(document, parent) === undefined) return document;
    if (isOvertaken(document, pointer, stamp)) return document;
    return edited(document, pointer, value, stamp, typed);
  }, theirs);
}

/** @param {Json} one @param {Json} other */
const same = (one, other) => one === other || JSON.stringify(one) === JSON.stringify(other);

/** Fires "problem" when writing begins or ceases to fail, and "theirs" with documents that came out otherwise than they were here. */
export class Writing extends EventTarget {
  /** @type {Map<string, Due>} */
  #due = new Map();
  /** @type {Map<string, Json>} */
  #kept = new Map();
  /** On its way, until it is certain. @type {Set<{ due: Map<string, Due>, kept: Map<string, Json> }>} */
  #sent = new Set();
  /** What the store holds of a document, as far as this page knows. @type {Map<string, Json>} */
  #base = new Map();
  /** @type {ReturnType<typeof setTimeout> | undefined} */
  #timer;
  /** @type {ReturnType<typeof setTimeout> | undefined} */
  #again;
  #last = 0;
  /** The writing under way. @type {Promise<void> | undefined} */
  #under;

  /** @param {Shelf} shelf @param {(ids: string[]) => void} written @param {() => Promise<void>} beside written along */
  constructor(shelf, written, beside) {
    super();
    this.shelf = shelf;
    this.written = written;
    this.beside = beside;
  }

  /** What the store is known to hold. @param {Iterable<[string, Json]>} documents */
  knows(documents) {
    for (const [id, document] of documents) this.#base.set(id, document);
  }

  /** Is something of this document still to be written? @param {string} id */
  has(id) {
    return this.#due.has(id) || [...this.#sent].some(({ due }) => due.has(id));
  }

  /** @param {string} id @param {Json} document null: taken away @param {Edit} [edit] the field that was edited, where it was one */
  put(id, document, edit) {
    const before = this.#due.get(id);
    const fields = edit && document && before?.edits !== null ? [...(before?.edits ?? []), { ...edit, pointer: namedPointer(document, edit.pointer) }] : null;
    this.#due.set(id, { document, edits: fields });
    this.#soon();
  }

  /** @param {string} key @param {Json} value */
  keep(key, value) {
    this.#kept.set(key, value);
    this.#soon();
  }

  /** @param {string} key @returns {{ value: Json } | undefined} what is to be kept and perhaps not written yet */
  keeping(key) {
    for (const { kept } of [{ kept: this.#kept }, ...[...this.#sent].reverse()]) if (kept.has(key)) return { value: kept.get(key) };
    return undefined;
  }

  #soon() {
    this.#timer ??= setTimeout(() => this.flush(), Math.max(0, this.#last + PAUSE - Date.now()));
  }

  /**
   * Write now what is not written yet. What can't be written stays due.
   * @param {{ urgent?: boolean }} [how] urgent: do not even wait for what is on its way
   * @returns {Promise<void>}
   */
  async flush({ urgent = false } = {}) {
    clearTimeout(this.#timer);
    clearTimeout(this.#again);
    this.#timer = undefined;
    if (this.#under && !urgent) return this.#under.then(() => this.flush());
    this.#under = this.#send();
    await this.#under;
    this.#under = undefined;
  }

  async #send() {
    this.#last = Date.now();
    const sent = { due: this.#due, kept: this.#kept };
    if (sent.due.size + sent.kept.size === 0) return;
    this.#due = new Map();
    this.#kept = new Map();
    this.#sent.add(sent);
    const before = this.shelf.problem;
    try {
      const outcome = await this.shelf.write([...sent.due.keys()], sent.kept, (id, theirs) => this.#settled(id, theirs, sent.due));
      this.#sent.delete(sent);
      for (const [id, document] of outcome) this.#base.set(id, document);
      const others = this.#others(outcome, sent.due);
      if (others.size) this.dispatchEvent(new CustomEvent("theirs", { detail: others }));
      await this.beside();
      if (sent.due.size) this.written([...sent.due.keys()]);
      if (this.#due.size + this.#kept.size + this.#sent.size === 0) this.#forget();
    } catch {
      this.#sent.delete(sent);
      for (const [id, { document, edits }] of sent.due) {
        const later = this.#due.get(id);
        if (!later) this.#due.set(id, { document, edits });
        else this.#due.set(id, { document: later.document, edits: edits && later.edits && [...edits, ...later.edits] });
      }
      this.#kept = new Map([...sent.kept, ...this.#kept]);
      clearTimeout(this.#again);
      this.#again = setTimeout(() => this.flush(), AGAIN_AFTER);
    }
    if (this.shelf.problem !== before) this.dispatchEvent(new Event("problem"));
  }

  /** What is to be stored, where the store may hold something else than this page knew. @param {string} id @param {Json} theirs @param {Map<string, Due>} due */
  #settled(id, theirs, due) {
    const { document, edits } = /** @type {Due} */ (due.get(id));
    if (document === null || edits === null || theirs === undefined || same(theirs, this.#base.get(id))) return document;
    return rebased(theirs, edits);
  }

  /**
   * Documents that came out otherwise than they were here, with what was edited meanwhile put on them.
   * @param {Map<string, Json>} outcome
   * @param {Map<string, Due>} sent
   */
  #others(outcome, sent) {
    const others = new Map();
    for (const [id, document] of outcome) {
      if (!document || same(document, sent.get(id)?.document)) continue;
      const later = this.#due.get(id);
      if (later && !later.edits) continue; // put as a whole meanwhile
      if (later?.edits) later.document = rebased(document, later.edits);
      others.set(id, later ? later.document : document);
    }
    return others;
  }

  /** The page may be about to go: what is not certain is put where it lies at once. */
  late() {
    const all = [...this.#sent, { due: this.#due, kept: this.#kept }];
    if (all.every(({ due, kept }) => due.size + kept.size === 0)) return;
    /** @type {Map<string, Due>} */
    const late = new Map();
    for (const { due } of all)
      for (const [id, { document, edits }] of due) {
        const before = late.get(id);
        late.set(id, { document, edits: edits && before?.edits !== null ? [...(before?.edits ?? []), ...edits] : null });
      }
    const kept = all.flatMap((one) => [...one.kept]).filter(([key]) => !MADE_ANEW.includes(key));
    try {
      localStorage.setItem(LATE, JSON.stringify({ documents: [...late], kept }));
    } catch {
      // full or forbidden: the flush under way is all there is
    }
  }

  #forget() {
    try {
      localStorage.removeItem(LATE);
    } catch {
      // forbidden: nothing lies there
    }
  }

  /**
   * Take up what an earlier page could not write: due once more, on top of what the store holds.
   * @param {Map<string, Json>} documents as stored; changed
   * @returns {Map<string, Json>} what was kept beside them
   */
  takeUp(documents) {
    let slip;
    try {
      slip = JSON.parse(localStorage.getItem(LATE) ?? "null");
    } catch {
      slip = null;
    }
    if (!slip || !Array.isArray(slip.documents) || !Array.isArray(slip.kept)) return new Map();
    for (const [id, { document, edits }] of slip.documents) {
      const theirs = documents.get(id);
      const now = document && edits && theirs ? rebased(theirs, edits) : document;
      if (now === null) documents.delete(id);
      else documents.set(id, now);
      if (!same(now ?? undefined, theirs)) this.#due.set(id, { document: now, edits: null });
    }
    const kept = new Map(slip.kept);
    for (const [key, value] of kept) this.#kept.set(key, value);
    this.#soon();
    return kept;
  }
}
