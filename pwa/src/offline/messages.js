// What the service worker tells every open page, over the channel "tussock-offline".

/**
 * @typedef {{ files: number, ofFiles: number, bytes: number, ofBytes: number }} Installing
 *   Bytes as they are stored here; over the air a host may send fewer.
 *
 * @typedef {{ version: string, files: number, bytes: number, missing: number }} Checked
 *   The outcome of looking for every file in the cache, one by one.
 *
 * @typedef {{ installing: Installing } | { failed: string } | { checked: Checked }} FromServiceWorker
 */

/**
 * The answer to "list": what belongs to this version, as the build wrote it down.
 * @typedef {{ address: string, integrity: string, bytes: number }} ListedFile
 * @typedef {{ cache: string, files: ListedFile[] }} Listing
 */

export {};
