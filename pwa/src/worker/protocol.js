// What page and worker say to each other. One kind of request, one kind of answer, and word of the start.
// Parameters and results cross as JSON text: that is what the core takes and gives, and text is cheap to post.

/**
 * @typedef {{ id: number, method: string, params: string }} Request
 *   `params` is a JSON object as text.
 *
 * @typedef {{ code: string, path: string, message: string, expected: string }} CoreError
 *   As the core's `errors.py` has it. Codes that arise out here: "not_started", "crashed", "stopped", "superseded".
 *
 * @typedef {{ id: number, answer: string }} Answer
 *   The core's own text: `{"result": ...}` or `{"error": CoreError}`.
 *
 * @typedef {"runtime" | "packages" | "core" | "ready"} BootStep
 *
 * @typedef {{ step: BootStep, done: number, of: number, ms: number }} BootProgress
 *   `step` has begun, `done` of `of` steps are behind, `ms` since the worker began.
 *
 * @typedef {{ boot: BootProgress } | { failed: CoreError } | Answer} FromWorker
 */

/** @type {readonly BootStep[]} */
export const BOOT_STEPS = ["runtime", "packages", "core", "ready"];

/**
 * @param {string} code
 * @param {string} message
 * @returns {CoreError}
 */
export const coreError = (code, message) => ({ code, path: "", message, expected: "" });
