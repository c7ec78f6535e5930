// The answers to what the documents say now: asked anew after every edit and every minute, newest first; kept with the
// state of the documents they rest on, so that an older one can look older.
import { now } from "./time.js";
import { openLeg, openTrip } from "./plan.js";

/** @typedef {import("./store.js").Store} Store */
/** @typedef {import("./pointer.js").Json} Json */
/** @typedef {import("../worker/client.js").CoreClient} CoreClient */

/**
 * @typedef {object} Known
 * @property {Json} leg the core's answer for one leg
 * @property {number} version of the documents; -1: from an earlier run
 * @property {number} at ms
 *
 * @typedef {object} Remedied
 * @property {number} version
 * @property {"busy" | "done" | "stopped" | "failed"} state
 * @property {Json[]} list
 */

/** The air ages: ask again after so long. [ms] */
const MINUTE = 60_000;
/** Answers older than this look old even if nothing was edited. [ms] */
const OLD = 2.5 * MINUTE;
/** A sum that takes longer than this says so, and can be stopped. [ms] */
export const LONG = 1000;
/** Other legs and remedies wait until the finger rests. [ms] */
const REST = 350;

/** Fires "change" when something new is known, or an answer has become old. */
export class Answers extends EventTarget {
  /** @type {Map<string, Known>} by leg */
  known = new Map();
  /** @type {Map<string, Remedied>} */
  remedies = new Map();
  /** @type {Json | undefined} */
  caution;
  /** What the core refused, of which state of the documents. @type {{ problem: any, version: number } | undefined} */
  refused;
  /** When the answer that is being waited for was asked for [ms]; 0: none is */
  since = 0;
  /** Was the sum stopped by hand, with nothing asked since? */
  stopped = false;
  /** When the answers of an earlier run were given, "" if there are none. */
  lastTime = "";
  /** @type {AbortController | undefined} */
  #stop;
  /** @type {AbortController | undefined} */
  #stopRemedies;
  /** @type {ReturnType<typeof setTimeout> | undefined} */
  #resting;
  #begun = false;
  #asked = { version: -1, trip: "", leg: "", at: 0 };

  /**
   * @param {Store} store
   * @param {CoreClient} core
   */
  constructor(store, core) {
    super();
    this.store = store;
    this.core = core;
  }

  /** Show what was known at the end of the last run, as such. */
  async recall() {
    const kept = await this.store.kept("answers");
    if (!kept) return;
    this.lastTime = kept.at;
    this.caution = kept.caution;
    for (const leg of kept.legs) this.known.set(leg.id, { leg, version: -1, at: Date.parse(kept.at) });
    this.#changed();
  }

