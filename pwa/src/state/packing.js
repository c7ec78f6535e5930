// Pack for me, stage by stage: choices shown as they come, then proven, then ties settled. The core writes the program and
// asks all six of what the solver found; a choice that does not hold is cut off and another looked for.
import { now } from "./time.js";

/** @typedef {import("./store.js").Store} Store @typedef {import("./pointer.js").Json} Json */
/** @typedef {import("../worker/client.js").CoreClient} CoreClient @typedef {import("../worker/solver_client.js").Solver} Solver */

/**
 * @typedef {object} Packed
 * @property {string} of which load, in which state of the documents
 * @property {boolean} everything is chosen from, not only what the load lists
 * @property {"limits" | "choosing" | "ties" | "done" | "stopped" | "impossible" | "failed"} stage
 * @property {Json} [begun] what the choice rests on
 * @property {Json} [taken] the best choice so far, answered on all six
 * @property {Record<string, number>} [columns]
 * @property {Json} [cuts]
 * @property {boolean} proven
 * @property {number} [bound] no choice is worth more
 * @property {string} problem
 * @property {Record<string, Json>} why by item: {breaks, swap}, or {busy}
 */

/** The second pass only settles ties: it may take so long. [s] */
const TIES = 5;
/** A choice that does not hold is cut off so many times at most. */
const ROUNDS = 14;

/** Fires "change" with every stage and better choice. */
export class Packing extends EventTarget {
  /** @type {Packed | undefined} */
  now;
  #at = "";

  /** @param {Store} store @param {CoreClient} core @param {Solver} solver */
  constructor(store, core, solver) {
    super();
    this.store = store;
    this.core = core;
    this.solver = solver;
  }

  /** @param {string} trip @param {string} leg */
  of(trip, leg) {
    return `${trip}/${leg}/${this.store.version}`;
  }

  /** Is something under way? */
  get busy() {
    return this.now !== undefined && ["limits", "choosing", "ties"].includes(this.now.stage);
  }

  /**
   * Pack; what is known for this state of the documents stays.
   * @param {string} trip
   * @param {string} leg
   * @param {boolean} [everything] of all kit of the trip, not of what the load lists
   */
  async begin(trip, leg, everything = false) {
    const of = this.of(trip, leg);
    if (this.now?.of === of && this.now.everything === everything && !["stopped", "failed"].includes(this.now.stage)) return;
    if (this.busy) this.solver.stop();
    this.#at = now();
    /** @type {Packed} */
    const run = { of, everything, stage: "limits", proven: false, problem: "", why: {}, ...(everything ? { cuts: { everything } } : {}) };
    this.now = run;
    this.#changed();
    try {
      this.solver.start(); // it loads while the core looks for the limits
      await this.#rounds(run, trip, leg);
    } catch (problem) {
      if (this.now !== run || run.stage === "stopped") return;
      run.stage = "failed";
      run.problem = /** @type {any} */ (problem).message;
    }
    this.#changed();
  }

