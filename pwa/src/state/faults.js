// The last thing that went wrong, kept on the device so that it can be read out, and copied, afterwards. It goes nowhere.
import { now } from "./time.js";

/** @typedef {import("./store.js").Store} Store */
/** @typedef {{ at: string, what: string, where: string }} Fault */

const LONGEST = 600;

/** @type {Fault | undefined} */
let last;

/** @returns {Fault | undefined} */
export const lastFault = () => last;

/**
 * From now on, keep the last fault of the page and of the core.
 * @param {Store} store
 * @param {import("../worker/client.js").CoreClient} core
 */
export async function keepFaults(store, core) {
  /** @param {unknown} problem @param {string} [where] */
  const fault = (problem, where = "") => {
    const { message, code, stack } = /** @type {any} */ (problem ?? {});
    const place = where || (typeof stack === "string" ? stack.split("\n").find((line) => /:\d+:\d+/.test(line))?.trim() : "") || "";
    const before = last;
    last = { at: now(), what: [code, message ?? String(problem)].filter(Boolean).join(": ").slice(0, LONGEST), where: place.slice(0, LONGEST) };
    store.keep("fault", last);
    store.flush(); // what comes next may be the end of the page
    // A fault of drawing comes again with every drawing: told once.
    if (before?.what !== last.what || before.where !== last.where) store.dispatchEvent(new Event("change"));
  };
  addEventListener("error", ({ error, message, filename, lineno }) => fault(error ?? message, filename ? `${filename}:${lineno}` : ""));
  addEventListener("unhandledrejection", ({ reason }) => fault(reason));
  core.onFault((problem) => fault(problem));
  last ??= await store.kept("fault");
}
