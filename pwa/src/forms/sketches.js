// Edits on their way into the documents. What is typed is seen at once; it is stored when it is whole and the core has
// let it through its gate. Until then it stays a sketch, kept on the device and told as not counted; what was stored
// before stays as it was.
import { namedPointer, valueAt } from "../state/pointer.js";
import { applied, differences, lacking, wholePart } from "./whole.js";

/** @typedef {import("./schema.js").Json} Json @typedef {import("../text.js").Message} Message */
/** @typedef {import("../state/store.js").Store} Store @typedef {import("../state/store.js").Change} Change */
/** @typedef {{ ask: (method: string, params: object) => Promise<any>, ready: Promise<void> }} Core */
/** @typedef {{ id: string, work: Json, after: Json, changes: Change[] }} Job */

/** @param {string} one @param {string} other */
const touch = (one, other) => one === other || one.startsWith(`${other}/`) || other.startsWith(`${one}/`);

/** Faults that are not of what was typed. */
const FAULTS = ["crashed", "internal", "not_started", "stopped"];

/** Fires "change" when something was refused, or is no longer. */
export class Sketches extends EventTarget {
  /** What the core said against a place. @type {Map<string, { pointer: string, message: string }[]>} */
  #refused = new Map();
  /** Edits that were refused as they stand, by document and pointer: not asked about again. @type {Map<string, string>} */
  #held = new Map();
  /** @type {Map<string, { stored: Json, changes: Change[], work: Json }>} */
  #works = new Map();
  /** @type {Message} */
  #label = { text: "form.undo.edit" };
  #key = "";
  #running = false;
  #again = false;
  /** Why what is whole is not stored yet, "" when it is. @type {"" | "starting" | "fault"} */
  waiting = "";

  /** @param {Store} store @param {Core} core */
  constructor(store, core) {
    super();
    this.store = store;
    this.core = core;
  }

  /** The document as it is being edited. @param {string} id @returns {Json} */
  work(id) {
    const stored = this.store.get(id);
    const changes = this.store.sketches[id] ?? [];
    const known = this.#works.get(id);
    if (known && known.stored === stored && known.changes === changes) return known.work;
    const work = changes.reduce(applied, stored);
    this.#works.set(id, { stored, changes, work });
    return work;
  }

  /** Documents of a kind, with those that are not stored yet. @param {string} kind @returns {Json[]} */
  all(kind) {
    const ids = new Set([...this.store.documents.keys(), ...Object.keys(this.store.sketches)]);
    return [...ids].map((id) => this.work(id)).filter((one) => one?.kind === kind);
  }

