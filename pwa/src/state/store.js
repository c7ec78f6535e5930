// The documents, in memory, kept on the device. Every edit goes through `edit`: it stamps the fields, can be undone,
// and is written down a moment later or at once when the page is hidden.
import { now } from "./time.js";
import { valueAt } from "./pointer.js";
import { changes as differs, created, edited, typedBelow } from "./stamps.js";
import { Shelf } from "./db.js";
import { History } from "./history.js";
import { Writing } from "./writing.js";

/** @typedef {import("./pointer.js").Json} Json */
/** @typedef {import("../text.js").Message} Message */

/**
 * @typedef {object} Change
 * @property {string} document id
 * @property {string} pointer "" for the whole document
 * @property {Json} [value] absent: taken away
 * @property {Record<string, string>} [typed] what was typed for plain numbers, by the way from the pointer
 * @property {boolean} [exact] a whole document as it is, without a stamp of ours
 *
 * @typedef {object} Done an edit that can be undone
 * @property {Message} label
 * @property {string} key edits of one key that follow closely are one
 * @property {number} at
 * @property {Change[]} back what restores the state before
 * @property {Record<string, Json>} [removed] the tombstones before, where a file was merged
 * @property {{ document: string, changes: Change[] }} [sketch] what was not stored yet of a document that was deleted
 */

/** Edits of the same thing within this time are one step of undo: a finger that drags. [ms] */
const TOGETHER = 2500;
const MOST_UNDO = 40;

/** Settings that change how answers look, not what they are. */
const LOOKS = /^\/(units|look)(\/|$)/;

