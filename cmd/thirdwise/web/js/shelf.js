// The exercises that are kept in this browser, each with its earlier texts, so
// that a step back is possible after the page was closed, too.

/** @typedef {{id: string, name: string, text: string, past: string[], future: string[], version: number, changed: number}} Kept */

const database = "thirdwise";
const store = "exercises";
const pastTexts = 200;

/**
 * @template T
 * @param {IDBRequest<T>} request
 * @returns {Promise<T>}
 */
function settled(request) {
  return new Promise((resolve, reject) => {
    request.onsuccess = () => resolve(request.result);
    request.onerror = () => reject(request.error);
  });
}

/** Another window has changed the exercise since it was read here. */
export class ChangedElsewhere extends Error {}

/** The exercises that are kept. */
export class Shelf {
  /** @returns {Promise<Shelf>} */
  static async open() {
    const request = indexedDB.open(database, 1);
    request.onupgradeneeded = () => request.result.createObjectStore(store, { keyPath: "id" });
    return new Shelf(await settled(request));
  }

  /** @param {IDBDatabase} db */
  constructor(db) {
    this.db = db;
  }

  /** All that is kept, the latest first. @returns {Promise<Kept[]>} */
  async all() {
    const kept = await settled(this.db.transaction(store).objectStore(store).getAll());
    return kept.sort((a, b) => b.changed - a.changed);
  }

  /**
   * @param {string} id
   * @returns {Promise<Kept | undefined>}
   */
  read(id) {
    return settled(this.db.transaction(store).objectStore(store).get(id));
  }

  /**
   * Keeps an exercise. It fails where another window kept it in between, and
   * where the storage is full.
   * @param {Kept} exercise its version is raised
   * @param {boolean} force keep it whatever another window did
   */
  async keep(exercise, force = false) {
    exercise.past = exercise.past.slice(-pastTexts);
    const transaction = this.db.transaction(store, "readwrite");
    const objects = transaction.objectStore(store);
    const before = await settled(objects.get(exercise.id));
    if (!force && before && before.version !== exercise.version) throw new ChangedElsewhere();
    const version = (before?.version ?? exercise.version) + 1;
    await settled(objects.put({ ...exercise, version, changed: Date.now() }));
    await new Promise((resolve, reject) => {
      transaction.oncomplete = resolve;
      transaction.onabort = transaction.onerror = () => reject(transaction.error);
    });
    exercise.version = version;
  }

  /** @param {string} id */
  async remove(id) {
    await settled(this.db.transaction(store, "readwrite").objectStore(store).delete(id));
  }
}

/**
 * A new exercise.
 * @param {string} name of its file
 * @param {string} text
 * @returns {Kept}
 */
export function fresh(name, text) {
  return { id: crypto.randomUUID(), name, text, past: [], future: [], version: 0, changed: 0 };
}
