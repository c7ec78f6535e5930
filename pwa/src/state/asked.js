// What a screen asked the core, and what came of it: asked once for each state of what the question rests on.

/** @typedef {import("../worker/client.js").CoreClient} CoreClient @typedef {import("./pointer.js").Json} Json */

export class Asked {
  /** What the last question rested on, "" before there was one. */
  #of = "";
  /** @type {Json | undefined} */
  #found;
  #problem = "";

  /** @param {string} method of the core @param {string} [channel] of its own where a screen asks it twice at a time */
  constructor(method, channel = `${method}-screen`) {
    this.method = method;
    this.channel = channel;
  }

  /**
   * The answer to the question as it is now; while it is being asked, neither.
   * @param {{ core: CoreClient, redraw: () => void, boot: { state: string } }} context
   * @param {string} of what it rests on: another text, another question
   * @param {() => Json} params
   * @returns {{ found?: Json, problem: string }}
   */
  now({ core, redraw, boot }, of, params) {
    if (this.#of === of) return { found: this.#found, problem: this.#problem };
    if (boot.state !== "ready") return { problem: "" };
    const settle = (/** @type {Json | undefined} */ found, problem = "") => {
      if (this.#of === of) [this.#found, this.#problem] = [found, problem];
      redraw();
    };
    [this.#of, this.#found, this.#problem] = [of, undefined, ""];
    core.ask(this.method, params(), { channel: this.channel }).then(
      (found) => settle(found),
      (problem) => {
        // overtaken by a newer question, which tells; or stopped, so that it may be asked again
        const overtaken = problem.code === "superseded" || problem.code === "stopped";
        if (overtaken && this.#of === of) this.#of = "";
        settle(undefined, overtaken ? "" : problem.message);
      },
    );
    return { problem: "" };
  }
}