  /**
   * @param {string} id
   * @param {{ pointer: string, value: Json, typed?: Record<string, string> }[]} changes
   * @param {Message} [label]
   */
  put(id, changes, label = { text: "form.undo.edit" }) {
    for (const { pointer } of changes) this.forgive(id, pointer);
    // What was refused may hold with what is put now.
    for (const place of this.#held.keys()) if (place.startsWith(`${id}/`) || place === id) this.#held.delete(place);
    this.#label = label;
    this.#key = `${id}${changes.map(({ pointer }) => pointer).join()}`;
    this.store.sketch(id, [...(this.store.sketches[id] ?? []), ...changes.map((change) => ({ document: id, ...change }))]);
    this.settle();
  }

  /** Forget what is not stored of a document. @param {string} id */
  drop(id) {
    this.#refused.delete(id);
    this.store.sketch(id, []);
    for (const place of Object.keys(this.store.drafts)) if (place.startsWith(`${id}/`)) this.store.draft(place, undefined);
    this.#tell();
  }

  /** Places of a document that keep what is there from being stored: lacking, or refused. @param {string} id */
  open(id) {
    const work = this.work(id);
    if (!work || !this.store.sketches[id]) return [];
    const wanted = lacking(work).map((pointer) => ({ pointer, message: "" }));
    return [...wanted, ...(this.#refused.get(id) ?? [])];
  }

  /** What the core says against a place. @param {string} id @param {string} pointer */
  wrongAt(id, pointer) {
    return this.#refused.get(id)?.find((one) => one.pointer === pointer)?.message;
  }

  /** @param {string} id @param {string} pointer */
  forgive(id, pointer) {
    const left = (this.#refused.get(id) ?? []).filter((one) => !touch(one.pointer, pointer));
    if (left.length) this.#refused.set(id, left);
    else this.#refused.delete(id);
  }

  /** Store what is whole; what is put meanwhile is looked at afterwards. */
  async settle() {
    this.#again = true;
    if (this.#running) return;
    this.#running = true;
    try {
      while (this.#again) {
        this.#again = false;
        await this.#once();
      }
    } finally {
      this.#running = false;
      this.#tell();
    }
  }

  async #once() {
    const jobs = Object.keys(this.store.sketches).flatMap((id) => this.#job(id));
    const due = jobs.filter(({ changes }) => changes.length);
    for (const { id } of jobs) if (!due.some((one) => one.id === id)) this.#compact(id);
    if (!due.length) return;
    if (!(await this.#isUp())) return;
    const version = this.store.version;
    const refusal = await this.#check(due);
    if (version !== this.store.version) {
      this.#again = true;
      return;
    }
    if (refusal) return this.#refuse(due, refusal);
    // As it is being edited now, also what is not whole: of a new document that is told by its beginning alone.
    const works = due.map(({ id }) => /** @type {const} */ ([id, this.work(id)]));
    this.store.edit(due.flatMap(({ changes }) => changes), this.#label, this.#key);
    for (const [id, work] of works) this.#keep(id, work);
  }

  /** @param {string} id @returns {Job[]} */
  #job(id) {
    const [stored, work] = [this.store.get(id), this.work(id)];
    if (work === undefined) return [];
    const whole = wholePart(work, stored);
    const all = whole === undefined ? [] : differences(stored, whole);
    const changes = all.filter(({ pointer, value }) => this.#held.get(id + pointer) !== (JSON.stringify(value) ?? ""));
    return [{ id, work, after: changes.reduce(applied, stored), changes }];
  }

  /** Keep of the sketch only what the stored document does not say. @param {string} id */
  #compact(id) {
    const stored = this.store.get(id);
    this.#keep(id, (this.store.sketches[id] ?? []).reduce(applied, stored));
  }

  /** @param {string} id @param {Json} work as it is being edited */
  #keep(id, work) {
    if (work !== undefined) this.store.sketch(id, differences(this.store.get(id), work));
  }

  async #isUp() {
    this.waiting = "starting";
    this.#tell();
    const up = await this.core.ready.then(
      () => true,
      () => false,
    );
    this.waiting = up ? "" : "fault";
    return up;
  }

  /** What the core says against these edits, or nothing. @param {Job[]} jobs @returns {Promise<any>} */
  async #check(jobs) {
    const stored = this.store.texts();
    const texts = new Map([...this.store.documents.keys()].map((id, index) => [id, stored[index]]));
    for (const { id, after } of jobs) texts.set(id, JSON.stringify(after));
    const ids = [...texts.keys()];
    const problem = await this.#ask([...texts.values()]);
    if (!problem) return undefined;
    if (FAULTS.includes(problem.code)) return { fault: true };
    const [, number, rest] = /^\/documents\/(\d+)(.*)$/.exec(problem.path ?? "") ?? [];
    const job = jobs.find(({ id }) => id === ids[Number(number)]);
    if (job) return { job, pointer: namedPointer(job.after, rest), message: problem.message };
    // Something else does not hold. Is it through these edits?
    if (!(await this.#ask(stored))) return { pointer: "", message: problem.message };
    const alone = await this.#ask(jobs.map(({ after }) => JSON.stringify(after)));
    return alone && { job: jobs[0], pointer: "", message: alone.message };
  }

  /** @param {string[]} documents */
  async #ask(documents) {
    try {
      await this.core.ask("check", { documents });
      return undefined;
    } catch (problem) {
      return /** @type {any} */ (problem);
    }
  }

  /** @param {Job[]} jobs @param {any} refusal */
  #refuse(jobs, { fault, job, pointer, message }) {
    this.waiting = fault ? "fault" : "";
    if (fault) return;
    /** @type {Job[]} */
    const suspects = job ? [job] : jobs;
    for (const { id, work, changes } of suspects) {
      const near = changes.filter((change) => touch(change.pointer, pointer));
      const blamed = near.length ? near : changes;
      const gone = blamed.filter(({ value }) => value === undefined);
      for (const change of blamed) this.#held.set(id + change.pointer, JSON.stringify(change.value) ?? "");
      const place = job && near.length ? pointer : (blamed[0]?.pointer ?? "");
      this.#refused.set(id, [...(this.#refused.get(id) ?? []).filter((one) => one.pointer !== place), { pointer: place, message }]);
      // What is taken away although something else rests on it comes back, with the reason.
      for (const change of gone) this.#restore(id, work, change.pointer);
    }
    this.#again = true;
  }

  /** @param {string} id @param {Json} work @param {string} pointer */
  #restore(id, work, pointer) {
    this.#held.delete(id + pointer);
    const back = applied(work, { document: id, pointer, value: valueAt(this.store.get(id), pointer) });
    this.store.sketch(id, differences(this.store.get(id), back));
  }

  #tell() {
    this.dispatchEvent(new Event("change"));
  }
}