/** Fires "change" after every change of documents, of what is open, or of what is kept beside them. */
export class Store extends EventTarget {
  shelf = new Shelf();
  history = new History(this.shelf);
  /** @type {Map<string, Json>} */
  documents = new Map();
  /** @type {Map<string, string>} JSON text by id, made when asked for */
  #texts = new Map();
  /** Counts changes of what answers rest on. */
  version = 0;
  /** @type {{ trip?: string, leg?: string }} */
  open = {};
  /** @type {Record<string, string>} what was typed and is not yet a figure, by place */
  drafts = {};
  /** Edits that make nothing whole yet, by document: kept apart until they do. @type {Record<string, Change[]>} */
  sketches = {};
  /** @type {Done[]} */
  done = [];
  /** Documents that were taken away, by id, so that a merge does not bring them back. @type {Record<string, Json>} */
  removed = {};
  /** Of this device alone: its name in stamps, its text size, what was looked at before the doors close, what the run-up said. @type {{ id: string, size: string, doors?: Record<string, { of: string, at: number, seen: string[] }>, runups?: Record<string, import("./runup.js").RunUp> }} */
  device = { id: "", size: "usual" };
  /** Stored records that are no documents any more: they lie where they are, and are told of. @type {[string, Json][]} */
  damaged = [];
  /** Documents that came out of writing with another page's edits beside ours, until that was seen. @type {string[]} */
  joined = [];
  #writing = new Writing(
    this.shelf,
    (ids) => this.#channel.postMessage(ids),
    () => this.history.write(),
  );
  #lastStamp = { at: "", count: 0 };
  #channel = new BroadcastChannel("tussock-documents");

  /** Read what is kept. */
  async load() {
    await this.shelf.open();
    const records = await this.shelf.records();
    const sound = records.filter(([key, record]) => isDocument(record, key));
    this.damaged = records.filter(([key, record]) => !isDocument(record, key));
    this.#writing.knows(sound);
    for (const [key, document] of sound) this.documents.set(key, document);
    const late = this.#writing.takeUp(this.documents);
    const keys = ["open", "drafts", "done", "device", "removed", "sketches"];
    const [open, drafts, done, device, removed, sketches] = await Promise.all(
      keys.map((key) => (late.has(key) ? late.get(key) : this.shelf.kept(key))),
    );
    this.open = open ?? {};
    this.drafts = drafts ?? {};
    this.done = done ?? [];
    this.removed = removed ?? {};
    this.sketches = sketches ?? {};
    this.device = device ?? { id: `d-${crypto.randomUUID().slice(0, 8)}`, size: "usual" };
    if (!device) this.keep("device", this.device);
    this.#channel.addEventListener("message", ({ data }) => this.#elsewhere(data));
    this.#writing.addEventListener("problem", () => this.dispatchEvent(new Event("change")));
    this.#writing.addEventListener("theirs", (event) => this.#joined(/** @type {CustomEvent} */ (event).detail));
    const going = () => {
      this.#writing.late();
      this.#writing.flush({ urgent: true });
    };
    document.addEventListener("visibilitychange", () => document.visibilityState === "hidden" && going());
    addEventListener("pagehide", going);
    this.#changed();
  }

  get isEmpty() {
    return this.documents.size === 0;
  }

  /** @param {string | null | undefined} id @returns {Json} */
  get(id) {
    return id ? this.documents.get(id) : undefined;
  }

  /** @param {string} kind @returns {Json[]} */
  all(kind) {
    return [...this.documents.values()].filter((document) => document.kind === kind);
  }

  /** The JSON text of every document; one that has not changed keeps its text. @returns {string[]} */
  texts() {
    return [...this.documents.keys()].map((id) => {
      const text = this.#texts.get(id) ?? JSON.stringify(this.documents.get(id));
      this.#texts.set(id, text);
      return text;
    });
  }

  /**
   * Change documents.
   * @param {Change[]} changes
   * @param {Message} label what the undo button says
   * @param {string} [key]
   * @param {{ document: string, changes: Change[] }} [sketch] what was not stored yet and goes with it, to come back with it
   */
  edit(changes, label, key = changes.map(({ document, pointer }) => document + pointer).join(), sketch = undefined) {
    const before = this.#those(changes);
    const back = this.#apply(changes);
    if (back.length === 0 && !sketch) return;
    // How things look is changed back where it was changed.
    if (!sketch && back.every(({ pointer }) => LOOKS.test(pointer))) return this.#changed();
    const last = this.done.at(-1);
    // A document made, copied or taken away is a step of its own, however quickly one follows the other.
    const whole = sketch !== undefined || back.some(({ pointer }) => pointer === "");
    if (!whole && last && last.key === key && Date.now() - last.at < TOGETHER) last.at = Date.now();
    else this.#did({ label, key, at: Date.now(), back, sketch }, before);
    this.keep("done", this.done);
    this.#changed();
  }

  /** @param {Done} step @param {Map<string, Json>} before */
  #did(step, before) {
    this.done = [...this.done.slice(1 - MOST_UNDO), step];
    this.history.note(before, (id) => this.documents.get(id), step.label);
  }

  /** The documents that changes touch, as they are now. @param {Change[]} changes @returns {Map<string, Json>} */
  #those(changes) {
    return new Map(changes.map(({ document }) => [document, this.documents.get(document)]));
  }

  /**
   * Take what came of merging a file: documents as they are, without a stamp of ours. One step of undo, which leaves no
   * trace of the file.
   * @param {{ documents: Json[], gone?: string[], removed?: Record<string, Json> }} merged
   * @param {Message} label
   */
  take({ documents, gone = [], removed = this.removed }, label) {
    const changes = [...documents.map((value) => ({ document: value.id, pointer: "", value, exact: true })), ...gone.map((document) => ({ document, pointer: "", exact: true }))];
    const before = this.#those(changes);
    const step = { label, key: `file ${Date.now()}`, at: Date.now(), back: this.#apply(changes), removed: this.removed };
    this.removed = removed;
    this.#did(step, before);
    this.keep("removed", this.removed);
    this.keep("done", this.done);
    this.#changed();
  }

  /** Take the last edit back. */
  undo() {
    const last = this.done.at(-1);
    if (!last) return;
    this.done = this.done.slice(0, -1);
    const before = this.#those(last.back);
    this.#apply(last.back);
    if (last.sketch) this.sketch(last.sketch.document, last.sketch.changes);
    this.history.note(before, (id) => this.documents.get(id), { text: "shell.undo.undid", values: { what: last.label } });
    if (last.removed) {
      this.removed = last.removed;
      this.keep("removed", this.removed);
    }
    this.keep("done", this.done);
    this.#changed();
  }

  /**
   * @param {Change[]} changes
   * @returns {Change[]} the changes that take these back, in the order to apply them
   */
  #apply(changes) {
    const stamp = this.stamp();
    /** @type {Change[]} */
    const back = [];
    for (const { document: id, pointer, value, typed, exact } of changes) {
      const before = this.documents.get(id);
      if (exact) {
        back.unshift({ document: id, pointer, value: before, exact });
        this.#set(id, value);
      } else if (pointer === "") {
        back.unshift({ document: id, pointer, value: before });
        if (value === undefined) this.removed = { ...this.removed, [id]: stamp };
        else delete this.removed[id];
        this.keep("removed", this.removed);
        this.#set(id, value && created(value, stamp));
      } else if (before !== undefined && differs(before, pointer, value)) {
        back.unshift({ document: id, pointer, value: valueAt(before, pointer), typed: typedBelow(before, pointer) });
        this.#set(id, edited(before, pointer, value, stamp, typed), { matters: !LOOKS.test(pointer), edit: { pointer, value, typed, stamp } });
      }
    }
    return back;
  }

  /**
   * @param {string} id
   * @param {Json} document undefined: taken away
   * @param {object} [how]
   * @param {boolean} [how.matters] do answers rest on it?
   * @param {import("./writing.js").Edit} [how.edit] the field that was edited, where it is no more
   */
  #set(id, document, { matters = true, edit } = {}) {
    if (document === undefined) this.documents.delete(id);
    else this.documents.set(id, document);
    this.#texts.delete(id);
    this.#writing.put(id, document ?? null, edit);
    if (matters) this.version += 1;
  }

  stamp() {
    const at = new Date().toISOString();
    this.#lastStamp = { at, count: this.#lastStamp.at === at ? this.#lastStamp.count + 1 : 0 };
    return { ...this.#lastStamp, by: this.device.id };
  }

  /**
   * Put a bundle in the place of everything. What was there is kept aside until the next time.
   * @param {{ documents: Json[], open?: { trip?: string, leg?: string }, removed?: Record<string, Json> }} bundle
   * @param {boolean} [aside] keep what was there
   */
  replace(bundle, aside = true) {
    if (aside && !this.isEmpty) this.keep("aside", { at: now(), bundle: this.bundle() });
    const before = new Map(this.documents);
    for (const id of [...this.documents.keys()]) this.#set(id, undefined);
    for (const document of bundle.documents) this.#set(document.id, document);
    this.drafts = {};
    this.sketches = {};
    this.done = [];
    this.removed = bundle.removed ?? {};
    for (const key of /** @type {const} */ (["drafts", "sketches", "done", "removed"])) this.keep(key, this[key]);
    // what was read of the legs that were here says nothing of others by the same ids
    if (this.device.runups) this.setDevice({ runups: undefined });
    if (aside) this.history.note(before, (id) => this.documents.get(id), { text: "shell.undo.replaced" });
    this.show(bundle.open ?? {});
  }

  /** Everything as one file would hold it, in one order whether made just now or read from the store. */
  bundle() {
    const documents = [...this.documents.values()].sort((a, b) => (a.id < b.id ? -1 : 1));
    return { format: "tussock", version: 1, documents, open: this.open, removed: this.removed };
  }

  /**
   * Open a trip or leg.
   * @param {{ trip?: string, leg?: string }} what
   */
  show(what) {
    this.open = what;
    this.keep("open", what);
    this.#changed();
  }

  /**
   * Keep what was typed at a place until it is a figure; `undefined` forgets it.
   * @param {string} place
   * @param {string | undefined} typed
   */
  draft(place, typed) {
    if (this.drafts[place] === typed) return;
    const { [place]: _, ...others } = this.drafts;
    this.drafts = typed === undefined ? others : { ...others, [place]: typed };
    this.keep("drafts", this.drafts);
    this.#changed();
  }

  /**
   * Keep edits of a document that make nothing whole yet; none forgets them.
   * @param {string} id
   * @param {Change[]} changes
   */
  sketch(id, changes) {
    if (changes.length === 0 && !(id in this.sketches)) return;
    const { [id]: _, ...others } = this.sketches;
    this.sketches = changes.length ? { ...others, [id]: changes } : others;
    this.keep("sketches", this.sketches);
    this.#changed();
  }

  /** @param {Partial<Store["device"]>} changes */
  setDevice(changes) {
    this.device = { ...this.device, ...changes };
    this.keep("device", this.device);
    this.#changed();
  }

  /**
   * Keep a thing beside the documents.
   * @param {string} key
   * @param {Json} value
   */
  keep(key, value) {
    this.#writing.keep(key, value);
  }

  /**
   * What is kept beside the documents under a key, written down already or not.
   * @param {string} key
   * @returns {Promise<Json>}
   */
  async kept(key) {
    const keeping = this.#writing.keeping(key);
    return keeping ? keeping.value : this.shelf.kept(key);
  }

  #changed() {
    this.dispatchEvent(new Event("change"));
  }

  /** It was seen that another page's edits came in. */
  seen() {
    this.joined = [];
    this.#changed();
  }

  /** Write down now what is not written yet. */
  flush() {
    return this.#writing.flush();
  }

  /** Documents that another page had edited too came out with both edits. @param {Map<string, Json>} documents */
  #joined(documents) {
    this.joined = [...new Set([...this.joined, ...documents.keys()])];
    for (const [id, document] of documents) {
      this.documents.set(id, document);
      this.#texts.delete(id);
      this.version += 1;
    }
    this.#changed();
  }

  /**
   * Another page of ours has written documents: read them again.
   * @param {string[]} ids
   */
  async #elsewhere(ids) {
    const documents = await this.shelf.some(ids);
    ids.forEach((id, index) => {
      if (this.#writing.has(id)) return;
      this.#writing.knows([[id, documents[index]]]);
      if (documents[index] === undefined) this.documents.delete(id);
      else this.documents.set(id, documents[index]);
      this.#texts.delete(id);
      this.version += 1;
    });
    this.#changed();
  }
}

/** @param {Json} record @param {string} key */
const isDocument = (record, key) => record !== null && typeof record === "object" && record.id === key && typeof record.kind === "string";
