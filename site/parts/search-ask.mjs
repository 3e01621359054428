// Search asked from a page: a worker started when it is first wanted, and only the newest words are asked.

/** @typedef {{title: string, address: string, line: string, parts: [string, boolean][], why: string[]}} Hit */
/** @typedef {{hits: Hit[], total: number, others: {kind: string, hits: Hit[], total: number}[], left_out: string[], without?: string, missing: {word: string, near: string[]}[], apart: {says: string, left: string, cards: number}[], codes: {code: string, says: string | null, about: string, is_named: boolean}[], none: string | null}} Found */

const WORKER = new URL("./search-worker.mjs", import.meta.url);
/** Longest wait for an answer; a slow phone with a slow line takes a while to load. */
const PATIENCE = 60_000;

export class Asker {
  /** @type {Worker | undefined} */
  worker;
  id = 0;
  /** What is asked once the answer in hand is there. @type {string | undefined} */
  next;
  busy = false;
  /** @type {ReturnType<typeof setTimeout> | undefined} */
  late;

  /**
   * @param {string} pack address of the pack
   * @param {(query: string, found: Found) => void} found
   * @param {(why: string) => void} failed
   */
  constructor(pack, found, failed) {
    this.pack = new URL(pack, location.href).href;
    this.found = found;
    this.failed = failed;
  }

  /** Loads what is needed, without a question. */
  start() {
    if (!this.worker) this.run().postMessage({ pack: this.pack });
  }

  run() {
    this.worker ??= new Worker(WORKER, { type: "module" });
    this.worker.onmessage = ({ data }) => this.told(data);
    this.worker.onerror = (event) => this.end(event.message || "it could not start");
    return this.worker;
  }

  /** Asks, or remembers to: an older question that still waits is never asked. @param {string} query */
  ask(query) {
    this.next = query;
    if (this.busy) return;
    this.busy = true;
    this.query = query;
    this.next = undefined;
    this.late = setTimeout(() => this.end("it took too long"), PATIENCE);
    this.run().postMessage({ id: ++this.id, pack: this.pack, query });
  }

  /** @param {{id?: number, answer?: string, failed?: string}} data */
  told({ id, answer, failed }) {
    if (id !== this.id || !this.busy) return;
    clearTimeout(this.late);
    this.busy = false;
    if (failed !== undefined) return this.end(failed);
    if (this.next !== undefined) return this.ask(this.next);
    this.found(this.query ?? "", JSON.parse(answer ?? "").answer);
  }

  /** Throws the worker away; the next question starts another. @param {string} why */
  end(why) {
    clearTimeout(this.late);
    this.worker?.terminate();
    this.worker = undefined;
    this.busy = false;
    this.next = undefined;
    this.failed(why);
  }
}
