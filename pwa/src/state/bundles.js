// Everything as one file, out and in. What comes in passes the core's gate before anything here is touched.

/** @typedef {import("./store.js").Store} Store @typedef {import("./pointer.js").Json} Json */

/** The gate refuses what is larger; a phone need not read it first. [bytes] */
export const LARGEST = 8_000_000;

/** Hand everything to the browser as a file. @param {Store} store */
export function giveFile(store) {
  const text = JSON.stringify(store.bundle(), null, 1);
  const address = URL.createObjectURL(new Blob([text], { type: "application/json" }));
  const link = document.createElement("a");
  link.href = address;
  link.download = `tussock-${new Date().toISOString().slice(0, 10)}.json`;
  link.click();
  setTimeout(() => URL.revokeObjectURL(address), 60_000);
}

/**
 * A file's bundle, once the core has accepted it. Throws what the core says, or a message of ours by its text id.
 * @param {File} file
 * @param {import("../worker/client.js").CoreClient} core
 */
export async function takeFile(file, core) {
  if (file.size > LARGEST) throw new Error("shell.file.too_large");
  let bundle;
  try {
    bundle = JSON.parse(await file.text());
  } catch {
    throw new Error("shell.file.not_ours");
  }
  if (!Array.isArray(bundle?.documents) || bundle.documents.length === 0) throw new Error("shell.file.not_ours");
  const { warnings } = await core.ask("check", bundle);
  return { bundle, warnings, name: file.name };
}

/** How many of each kind, worth saying. @param {Json} bundle @returns {Record<string, number>} */
export function counted(bundle) {
  /** @type {Record<string, number>} */
  const count = {};
  for (const { kind } of bundle.documents) count[kind] = (count[kind] ?? 0) + 1;
  return count;
}
