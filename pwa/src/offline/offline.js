// Use without signal: registers the service worker, tells how far the first visit is, says "ready" only when every
// file has been seen in the cache, and takes a new version only when asked to.

/** @typedef {import("./messages.js").FromServiceWorker} FromServiceWorker */

/**
 * @typedef {object} OfflineState
 * @property {"asking" | "installing" | "ready" | "incomplete" | "failed" | "impossible"} phase
 *   `impossible`: this browser, mode or address allows no service worker; the app works, with signal only
 * @property {number} files stored so far
 * @property {number} ofFiles
 * @property {number} bytes stored so far
 * @property {number} ofBytes
 * @property {boolean} update a newer version is stored and waits to be taken
 * @property {boolean | undefined} kept did the browser promise not to throw our data away? undefined: not asked
 * @property {string} version of the files in use, "" before it is known
 * @property {string} reason what went wrong, "" otherwise
 */

/** Ask the host for a new version at most this often. [ms] */
const UPDATE_PAUSE = 15 * 60 * 1000;

/** The first visit gives up waiting for the service worker after so long without progress, and starts anyway. [ms] */
const STALL = 20_000;

/** @type {OfflineState} */
let state = {
  phase: "asking",
  files: 0,
  ofFiles: 0,
  bytes: 0,
  ofBytes: 0,
  update: false,
  kept: undefined,
  version: "",
  reason: "",
};

/** Fires "change" whenever the state does. */
export const offline = new EventTarget();

/** @returns {Readonly<OfflineState>} */
export const offlineState = () => state;

/** @param {Partial<OfflineState>} changes */
function change(changes) {
  state = { ...state, ...changes };
  offline.dispatchEvent(new Event("change"));
}

/** @type {ServiceWorkerRegistration | undefined} */
let registration;
let lastUpdate = 0;

/**
 * Register, and wait until files can be had without downloading them twice: when the service worker serves this page,
 * or when it is clear that none will.
 * @returns {Promise<void>} never rejects
 */
export async function startOffline() {
  if (!("serviceWorker" in navigator) || !("caches" in self)) {
    change({ phase: "impossible", reason: "This browser, or this address, allows no storing for use without signal." });
    return;
  }
  const container = navigator.serviceWorker;
  const hadController = container.controller !== null;
  const served = new Promise((resolve) => container.addEventListener("controllerchange", resolve, { once: true }));
  const stalled = listen();
  try {
    registration = await container.register("sw.js", { updateViaCache: "none" });
  } catch (problem) {
    change({ phase: hadController ? state.phase : "impossible", reason: String(problem) });
    if (hadController) askForCheck();
    return;
  }
  watchForUpdates(registration);
  if (hadController) {
    askForCheck();
    return;
  }
  // Also after a forced reload: the service worker is there, but this page asked to do without it.
  registration.active?.postMessage("claim");
  await Promise.race([served, stalled]);
  askForCheck();
}

/**
 * Hear the service worker.
 * @returns {Promise<void>} resolves when the first installation has failed or shows no progress
 */
function listen() {
  return new Promise((resolve) => {
    let timer = setTimeout(resolve, STALL);
    new BroadcastChannel("tussock-offline").addEventListener(
      "message",
      (/** @type {MessageEvent<FromServiceWorker>} */ { data }) => {
        clearTimeout(timer);
        timer = setTimeout(resolve, STALL);
        if ("installing" in data) {
          // A new version that is being stored beside the one in use is not what the person waits for.
          if (!navigator.serviceWorker.controller) change({ phase: "installing", ...data.installing });
        } else if ("checked" in data) {
          const { files, bytes, missing, version } = data.checked;
          const whole = { files: files - missing, ofFiles: files, bytes, ofBytes: bytes, version };
          change({ phase: missing ? "incomplete" : "ready", ...whole });
        } else {
          if (!navigator.serviceWorker.controller) change({ phase: "failed", reason: data.failed });
          resolve();
        }
      },
    );
  });
}

/** Have the service worker look for every file; the answer becomes the phase. */
export function askForCheck() {
  navigator.serviceWorker?.controller?.postMessage("check");
}

/** @param {ServiceWorkerRegistration} found */
function watchForUpdates(found) {
  const look = () => {
    if (found.waiting && navigator.serviceWorker.controller) change({ update: true });
  };
  look();
  found.addEventListener("updatefound", () => found.installing?.addEventListener("statechange", look));
  // An installed app may be woken from sleep for days without a load, so ask whenever it comes to the front.
  const ask = () => {
    if (document.visibilityState !== "visible" || Date.now() - lastUpdate < UPDATE_PAUSE) return;
    lastUpdate = Date.now();
    found.update().catch(() => {}); // no signal: nothing to be had, nothing lost
  };
  lastUpdate = Date.now(); // registering has just asked
  document.addEventListener("visibilitychange", ask);
  addEventListener("pageshow", ask);
  addEventListener("focus", ask);
}

/** Take the version that waits: it takes over every open page, and this one loads anew. Call it on consent only. */
export function takeUpdate() {
  if (!registration?.waiting) return;
  navigator.serviceWorker.addEventListener("controllerchange", () => location.reload(), { once: true });
  registration.waiting.postMessage("take-over");
}

/**
 * Ask the browser to keep our data when space runs short. Some show a question, so call it after a person has done
 * something worth keeping.
 * @returns {Promise<boolean>} what the browser says, not what we wish
 */
export async function keepData() {
  const kept = (await navigator.storage?.persisted?.()) || (await navigator.storage?.persist?.()) || false;
  change({ kept });
  return kept;
}
