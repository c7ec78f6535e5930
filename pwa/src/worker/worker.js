// The worker: one Pyodide, started at once; then one request after the other goes to the core, as JSON text.
import { BOOT_STEPS, coreError } from "./protocol.js";
import { fetchOrCached } from "./stored.js";

/** @typedef {import("./protocol.js").Request} Request */
/** @typedef {import("./protocol.js").FromWorker} FromWorker */

const engine = new URL("./engine/", self.location.href).href;

/** @param {FromWorker} message */
const say = (message) => self.postMessage(message);

/** @param {import("./protocol.js").BootStep} step */
function began(step) {
  say({ boot: { step, done: BOOT_STEPS.indexOf(step), of: BOOT_STEPS.length - 1, ms: performance.now() } });
}

/**
 * Start Python and load the core.
 * @returns {Promise<(method: string, params: string) => string>} the core's `handle`
 */
async function boot() {
  if (typeof WebAssembly !== "object") {
    throw new Error("This browser has WebAssembly switched off (Lockdown Mode does that), so nothing can be computed.");
  }
  self.fetch = fetchOrCached;
  began("runtime");
  /** @type {typeof import("pyodide")} */
  const { loadPyodide } = await import(`${engine}pyodide.mjs`);
  const pyodide = await loadPyodide({
    // All four are named: left alone, some would point to other hosts.
    indexURL: engine,
    lockFileURL: `${engine}pyodide-lock.json`,
    packageBaseUrl: engine,
    stdLibURL: `${engine}python_stdlib.zip`,
    // Named here, the packages are fetched while the runtime compiles.
    packages: ["tussock"],
    fullStdLib: false,
    env: { HOME: "/home/pilot", PYTHONHASHSEED: "0" },
  });
  began("core");
  return pyodide.pyimport("tussock.api").handle.copy(); // the copy outlives the module's proxy
}

/**
 * What went wrong in one line: of a traceback the one that names the exception, the first after its indented part.
 * @param {unknown} problem
 */
function inShort(problem) {
  const lines = (problem instanceof Error ? problem.message : String(problem)).trim().split("\n");
  return lines.find((line) => !/^(\s|Traceback)/.test(line)) ?? lines[0];
}

/** @type {Promise<(method: string, params: string) => string>} */
const core = boot();

core.then(
  () => began("ready"),
  (/** @type {unknown} */ problem) => say({ failed: coreError("not_started", inShort(problem)) }),
);

self.addEventListener("message", async (/** @type {MessageEvent<Request>} */ { data: { id, method, params } }) => {
  let handle;
  try {
    handle = await core;
  } catch {
    return; // already told, once, by `failed`
  }
  try {
    say({ id, answer: handle(method, params) });
  } catch (/** @type {any} */ problem) {
    // `handle` turns every refusal into text; what gets here is a fault of ours. An exception of Python leaves Python
    // as it was, anything else (memory, the stack) may have left it broken, and the page starts another.
    const code = problem?.constructor?.name === "PythonError" ? "internal" : "crashed";
    say({ id, answer: JSON.stringify({ error: coreError(code, inShort(problem)) }) });
  }
});