  /** From now on, answer whatever the documents say. */
  begin() {
    this.#begun = true;
    this.store.addEventListener("change", () => this.#look());
    const tick = () => {
      if (document.visibilityState !== "visible") return;
      this.#changed(); // ages are shown in minutes
      if (Date.now() - this.#asked.at > MINUTE) this.#ask();
    };
    setInterval(tick, MINUTE / 4);
    document.addEventListener("visibilitychange", tick);
    this.#look();
  }

  /**
   * Does what is known of the leg rest on what the documents say now?
   * @param {string} leg
   */
  isCurrent(leg) {
    const known = this.known.get(leg);
    return known?.version === this.store.version && Date.now() - known.at < OLD;
  }

  /** Stop the sum that is under way; what is shown stays and looks old. */
  stop() {
    this.#stop?.abort();
    this.#stopRemedies?.abort();
    this.stopped = this.since > 0;
    this.since = 0;
    this.#changed();
  }

  /** Ask again after a stop or a failure. */
  again() {
    if (this.#begun) this.#ask();
  }

  #look() {
    const [trip, leg] = [openTrip(this.store)?.id, openLeg(this.store)?.id];
    if (!trip || !leg) return;
    const { version, trip: askedTrip, leg: askedLeg } = this.#asked;
    // Legs of two trips may bear one name: what is known of one trip is not known of another.
    if (askedTrip && askedTrip !== trip) {
      this.known.clear();
      this.remedies.clear();
    }
    const edited = version !== this.store.version;
    if (edited || askedTrip !== trip || (askedLeg !== leg && !this.isCurrent(leg))) this.#ask();
    else if (askedLeg !== leg) this.#rest(leg);
  }

  async #ask() {
    const [trip, leg] = [openTrip(this.store)?.id, openLeg(this.store)?.id];
    if (!trip || !leg) return;
    clearTimeout(this.#resting);
    this.stopped = false;
    const version = this.store.version;
    this.#asked = { version, trip, leg, at: Date.now() };
    if (!this.since) {
      this.since = Date.now();
      this.core.ready.then(() => this.#waitLong(), () => {});
    }
    this.#changed();
    this.#stop = new AbortController();
    const params = { documents: this.store.texts(), trip, leg, now: now() };
    try {
      const result = await this.core.ask("answer", params, {
        channel: "answer",
        drops: ["others", "remedies"],
        signal: this.#stop.signal,
      });
      this.refused = undefined;
      this.#take(result, version);
      if (this.#asked.version === version && this.#asked.leg === leg) this.#rest(leg);
    } catch (problem) {
      this.#failed(problem, version);
    }
    if (this.#asked.version === version) this.since = 0;
    this.#changed();
  }

  /** From when the core can begin, a sum that takes long is told. */
  #waitLong() {
    if (!this.since) return;
    this.since = Date.now();
    setTimeout(() => this.#changed(), LONG + 50);
  }

  /**
   * @param {Json} result
   * @param {number} version
   */
  #take(result, version) {
    this.caution = result.caution;
    if (result.trip !== openTrip(this.store)?.id) return;
    for (const leg of result.legs) this.known.set(leg.id, { leg, version, at: Date.now() });
    if (version !== this.store.version) return;
    const legs = openTrip(this.store)
      .legs.map((/** @type {Json} */ { id }) => this.known.get(id)?.leg)
      .filter(Boolean);
    this.store.keep("answers", { at: now(), caution: this.caution, legs });
  }

  /** @param {any} problem @param {number} version */
  #failed(problem, version) {
    if (problem?.code === "superseded") return;
    if (problem?.code !== "stopped") this.refused = { problem, version };
    if (this.#asked.version === version) this.since = 0;
  }

  /** The finger rests: the other legs, then remedies. @param {string} leg */
  #rest(leg) {
    clearTimeout(this.#resting);
    this.#resting = setTimeout(async () => {
      await this.#askOthers();
      await this.#askRemedies(leg);
    }, REST);
  }

  async #askOthers() {
    const version = this.store.version;
    const trip = openTrip(this.store);
    if (!trip || trip.legs.every((/** @type {Json} */ { id }) => this.isCurrent(id))) return;
    try {
      const params = { documents: this.store.texts(), trip: trip.id, now: now() };
      this.#take(await this.core.ask("answer", params, { channel: "others" }), version);
      this.#changed();
    } catch (problem) {
      this.#failed(problem, version);
    }
  }

  /** @param {string} leg */
  async #askRemedies(leg) {
    const version = this.store.version;
    const known = this.remedies.get(leg);
    if (!this.isCurrent(leg) || leg !== openLeg(this.store)?.id) return;
    if (known?.version === version && known.state === "done") return;
    this.#stopRemedies = new AbortController();
    this.remedies.set(leg, { version, state: "busy", list: [] });
    this.#changed();
    /** @type {Remedied} */
    let outcome = { version, state: "failed", list: [] };
    try {
      const params = { documents: this.store.texts(), trip: openTrip(this.store).id, leg, now: now() };
      const options = { channel: "remedies", signal: this.#stopRemedies.signal };
      const { remedies } = await this.core.ask("remedies", params, options);
      outcome = { version, state: "done", list: remedies };
    } catch (problem) {
      const code = /** @type {any} */ (problem)?.code;
      if (code === "superseded" || code === "stopped") outcome.state = "stopped";
    }
    this.remedies.set(leg, outcome);
    this.#changed();
  }

  /** Look for remedies again after they were stopped. */
  remediesAgain() {
    const leg = openLeg(this.store)?.id;
    if (leg) this.#askRemedies(leg);
  }

  #changed() {
    this.dispatchEvent(new Event("change"));
  }
}
