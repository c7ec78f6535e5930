// The page's side of the worker: a queue with at most one request under way, so that a request that a newer edit has
// overtaken can still be dropped before Python begins on it.
import { coreError } from "./protocol.js";

/** @typedef {import("./protocol.js").CoreError} CoreError */
/** @typedef {import("./protocol.js").BootProgress} BootProgress */
/** @typedef {import("./protocol.js").FromWorker} FromWorker */

/**
 * @typedef {object} AskOptions
 * @property {string} [channel] a newer request of the same channel drops those that still wait
 * @property {string[]} [drops] other channels whose waiting requests this one drops too
 * @property {AbortSignal} [signal] gives up: at once when waiting; when under way, the worker is stopped and started
 *   anew if it has not answered in a moment
 *
 * @typedef {object} Waiting
 * @property {number} id
 * @property {string} method
 * @property {string} params JSON text
 * @property {string | undefined} channel
 * @property {(value: any) => void} resolve
 * @property {(problem: CoreProblem) => void} reject
 */

/** A running sum that was given up may take this long before the worker is stopped. [ms] */
const PATIENCE = 1500;

/** What is no fault of what was asked. */
export const FAULTS = ["crashed", "internal", "not_started"];

/** A refusal of the core, or a failure on the way: `code`, `path`, `message`, `expected`. */
export class CoreProblem extends Error {
  /** @param {CoreError} error */
  constructor(error) {
    super(error.message);
    this.name = "CoreProblem";
    this.code = error.code;
    this.path = error.path;
    this.expected = error.expected;
  }
}

export class CoreClient {
  /** @type {Waiting[]} */
  #waiting = [];
  /** @type {Waiting | undefined} */
  #running;
  /** @type {Worker | undefined} */
  #worker;
  #lastId = 0;
  /** @type {(value: void) => void} */
  #setReady = () => {};
  /** @type {(problem: CoreProblem) => void} */
  #setFailed = () => {};
  /** @type {Set<(progress: BootProgress) => void>} */
  #listeners = new Set();
  /** @type {Set<(problem: CoreError) => void>} */
  #faults = new Set();
  /** @type {ReturnType<typeof setTimeout> | undefined} */
  #stopTimer;

  /** @type {Promise<void>} resolves when the core answers, rejects with a CoreProblem when it can't be started */
  ready;

  /** @param {() => Worker} makeWorker */
  constructor(makeWorker) {
    this.makeWorker = makeWorker;
    this.ready = this.#newReady();
  }

  /** Start the worker; until then requests wait. */
  start() {
    if (this.#worker) return;
    const worker = this.makeWorker();
    this.#worker = worker;
    worker.addEventListener("message", (event) => this.#hear(event.data));
    worker.addEventListener("error", (event) => {
      event.preventDefault();
      this.#fail(coreError("not_started", event.message || "The worker could not be loaded."));
    });
  }

  /** Stop the worker, whatever it is doing, and start another. Waiting requests stay. */
  restart() {
    clearTimeout(this.#stopTimer);
    this.#worker?.terminate();
    this.#worker = undefined;
    this.#running?.reject(new CoreProblem(coreError("stopped", "Stopped.")));
    this.#running = undefined;
    this.#setFailed(new CoreProblem(coreError("stopped", "Stopped and started anew.")));
    this.ready = this.#newReady();
    this.start();
  }

  /**
   * Be told of each step of the start.
   * @param {(progress: BootProgress) => void} listener
   * @returns {() => void} call it to hear no more
   */
  onBoot(listener) {
    this.#listeners.add(listener);
    return () => this.#listeners.delete(listener);
  }

  /** Be told of what is no refusal but a fault of ours. @param {(problem: CoreError) => void} listener */
  onFault(listener) {
    this.#faults.add(listener);
  }

  /**
   * Ask the core.
   * @param {string} method
   * @param {object} params JSON-able
   * @param {AskOptions} [options]
   * @returns {Promise<any>} the result; rejects with a CoreProblem (`superseded` when a newer request took its place)
   */
  ask(method, params = {}, { channel, drops = [], signal } = {}) {
    return new Promise((resolve, reject) => {
      if (signal?.aborted) {
        reject(new CoreProblem(coreError("stopped", "Stopped.")));
        return;
      }
      this.#drop([...(channel ? [channel] : []), ...drops]);
      /** @type {Waiting} */
      const request = { id: ++this.#lastId, method, params: JSON.stringify(params), channel, resolve, reject };
      signal?.addEventListener("abort", () => this.#giveUp(request), { once: true });
      this.#waiting.push(request);
      this.#next();
    });
  }

  #newReady() {
    /** @type {Promise<void>} */
    const ready = new Promise((resolve, reject) => {
      this.#setReady = resolve;
      this.#setFailed = reject;
    });
    ready.catch(() => {}); // whoever awaits it hears of it; nobody has to
    this.up = false;
    return ready;
  }

  /** @param {string[]} channels */
  #drop(channels) {
    const dropped = this.#waiting.filter(({ channel }) => channel !== undefined && channels.includes(channel));
    this.#waiting = this.#waiting.filter((request) => !dropped.includes(request));
    for (const { reject } of dropped) reject(new CoreProblem(coreError("superseded", "A newer edit took its place.")));
  }

  #next() {
    if (!this.up || this.#running || !this.#worker) return;
    this.#running = this.#waiting.shift();
    if (!this.#running) return;
    const { id, method, params } = this.#running;
    this.#worker.postMessage({ id, method, params });
  }

  /** @param {Waiting} request */
  #giveUp(request) {
    const stopped = new CoreProblem(coreError("stopped", "Stopped."));
    request.reject(stopped);
    if (this.#running === request) {
      clearTimeout(this.#stopTimer);
      this.#stopTimer = setTimeout(() => {
        if (this.#running === request) this.restart();
      }, PATIENCE);
    } else {
      this.#waiting = this.#waiting.filter((one) => one !== request);
    }
  }

  /** @param {FromWorker} message */
  #hear(message) {
    if ("boot" in message) {
      for (const listener of this.#listeners) listener(message.boot);
      if (message.boot.step !== "ready") return;
      this.up = true;
      this.#setReady();
    } else if ("failed" in message) {
      this.#fail(message.failed);
    } else if (this.#running?.id === message.id) {
      const { resolve, reject } = this.#running;
      this.#running = undefined;
      const { result, error } = JSON.parse(message.answer);
      if (FAULTS.includes(error?.code)) for (const listener of this.#faults) listener(error);
      if (error) reject(new CoreProblem(error));
      else resolve(result);
      if (error?.code === "crashed") this.restart();
    }
    this.#next();
  }

  /** @param {CoreError} error */
  #fail(error) {
    const problem = new CoreProblem(error);
    for (const listener of this.#faults) listener(error);
    this.#setFailed(problem);
    this.#running?.reject(problem);
    for (const { reject } of this.#waiting) reject(problem);
    this.#running = undefined;
    this.#waiting = [];
  }
}

/** The app's own worker. */
export const core = new CoreClient(
  () => new Worker(new URL("worker.js", document.baseURI), { type: "module", name: "tussock" }),
);

/** @type {CoreClient["ask"]} */
export const ask = (method, params, options) => core.ask(method, params, options);
