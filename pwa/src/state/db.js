// Where documents are kept on the device: IndexedDB. Without it (some private windows) the app works in memory and
// says that nothing is kept.
import { openDB } from "idb";

/** @typedef {import("idb").IDBPDatabase} IDBPDatabase */

const NAME = "tussock";

export class Shelf {
  /** @type {IDBPDatabase | undefined} */
  #db;
  /** Why nothing can be kept, "" when it can. */
  problem = "";

  async open() {
    try {
      this.#db = await openDB(NAME, 2, {
        upgrade(db, before) {
          if (before < 1) {
            db.createObjectStore("documents");
            db.createObjectStore("kept");
          }
          if (before < 2) db.createObjectStore("history", { autoIncrement: true }).createIndex("document", "id");
        },
        blocking: () => this.#db?.close(),
        terminated: () => {
          this.#db = undefined;
          this.problem = "The browser closed the store.";
        },
      });
    } catch (problem) {
      this.problem = String(problem);
    }
  }

  /** Every stored document. @returns {Promise<any[]>} */
  async documents() {
    return this.#db ? await this.#db.getAll("documents") : [];
  }

  /**
   * Some of them, by id; undefined where there is none.
   * @param {string[]} ids
   * @returns {Promise<any[]>}
   */
  async some(ids) {
    const db = this.#db;
    return db ? await Promise.all(ids.map((id) => db.get("documents", id))) : ids.map(() => undefined);
  }

  /**
   * A thing kept beside the documents: what was open, drafts, the last answers.
   * @param {string} key
   */
  async kept(key) {
    return this.#db ? await this.#db.get("kept", key) : undefined;
  }

  /**
   * Write all of it or nothing. A document that is null is taken away.
   * @param {Map<string, any>} documents
   * @param {Map<string, any>} kept
   */
  async write(documents, kept) {
    if (!this.#db) return;
    try {
      const change = this.#db.transaction(["documents", "kept"], "readwrite");
      for (const [id, document] of documents) {
        const shelf = change.objectStore("documents");
        if (document === null) shelf.delete(id);
        else shelf.put(document, id);
      }
      for (const [key, value] of kept) change.objectStore("kept").put(value, key);
      // Not left to the browser: it may drop what is not committed when the page goes.
      change.commit();
      await change.done;
      this.problem = "";
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
    if (!this.#db) return;
    const change = this.#db.transaction("history", "readwrite");
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

  /** What a document was, or every one of them, oldest first. @param {string} [id] @returns {Promise<any[]>} */
  async history(id) {
    if (!this.#db) return [];
    return id === undefined ? await this.#db.getAll("history") : await this.#db.getAllFromIndex("history", "document", id);
  }
}
