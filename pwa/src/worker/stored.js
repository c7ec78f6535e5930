// Some engines refuse a fetch made inside a worker when there is no network, before the service worker sees it.
// The files are in the cache all the same, so look there when a fetch fails.

/** Names of our caches begin with this; the service worker uses the same. */
export const CACHE_PREFIX = "tussock-";

const fetchPlainly = self.fetch.bind(self);

/**
 * @param {RequestInfo | URL} input
 * @param {RequestInit} [init]
 * @returns {Promise<Response>}
 */
export async function fetchOrCached(input, init) {
  try {
    return await fetchPlainly(input, init);
  } catch (problem) {
    const stored = await fromCaches(input);
    if (stored) return stored;
    throw problem;
  }
}

/**
 * Caches are listed oldest first, and a newer version waits until it is taken: the first that has the file is
 * the version that is running.
 * @param {RequestInfo | URL} input
 */
async function fromCaches(input) {
  if (!self.caches) return undefined;
  for (const name of await caches.keys()) {
    if (!name.startsWith(CACHE_PREFIX)) continue;
    const found = await (await caches.open(name)).match(input);
    if (found) return found;
  }
  return undefined;
}
