// The service worker: every file of this version in one cache, served from there first; a new version waits until
// the person takes it. One classic script at one address for ever.
import { CACHE_PREFIX } from "./worker/stored.js";

/** @typedef {{ url: string, bytes: number, integrity: string }} Listed */
/** @typedef {import("./offline/messages.js").FromServiceWorker} FromServiceWorker */

const worker = /** @type {ServiceWorkerGlobalScope} */ (/** @type {unknown} */ (self));

/** @type {Listed[]} written in by the build */
// @ts-expect-error the name is put there by the build
const LIST = self.__WB_MANIFEST;

/** @type {string} the content security policy, written in by the build */
// @ts-expect-error the name is put there by the build
const POLICY = TUSSOCK_POLICY;

const listed = new Map(LIST.map((entry) => [new URL(entry.url, worker.registration.scope).href, entry]));
const page = new URL("index.html", worker.registration.scope).href;
const total = LIST.reduce((sum, { bytes }) => sum + bytes, 0);
/** The same files give the same name. */
const CACHE = CACHE_PREFIX + hash(LIST.map(({ url, integrity }) => url + integrity).join());

const channel = new BroadcastChannel("tussock-offline");

/** @param {FromServiceWorker} message */
const say = (message) => channel.postMessage(message);

worker.addEventListener("install", (event) => event.waitUntil(install()));
worker.addEventListener("activate", (event) => event.waitUntil(activate()));
worker.addEventListener("fetch", (event) => {
  const { request } = event;
  const address = new URL(request.url);
  if (request.method !== "GET" || address.origin !== worker.location.origin) return;
  address.search = "";
  address.hash = "";
  const scope = worker.registration.scope;
  const wanted = request.mode === "navigate" || address.href === scope ? page : address.href;
  if (listed.has(wanted) && address.href.startsWith(scope)) event.respondWith(serve(wanted, request));
});

worker.addEventListener("message", (event) => {
  if (event.data === "take-over") event.waitUntil(worker.skipWaiting());
  if (event.data === "claim") event.waitUntil(worker.clients.claim());
  if (event.data === "check") event.waitUntil(check());
  if (event.data === "list") event.ports[0]?.postMessage({ cache: CACHE, files: [...listed].map(([address, { integrity, bytes }]) => ({ address, integrity, bytes })) });
});

/** Fetch what is new, copy what an earlier version already has; all of it or nothing. */
async function install() {
  const cache = await caches.open(CACHE);
  let files = 0;
  let bytes = 0;
  const tell = () => say({ installing: { files, ofFiles: listed.size, bytes, ofBytes: total } });
  tell();
  try {
    // One after the other: many at once fail at random on a weak line, and this order is shown to the person.
    for (const [address, entry] of bySize()) {
      const before = bytes;
      if (!(await cache.match(address))) {
        const response =
          (await fromEarlier(address, entry)) ??
          (await download(address, entry, (received) => {
            bytes = before + Math.min(received, entry.bytes);
            tell();
          }));
        await cache.put(address, response);
      }
      files += 1;
      bytes = before + entry.bytes;
      tell();
    }
  } catch (problem) {
    say({ failed: String(problem) });
    throw problem;
  }
}

/** Small files first: the count moves early. */
const bySize = () => [...listed].sort(([, one], [, other]) => one.bytes - other.bytes);

/**
 * @param {string} address
 * @param {Listed} entry
 * @param {(received: number) => void} [progress]
 */
async function download(address, { integrity }, progress) {
  // "no-cache" lets a file that the page has just loaded be confirmed instead of sent again; a stale one does not
  // pass the integrity check.
  const response = await fetch(address, { cache: "no-cache", integrity, credentials: "same-origin" });
  if (!response.ok) throw new Error(`${address}: status ${response.status}`);
  if (!response.body) return withPolicy(response);
  let received = 0;
  const counted = response.body.pipeThrough(
    new TransformStream({
      transform(chunk, controller) {
        received += chunk.byteLength;
        progress?.(received);
        controller.enqueue(chunk);
      },
    }),
  );
  return withPolicy(new Response(counted, { status: 200, headers: response.headers }));
}

/**
 * The policy on everything that we serve, whether or not the host sends one.
 * @param {Response} response
 */
function withPolicy(response) {
  if (response.headers.has("Content-Security-Policy")) return response;
  const headers = new Headers(response.headers);
  headers.set("Content-Security-Policy", POLICY);
  return new Response(response.body, { status: response.status, headers });
}

/**
 * The same file out of an earlier version's cache. What is stored there was checked when it came; its integrity is
 * checked again because the earlier version may have meant other bytes by the same name.
 * @param {string} address
 * @param {Listed} entry
 */
async function fromEarlier(address, { integrity, bytes }) {
  for (const name of await caches.keys()) {
    if (!name.startsWith(CACHE_PREFIX) || name === CACHE) continue;
    const stored = await (await caches.open(name)).match(address);
    if (!stored) continue;
    const body = await stored.clone().arrayBuffer();
    if (body.byteLength === bytes && (await sha256(body)) === integrity) return stored;
  }
  return undefined;
}

/** @param {ArrayBuffer} body */
async function sha256(body) {
  const digest = new Uint8Array(await crypto.subtle.digest("SHA-256", body));
  return `sha256-${btoa(String.fromCharCode(...digest))}`;
}

async function activate() {
  for (const name of await caches.keys()) {
    if (name.startsWith(CACHE_PREFIX) && name !== CACHE) await caches.delete(name);
  }
  await worker.clients.claim();
}

/**
 * From the cache; a file that the browser has thrown away is fetched again.
 * @param {string} address
 * @param {Request} request
 */
async function serve(address, request) {
  const cache = await caches.open(CACHE);
  const stored = await cache.match(address);
  if (stored) return stored;
  try {
    const entry = /** @type {Listed} */ (listed.get(address));
    const response = await download(address, entry);
    await cache.put(address, response.clone());
    return response;
  } catch {
    return fetch(request); // the host has another version by now; better that than nothing
  }
}

/** Is every file here? Those that are not are fetched if that is possible; then the truth is told. */
async function check() {
  const cache = await caches.open(CACHE);
  let missing = 0;
  for (const [address, entry] of listed) {
    if (await cache.match(address)) continue;
    try {
      await cache.put(address, await download(address, entry));
    } catch {
      missing += 1;
    }
  }
  say({ checked: { version: CACHE.slice(CACHE_PREFIX.length), files: listed.size, bytes: total, missing } });
}

/**
 * A short name for a long text (FNV-1a, twice with different beginnings); nothing rests on it being hard to forge.
 * @param {string} text
 */
function hash(text) {
  return [0x811c9dc5, 0x1234567]
    .map((seed) => {
      let value = seed;
      for (let i = 0; i < text.length; i++) value = Math.imul(value ^ text.charCodeAt(i), 0x01000193);
      return (value >>> 0).toString(16).padStart(8, "0");
    })
    .join("");
}
