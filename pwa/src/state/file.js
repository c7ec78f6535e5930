// Files, out and in. Out: everything, or one document with what it needs, through the device's share sheet or as a
// download. In: the core merges a file with what is here and says what would change; only a yes takes it.

/** @typedef {import("./store.js").Store} Store @typedef {import("./pointer.js").Json} Json */
/** @typedef {import("../worker/client.js").CoreClient} CoreClient */

/**
 * @typedef {object} Incoming a file that was read and waits for a yes
 * @property {string} name
 * @property {string} text
 * @property {number} version of the documents it was held against
 * @property {Json} merged what the core says of it: documents, gone, removed, changes, not_joined, unchanged
 */

/** The gate refuses what is larger; a phone need not read it first. [bytes] */
export const LARGEST = 8_000_000;

/** Kinds of documents that can be given one by one. */
export const SINGLE = ["aeroplane", "strip", "kit", "trip"];

/** Fields that name other documents, by kind. A person's figures go only where a trip needs them. */
const NEEDS = {
  trip: (/** @type {Json} */ trip) => [
    trip.aeroplane,
    trip.settings,
    ...(trip.people ?? []),
    ...(trip.kits ?? []),
    ...(trip.loads ?? []).flatMap((/** @type {Json} */ load) => (load.seats ?? []).map((/** @type {Json} */ { person }) => person)),
    ...(trip.legs ?? []).flatMap((/** @type {Json} */ leg) => [leg.aeroplane, leg.from_strip, leg.to_strip, leg.alternate, leg.air_from, leg.air_to]),
  ],
  air: (/** @type {Json} */ air) => [air.strip],
};

/**
 * A document with all that it names, and so on.
 * @param {Store} store
 * @param {string} id
 * @returns {Json[]}
 */
function withNeeds(store, id) {
  const found = new Map();
  const open = [id];
  while (open.length) {
    const document = store.get(open.pop());
    if (!document || found.has(document.id)) continue;
    found.set(document.id, document);
    const needs = /** @type {Record<string, (one: Json) => string[]>} */ (NEEDS)[document.kind];
    if (needs) open.push(...needs(document).filter(Boolean));
    // A load names items; they may lie in any kit.
    if (document.kind === "trip") open.push(...kitsOf(store, document));
  }
  return [...found.values()];
}

/** @param {Store} store @param {Json} trip */
function kitsOf(store, trip) {
  const items = new Set((trip.loads ?? []).flatMap((/** @type {Json} */ load) => (load.placed ?? []).map((/** @type {Json} */ { item }) => item)));
  return store.all("kit").filter((kit) => kit.items.some((/** @type {Json} */ { id }) => items.has(id))).map(({ id }) => id);
}

/**
 * The file's text and name: of one document with what it needs, or of everything.
 * @param {Store} store
 * @param {string} [id]
 */
export function fileOf(store, id) {
  const day = new Date().toISOString().slice(0, 10);
  const one = id ? store.get(id) : undefined;
  const bundle = one
    ? { format: "tussock", version: 1, documents: withNeeds(store, one.id), ...(one.kind === "trip" ? { open: { trip: one.id } } : {}) }
    : store.bundle();
  return { text: JSON.stringify(bundle, null, 1), name: one ? `tussock-${one.id}-${day}` : `tussock-${day}` };
}

/** Some share sheets take no JSON but as plain text. @param {{ text: string, name: string }} file */
const forms = ({ text, name }) => [
  new File([text], `${name}.json`, { type: "application/json" }),
  new File([text], `${name}.json.txt`, { type: "text/plain" }),
];

/** Is there a share sheet that takes files? */
export const canShare = () => forms({ text: "{}", name: "x" }).some((file) => navigator.canShare?.({ files: [file] }));

/**
 * Hand a file to the share sheet; where that fails otherwise than by the person, as a download.
 * @param {{ text: string, name: string }} given
 */
export async function shareFile(given) {
  const file = forms(given).find((one) => navigator.canShare?.({ files: [one] }));
  if (!file) return saveFile(given);
  try {
    await navigator.share({ files: [file], title: given.name });
  } catch (problem) {
    if (/** @type {any} */ (problem)?.name !== "AbortError") saveFile(given);
  }
}

/** Hand a file to the browser as a download. @param {{ text: string, name: string }} file */
export function saveFile({ text, name }) {
  const address = URL.createObjectURL(new Blob([text], { type: "application/json" }));
  const link = document.createElement("a");
  link.href = address;
  link.download = `${name}.json`;
  link.click();
  setTimeout(() => URL.revokeObjectURL(address), 60_000);
}

/**
 * What a file would change here, from the core. Throws what the core says, or a message of ours by its text id;
 * nothing here has changed then, nor afterwards.
 * @param {{ name: string, text: string }} file
 * @param {Store} store
 * @param {CoreClient} core
 * @returns {Promise<Incoming>}
 */
export async function held({ name, text }, store, core) {
  const { version } = store;
  const { format, documents, removed } = store.bundle();
  const mine = { format, version: 1, documents, removed };
  const merged = await core.ask("merge", { mine, theirs: text });
  return { name, text, version, merged };
}

/** The text of a file that is not larger than any of ours. @param {File} file */
export async function textOf(file) {
  if (file.size > LARGEST) throw new Error("shell.file.too_large");
  return { name: file.name, text: await file.text() };
}

/** Does it change anything here? @param {Incoming} incoming */
export const changesAny = ({ merged }) => merged.documents.length + merged.gone.length > 0;

/**
 * A file's documents in the present version, to stand in the place of everything.
 * @param {Incoming} incoming
 * @param {CoreClient} core
 */
export async function wholeOf({ text }, core) {
  const { documents, open, removed, migrated } = await core.ask("migrate", { bundle: text });
  if (!documents.length) throw new Error("shell.file.not_ours");
  // What is of the present version and passed the gate is taken to the letter.
  const own = migrated ? documents : JSON.parse(text).documents;
  return { documents: own.every((/** @type {unknown} */ one) => one && typeof one === "object") ? own : documents, open, removed };
}
