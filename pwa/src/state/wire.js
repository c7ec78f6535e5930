// A text on its way to another phone through codes that a camera reads: squeezed, cut into parts, each an address of
// this app, so that any phone's camera opens it here. A part is DIGEST.NUMBER.OF.DATA.

/**
 * @typedef {object} Part
 * @property {string} id digest of the whole: parts of one text belong together by it
 * @property {number} index from 1
 * @property {number} of
 * @property {string} data
 */

/** Letters in one code: as many as a cheap phone's camera still reads from another's screen. */
const IN_ONE = 620;
/** A text of ours is far smaller; what swells to more than this is none. [bytes] */
const LARGEST = 400_000;
const MOST_PARTS = 40;

/** @param {Uint8Array} bytes */
const toLetters = (bytes) =>
  btoa(Array.from(bytes, (byte) => String.fromCharCode(byte)).join(""))
    .replaceAll("+", "-")
    .replaceAll("/", "_")
    .replace(/=+$/, "");

/** @param {string} letters */
const toBytes = (letters) => Uint8Array.from(atob(letters.replaceAll("-", "+").replaceAll("_", "/")), (one) => one.charCodeAt(0));

/** @param {string} letters */
async function digestOf(letters) {
  const hash = await crypto.subtle.digest("SHA-256", new TextEncoder().encode(letters));
  return toLetters(new Uint8Array(hash)).slice(0, 8);
}

/**
 * The parts of a text, as they stand in addresses.
 * @param {string} text
 * @returns {Promise<string[]>}
 */
export async function partsOf(text) {
  const squeezed = new Blob([text]).stream().pipeThrough(new CompressionStream("deflate-raw"));
  const letters = toLetters(new Uint8Array(await new Response(squeezed).arrayBuffer()));
  const of = Math.ceil(letters.length / IN_ONE);
  const each = Math.ceil(letters.length / of);
  const id = await digestOf(letters);
  return Array.from({ length: of }, (_, i) => `${id}.${i + 1}.${of}.${letters.slice(i * each, (i + 1) * each)}`);
}

/**
 * A part read from an address or a code; undefined where it is none of ours.
 * @param {string} text
 * @returns {Part | undefined}
 */
export function partIn(text) {
  const match = /(?:^|#\/got\/)([\w-]{8})\.(\d{1,2})\.(\d{1,2})\.([\w-]+)$/.exec(text.trim());
  if (!match) return undefined;
  const [, id, number, many, data] = match;
  const [index, of] = [Number(number), Number(many)];
  return index >= 1 && index <= of && of <= MOST_PARTS ? { id, index, of, data } : undefined;
}

/**
 * The text that parts make; all of them must be there. Throws a text id where they do not make what was sent.
 * @param {Part[]} parts
 * @returns {Promise<string>}
 */
export async function textOf(parts) {
  const letters = [...parts]
    .sort((a, b) => a.index - b.index)
    .map(({ data }) => data)
    .join("");
  if ((await digestOf(letters)) !== parts[0]?.id) throw new Error("hand.damaged");
  try {
    const reader = new Blob([toBytes(letters)]).stream().pipeThrough(new DecompressionStream("deflate-raw")).getReader();
    const chunks = [];
    let size = 0;
    for (;;) {
      const { done, value } = await reader.read();
      if (done) break;
      size += value.length;
      if (size > LARGEST) {
        reader.cancel().catch(() => {});
        throw new Error("too large");
      }
      chunks.push(value);
    }
    return await new Blob(chunks).text();
  } catch {
    throw new Error("hand.damaged");
  }
}

/** The address that a code holds. @param {string} part */
export const addressOf = (part) => `${location.origin}${location.pathname}#/got/${part}`;
