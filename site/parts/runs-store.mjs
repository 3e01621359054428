// Runs kept on this phone: one record a run, on the disk before the next step. Nothing leaves the phone.
//
// A phone may refuse to keep anything (private windows) or be full: each call then rejects, and who asked says so.

/**
 * A run: a card worked through on one vehicle.
 * @typedef {{id: string, card: string, title: string, codes: string, path: string, circuit: string, vehicle: string,
 *   started: string, changed: string, readings: [string, string][], skip: string[], verdict: string}} Run
 */

const SHELF = "runs";

/** @returns {Promise<IDBDatabase>} */
function opened() {
  return new Promise((resolve, reject) => {
    const asked = indexedDB.open("bench", 1);
    asked.onupgradeneeded = () => asked.result.createObjectStore(SHELF, { keyPath: "id" });
    asked.onsuccess = () => resolve(asked.result);
    asked.onerror = () => reject(asked.error);
    asked.onblocked = () => reject(new Error("another tab holds an older store"));
  });
}

/**
 * One step on the shelf; done when the disk has it.
 * @param {IDBTransactionMode} mode
 * @param {(shelf: IDBObjectStore, refuse: (why: string) => void) => IDBRequest} step
 * @returns {Promise<any>}
 */
async function on(mode, step) {
  const store = await opened();
  try {
    return await new Promise((resolve, reject) => {
      const transaction = store.transaction(SHELF, mode, { durability: "strict" });
      let why = "";
      const refuse = (/** @type {string} */ says) => {
        why = says;
        transaction.abort();
      };
      const asked = step(transaction.objectStore(SHELF), refuse);
      transaction.oncomplete = () => resolve(asked.result);
      transaction.onabort = () => reject(why || transaction.error);
    });
  } finally {
    store.close();
  }
}

/**
 * Changes a run as it lies on the shelf, which another tab may have changed since; rejects with `gone` where it was
 * there and is no more. Answers the run as it lies there now.
 * @param {Run} run
 * @param {(run: Run) => Run} apply
 * @param {boolean} there whether it was kept before
 * @returns {Promise<Run>}
 */
export async function alter(run, apply, there) {
  let now = run;
  await on("readwrite", (shelf, refuse) => {
    const asked = shelf.get(run.id);
    asked.onsuccess = () => {
      if (there && !asked.result) return refuse("gone");
      if (asked.result) now = apply(asked.result);
      shelf.put(now);
    };
    return asked;
  });
  return now;
}

/** @param {string} id @returns {Promise<Run | undefined>} */
export const kept = (id) => on("readonly", (shelf) => shelf.get(id));

/** @param {string} id */
export const forget = (id) => on("readwrite", (shelf) => shelf.delete(id));

/** All runs, the latest first. @returns {Promise<Run[]>} */
export async function kepts() {
  /** @type {Run[]} */
  const runs = await on("readonly", (shelf) => shelf.getAll());
  return runs.sort((a, b) => b.changed.localeCompare(a.changed));
}

/** Day and minute where the phone is: `2026-11-25 21:20`. @param {string} at */
export const moment = (at) => new Date(at).toLocaleString("sv").slice(0, 16);
