// The page's side of the packing solver: started when it is first needed, stopped by ending it.

/** @typedef {import("./solver.js").Columns} Columns @typedef {import("./solver.js").Done} Done */
/** @typedef {{ columns?: Columns, objective: number, bound: number }} Heard */

export class Solver {
  /** @type {Worker | undefined} */
  #worker;
  #last = 0;
  /** @type {{ id: number, hear: (heard: Heard) => void, resolve: (done: Done | undefined) => void, reject: (problem: Error) => void } | undefined} */
  #task;

  /** @param {() => Worker} makeWorker */
  constructor(makeWorker) {
    this.makeWorker = makeWorker;
  }

  /** Begin to load it, if it is not there yet. */
  start() {
    if (this.#worker) return;
    this.#worker = this.makeWorker();
    this.#worker.addEventListener("message", ({ data }) => this.#hear(data));
    this.#worker.addEventListener("error", (event) => {
      event.preventDefault();
      this.#task?.reject(new Error(event.message || "The solver could not be loaded."));
      this.stop();
    });
  }

  /**
   * Solve a program. A task under way is stopped by another.
   * @param {string} text
   * @param {{ gap?: number, seconds?: number, hear?: (heard: Heard) => void }} [options]
   * @returns {Promise<Done | undefined>} undefined when it was stopped by `stop`
   */
  solve(text, { gap = 0, seconds = 600, hear = () => {} } = {}) {
    if (this.#task) this.stop();
    this.start();
    return new Promise((resolve, reject) => {
      const id = ++this.#last;
      this.#task = { id, hear, resolve, reject };
      this.#worker?.postMessage({ id, text, gap, seconds });
    });
  }

  /** End whatever it does; the next task starts another. */
  stop() {
    this.#worker?.terminate();
    this.#worker = undefined;
    this.#task?.resolve(undefined);
    this.#task = undefined;
  }

  /** @param {any} message */
  #hear(message) {
    const task = this.#task;
    if (task?.id !== message.id) return;
    if (!message.done && !message.failed) {
      task?.hear({ columns: message.better, objective: message.objective, bound: message.bound });
      return;
    }
    this.#task = undefined;
    if (message.failed) task?.reject(new Error(message.failed));
    else task?.resolve(message);
  }
}

/** The app's own. */
export const solver = new Solver(() => new Worker(new URL("solver.js", document.baseURI), { type: "module", name: "tussock-solver" }));
