// What this device says of itself: build, stored files and whether they are what was built, room, browser. Asked for
// when the screen is opened; nothing of it leaves the device but by the person's own copy.
/** @typedef {import("../offline/messages.js").Listing} Listing */

/** @type {string} day of the sources, written in by the build */
// @ts-expect-error the name is put there by the build
export const BUILT = TUSSOCK_BUILT;

/** @type {string} version of the engine, written in by the build */
// @ts-expect-error the name is put there by the build
export const ENGINE = TUSSOCK_PYODIDE;

/** The service worker may be asleep, or of an older version that does not answer. [ms] */
const PATIENCE = 5000;

/**
 * @typedef {object} StoredFile
 * @property {string} name
 * @property {number} bytes
 * @property {string} hash SHA-256 of what is stored, as hexadecimal digits; "" while it is not looked at
 * @property {"waiting" | "as built" | "differs" | "missing"} state
 *
 * @typedef {object} Device
 * @property {boolean} looking
 * @property {string} problem why the files can't be looked at
 * @property {StoredFile[]} files
 * @property {boolean | undefined} kept has the browser promised to keep the documents?
 * @property {number | undefined} used [bytes]
 * @property {number | undefined} quota [bytes]
 */

/** @type {Device} */
export const device = { looking: false, problem: "", files: [], kept: undefined, used: undefined, quota: undefined };

/** @param {string} integrity "sha256-" and base64 */
const hex = (integrity) => Array.from(atob(integrity.slice(7)), (letter) => letter.charCodeAt(0).toString(16).padStart(2, "0")).join("");

/** @returns {Promise<Listing>} */
function listing() {
  const controller = navigator.serviceWorker?.controller;
  if (!controller) return Promise.reject(new Error("device.files.none"));
  return new Promise((resolve, reject) => {
    const { port1, port2 } = new MessageChannel();
    setTimeout(() => reject(new Error("device.files.silent")), PATIENCE);
    port1.onmessage = ({ data }) => resolve(data);
    controller.postMessage("list", [port2]);
  });
}

/** @param {ArrayBuffer} body */
async function sha256(body) {
  const digest = new Uint8Array(await crypto.subtle.digest("SHA-256", body));
  return Array.from(digest, (byte) => byte.toString(16).padStart(2, "0")).join("");
}

/**
 * Look at everything again: read each stored file and hold it against the list of the build.
 * @param {() => void} told called whenever more is known
 */
export async function lookAtDevice(told) {
  if (device.looking) return;
  Object.assign(device, { looking: true, problem: "" });
  told();
  try {
    device.kept = await navigator.storage?.persisted?.();
    const { usage, quota } = (await navigator.storage?.estimate?.()) ?? {};
    Object.assign(device, { used: usage, quota });
    const { cache: name, files } = await listing();
    const cache = await caches.open(name);
    const base = new URL("./", document.baseURI).href;
    device.files = files.map(({ address, bytes }) => ({ name: address.replace(base, ""), bytes, hash: "", state: "waiting" }));
    for (const [index, { address, integrity }] of files.entries()) {
      const stored = await cache.match(address);
      const hash = stored ? await sha256(await stored.arrayBuffer()) : "";
      device.files[index] = { ...device.files[index], hash, state: !stored ? "missing" : hash === hex(integrity) ? "as built" : "differs" };
      told();
    }
  } catch (problem) {
    device.problem = /** @type {Error} */ (problem).message;
  }
  device.looking = false;
  told();
}

/** What the browser says it is. */
export const browser = () => ({
  agent: navigator.userAgent,
  languages: navigator.languages.join(", "),
  screen: `${innerWidth} × ${innerHeight}, ${devicePixelRatio}`,
  installed: matchMedia("(display-mode: standalone)").matches,
});