  /** @param {string} step @param {string} trip @param {string} leg @param {Json} [more] */
  #ask(step, trip, leg, more = {}) {
    return this.core.ask("pack", { step, documents: this.store.texts(), trip, leg, now: this.#at, ...more });
  }

  /** @param {Packed} run @param {string} trip @param {string} leg */
  async #rounds(run, trip, leg) {
    for (let round = 0; round < ROUNDS; round += 1) {
      run.begun = await this.#ask("begin", trip, leg, { cuts: run.cuts });
      if (!this.#goes(run)) return;
      run.stage = "choosing";
      this.#changed();
      let asking = false;
      const cuts = run.cuts;
      const first = await this.solver.solve(run.begun.model, {
        hear: ({ columns, bound }) => {
          if (Number.isFinite(bound)) run.bound = Math.floor(bound + 1e-6);
          if (!columns || asking || !this.#goes(run)) return;
          asking = true;
          this.#ask("take", trip, leg, { columns, cuts }).then((taken) => {
            asking = false;
            // one that does not hold is not shown while there is hope of one that does
            if (this.#goes(run) && run.stage === "choosing" && !taken.again && !(run.taken?.worth >= taken.worth)) Object.assign(run, { taken, columns });
            this.#changed();
          }, () => { asking = false; });
        },
      });
      if (!first || !this.#goes(run)) return;
      if (first.done === "infeasible") {
        // What must come may leave no room for what the weights may be wrong by: then without, and it is told.
        if (run.cuts?.unguarded || run.begun.nowhere.length) return this.#end(run, "impossible");
        run.cuts = { ...run.cuts, unguarded: true };
        continue;
      }
      const taken = await this.#ask("take", trip, leg, { columns: first.columns, cuts });
      if (!this.#goes(run)) return;
      if (taken.again && round < ROUNDS - 1) {
        run.cuts = taken.again;
        continue;
      }
      Object.assign(run, { taken, columns: first.columns, bound: Math.floor(first.bound + 1e-6), proven: first.done === "optimal" });
      return this.#settle(run, trip, leg);
    }
    this.#end(run, "impossible");
  }

  /** The second pass; what it finds is taken only where it holds as well. @param {Packed} run @param {string} trip @param {string} leg */
  async #settle(run, trip, leg) {
    run.stage = "ties";
    this.#changed();
    const { model } = await this.#ask("settle", trip, leg, { columns: run.columns, cuts: run.cuts });
    if (!this.#goes(run)) return;
    const second = await this.solver.solve(model, { seconds: TIES });
    if (!second || !this.#goes(run)) return;
    if (second.done !== "infeasible") {
      const taken = await this.#ask("take", trip, leg, { columns: second.columns, cuts: run.cuts });
      if (!this.#goes(run)) return;
      if (!taken.again && taken.worth === run.taken.worth) Object.assign(run, { taken, columns: second.columns });
    }
    this.#end(run, "done");
  }

  /** Stop; the best choice so far stays. */
  stop() {
    if (!this.now) return;
    this.now.stage = "stopped";
    this.solver.stop();
    this.#changed();
  }

  /** Why does a thing stay, and what could stay in its place? @param {string} trip @param {string} leg @param {string} item */
  async why(trip, leg, item) {
    const run = this.now;
    if (!run?.columns || this.busy || run.why[item]) return;
    const { columns, cuts } = run;
    run.why[item] = { busy: true };
    this.#changed();
    try {
      const { breaks, model } = await this.#ask("reason", trip, leg, { columns, cuts, item });
      run.why[item] = { breaks, busy: Boolean(model) };
      this.#changed();
      if (model) {
        const swap = await this.#swap(trip, leg, { columns, cuts, item }, model);
        run.why[item] = { breaks, swap, none: !swap };
      }
    } catch (problem) {
      run.why[item] = { breaks: [], problem: /** @type {any} */ (problem).message };
    }
    this.#changed();
  }

  /**
   * The cheapest swap that holds on all six: one that does not is cut off and another looked for.
   * @param {string} trip @param {string} leg @param {{ columns: Record<string, number>, cuts?: Json, item: string }} given @param {string} first its program
   */
  async #swap(trip, leg, given, first) {
    let { cuts } = given;
    for (let [round, model] = [0, first]; round < ROUNDS && model; round += 1) {
      const forced = await this.solver.solve(model, { seconds: 2 * TIES });
      const found = forced && forced.done !== "infeasible" ? forced.columns : null;
      const { swap, again } = await this.#ask("instead", trip, leg, { ...given, cuts, forced: found });
      if (swap || !again) return swap;
      cuts = again;
      ({ model } = await this.#ask("reason", trip, leg, { ...given, cuts }));
    }
    return null;
  }

  /** @param {Packed} run */
  #goes(run) {
    return this.now === run && this.busy;
  }

  /** @param {Packed} run @param {Packed["stage"]} stage */
  #end(run, stage) {
    run.stage = stage;
    this.#changed();
  }

  #changed() {
    this.dispatchEvent(new Event("change"));
  }
}
