// The packing solver's own worker: HiGHS, loaded once; a program comes in as LP text, every better choice goes out as
// it is found, then the end. It is stopped by ending the worker: while it solves it hears nothing.
import { fetchOrCached } from "./stored.js";

/**
 * @typedef {{ id: number, text: string, gap: number, seconds: number }} Task
 * @typedef {{ [name: string]: number }} Columns those that are not nil
 * @typedef {{ id: number, better: Columns, objective: number, bound: number }} Better
 * @typedef {{ id: number, bound: number, objective: number }} Closer
 * @typedef {{ id: number, done: "optimal" | "stopped" | "infeasible", columns: Columns, objective: number, bound: number, ms: number }} Done
 * @typedef {{ id: number, failed: string }} Failed
 */

const folder = new URL("./solver/", self.location.href).href;
/** At most so often word of a nearer bound is sent. [ms] */
const PAUSE = 150;

async function load() {
  const wasm = fetchOrCached(`${folder}highs.wasm`).then((reply) => reply.arrayBuffer());
  const { default: start } = await import(`${folder}highs.mjs`);
  return start({ wasmBinary: await wasm });
}

const loading = load();
loading.catch(() => {}); // the first task tells of it

/** @param {string[]} names @param {ArrayLike<number>} values @returns {Columns} */
const named = (names, values) => Object.fromEntries(names.flatMap((name, i) => (Math.abs(values[i]) > 1e-6 ? [[name, values[i]]] : [])));

/** @param {any} highs @param {Task} task */
function solve(highs, { id, text, gap, seconds }) {
  const began = performance.now();
  const { callbackType, modelStatus } = highs.constants;
  highs.withModel({ format: "lp", data: text }, (/** @type {any} */ model) => {
    model.options.set({ output_flag: false, mip_rel_gap: gap, mip_abs_gap: 1e-6, time_limit: seconds });
    const names = Array.from({ length: model.getLp().numCols }, (_, i) => model.getColName(i));
    let told = 0;
    model.run({
      [callbackType.mipImprovingSolution](/** @type {any} */ { data }) {
        self.postMessage({ id, better: named(names, data.mip_solution), objective: data.objective_function_value, bound: data.mip_dual_bound });
      },
      [callbackType.mipInterrupt](/** @type {any} */ { data }) {
        const now = performance.now();
        if (now - told < PAUSE) return;
        told = now;
        self.postMessage({ id, objective: data.mip_primal_bound, bound: data.mip_dual_bound });
      },
    });
    const status = model.getModelStatus();
    const found = model.info.get("primal_solution_status") === 2;
    self.postMessage({
      id,
      done: status === modelStatus.optimal ? "optimal" : found ? "stopped" : "infeasible",
      columns: found ? named(names, model.getSolution().colValue) : {},
      objective: model.info.get("objective_function_value"),
      bound: model.info.get("mip_dual_bound"),
      ms: performance.now() - began,
    });
  });
}

self.addEventListener("message", async (/** @type {MessageEvent<Task>} */ { data: task }) => {
  try {
    solve(await loading, task);
  } catch (/** @type {any} */ problem) {
    self.postMessage({ id: task.id, failed: String(problem?.message ?? problem) });
  }
});
