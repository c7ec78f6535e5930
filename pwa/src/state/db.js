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
      this.#db = await openDB(NAME, 1, {
        upgrade(db) {
          db.createObjectStore("documents");
          db.createObjectStore("kept");
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
}
