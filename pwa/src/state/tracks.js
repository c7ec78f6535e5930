// Recorded tracks on this device: read from a file, asked about in the core, kept by digest, deleted. They lie in a
// store of their own, which no export reads.

/** @typedef {import("./store.js").Store} Store @typedef {import("./pointer.js").Json} Json */

/**
 * @typedef {object} Kept
 * @property {string} digest SHA-256 of the bytes, as hexadecimal digits
 * @property {string} name
 * @property {string} at when it was kept
 * @property {"flight" | "walk"} what
 * @property {ArrayBuffer} bytes
 */

/** The core refuses what is larger; a phone need not read it first. [bytes] */
export const LARGEST = 20_000_000;

/** The bytes as base64, by the browser's own means. @param {ArrayBuffer} bytes @returns {Promise<string>} */
export function base64(bytes) {
  return new Promise((resolve, reject) => {
    const reader = new FileReader();
    reader.onload = () => resolve(String(reader.result).split(",", 2)[1] ?? "");
    reader.onerror = () => reject(reader.error ?? new Error("unread"));
    reader.readAsDataURL(new Blob([bytes]));
  });
}

/** Kept tracks, the newest first. @param {Store} store */
export async function keptTracks(store) {
  const all = await store.shelf.tracks();
  return all.sort((a, b) => (a.at < b.at ? 1 : -1));
}
