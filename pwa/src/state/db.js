// Where documents are kept on the device: IndexedDB. Without it (some private windows) the app works in memory and
// says that nothing is kept.
import { openDB } from "idb";

/** @typedef {import("idb").IDBPDatabase} IDBPDatabase */

const NAME = "tussock";

export class Shelf {
  /** @type {IDBPDatabase | undefined} */
  #db;
  /** Did the browser, or a newer page of ours, close it? It is opened anew when it is needed. */
  #closed = false;
  /** Why nothing can be kept, "" when it can. */
  problem = "";

  async open() {
    try {
      this.#db = await this.#opened();
    } catch (problem) {
      this.problem = String(problem);
    }
  }

  /** Is there a store at all? Some private windows have none. */
  get isThere() {
    return this.#db !== undefined;
  }

  /** The store; opened anew where it was closed. @returns {Promise<IDBPDatabase | undefined>} */
  async #reached() {
    try {
      // some browsers close it without a word, while the page sleeps: then this fails
      if (this.#db && !this.#closed) this.#db.transaction("kept");
    } catch {
      this.#closed = true;
    }
    if (this.#closed) {
      this.#db = await this.#opened();
      this.#closed = false;
    }
    return this.#db;
  }

  #opened() {
    return openDB(NAME, 3, {
      upgrade(db, before) {
        if (before < 1) {
          db.createObjectStore("documents");
          db.createObjectStore("kept");
        }
        if (before < 2) db.createObjectStore("history", { autoIncrement: true }).createIndex("document", "id");
        // Recorded tracks stay on this device: no file that goes out is made of this store.
        if (before < 3) db.createObjectStore("tracks", { keyPath: "digest" });
      },
      blocking: () => this.#close(),
      terminated: () => {
        this.#closed = true;
      },
    });
  }

  /** A newer version of the app, in another page, needs the store to itself. */
  #close() {
    this.#db?.close();
    this.#closed = true;
  }

  /** Every stored record by its key, documents all of them unless something has damaged one. @returns {Promise<[string, any][]>} */
  async records() {
    const db = await this.#reached();
    if (!db) return [];
    const read = db.transaction("documents").objectStore("documents");
    const [keys, records] = await Promise.all([read.getAllKeys(), read.getAll()]);
    return keys.map((key, index) => [String(key), records[index]]);
  }

  /**
   * Some of them, by id; undefined where there is none.
   * @param {string[]} ids
   * @returns {Promise<any[]>}
   */
  async some(ids) {
    const db = await this.#reached();
    return db ? await Promise.all(ids.map((id) => db.get("documents", id))) : ids.map(() => undefined);
  }

  /**
   * A thing kept beside the documents: what was open, drafts, the last answers.
   * @param {string} key
   */
  async kept(key) {
    return (await this.#reached())?.get("kept", key);
  }

  /**
   * Write all of it or nothing.
   * @param {string[]} ids
   * @param {Map<string, any>} kept
   * @param {(id: string, stored: any) => any} settle what to store of a document, told what is stored; null: nothing
   * @returns {Promise<Map<string, any>>} the documents as they are now stored; null: taken away
   */
  async write(ids, kept, settle) {
    const outcome = new Map();
    try {
      const db = await this.#reached();
      if (!db) return outcome;
      const change = db.transaction(["documents", "kept"], "readwrite");
      for (const [key, value] of kept) change.objectStore("kept").put(value, key);
      const shelf = change.objectStore("documents");
      await Promise.all(
        ids.map(async (id) => {
          const document = settle(id, await shelf.get(id));
          outcome.set(id, document);
          await (document === null ? shelf.delete(id) : shelf.put(document, id));
        }),
      );
      // Not left to the browser: it may drop what is not committed when the page goes.
      change.commit();
      await change.done;
      this.problem = "";
      return outcome;
    } catch (problem) {
      this.problem = String(problem);
      throw problem;
    }
  }

  /**
   * Add to what documents were; of each the oldest beyond `most` are forgotten, and of all those beyond `mostOfAll`.
   * @param {{ id: string }[]} versions
   * @param {{ most: number, mostOfAll: number }} bounds
   */
  async remember(versions, { most, mostOfAll }) {
    const db = await this.#reached();
    if (!db) return;
    const change = db.transaction("history", "readwrite");
    const shelf = change.objectStore("history");
    for (const version of versions) shelf.add(version);
    for (const id of new Set(versions.map((version) => version.id))) {
      const keys = await shelf.index("document").getAllKeys(id);
      for (const key of keys.slice(0, -most)) shelf.delete(key);
    }
    const all = await shelf.getAllKeys();
    for (const key of all.slice(0, -mostOfAll)) shelf.delete(key);
    await change.done;
  }

  /** Keep a recorded track, by the digest of its bytes. @param {import("./tracks.js").Kept} track */
  async putTrack(track) {
    await (await this.#reached())?.put("tracks", track);
  }

  /** Every recorded track. @returns {Promise<import("./tracks.js").Kept[]>} */
  async tracks() {
    return (await (await this.#reached())?.getAll("tracks")) ?? [];
  }

  /** @param {string} digest */
  async dropTrack(digest) {
    await (await this.#reached())?.delete("tracks", digest);
  }

  /** What a document was, or every one of them, oldest first. @param {string} [id] @returns {Promise<any[]>} */
  async history(id) {
    const db = await this.#reached();
    if (!db) return [];
    return id === undefined ? await db.getAll("history") : await db.getAllFromIndex("history", "document", id);
  }
}
