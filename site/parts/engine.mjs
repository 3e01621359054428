// The engine in the page: asked by verb, loaded when it is first asked, renewed when it fails.
//
// Parts of a page import `ask` and nothing else. Numbers and words are the engine's; this file only
// carries them to and fro.

/** @typedef {{circuit: string, readings: [string, string][], skip?: string[]}} Diagnose */
/** @typedef {{calculator: string, given: Record<string, string>}} Reckon */

/** Longest wait for one answer; a card takes a slow phone some seconds. */
const PATIENCE = 60_000;

const WASM = new URL("../engine/bench.wasm", import.meta.url);
const WORKER = new URL("./engine-worker.mjs", import.meta.url);

/**
 * Each verb's texts, in the order the engine takes them.
 * @type {Record<string, (value: any) => Promise<string[]>>}
 */
const VERBS = {
  diagnose: async (/** @type {Diagnose} */ { circuit, readings, skip = [] }) => [
    await text(circuit),
    String(readings.length),
    ...readings.flat(),
    ...skip,
  ],
  reckon: async (/** @type {Reckon} */ { calculator, given }) => {
    const pairs = Object.entries(given);
    return [calculator, String(pairs.length), ...pairs.flat()];
  },
};

/**
 * Asks the engine. Rejects where it could not be loaded, where it failed, or where it refused the
 * question; the next question starts it anew.
 * @param {"diagnose" | "reckon"} verb
 * @param {Diagnose | Reckon} value
 * @returns {Promise<any>} the report, as the terminal's `--json` has it
 */
export async function ask(verb, value) {
  const [engine, texts] = await Promise.all([loaded(), VERBS[verb](value)]);
  const { answer, refused } = JSON.parse(await engine.send([verb, ...texts]));
  if (refused !== undefined) throw new Error(refused);
  return answer;
}

/** @type {Promise<Engine> | undefined} */
let current;
/** The engine that was started last. @type {Engine | undefined} */
let latest;

/** The running engine, or a new one. */
function loaded() {
  current ??= start();
  const own = current;
  own.catch(() => forget(own));
  return own;
}

/** @param {Promise<Engine>} failed */
function forget(failed) {
  if (current === failed) current = undefined;
}

async function start() {
  const engine = new Engine();
  latest = engine;
  try {
    engine.worker.postMessage({ module: await compiled() });
    return engine;
  } catch (error) {
    engine.end(error);
    throw error;
  }
}

async function compiled() {
  const answer = await got(WASM);
  // A host that gives the file another type still serves its bytes.
  return answer.headers.get("content-type") === "application/wasm"
    ? WebAssembly.compileStreaming(answer)
    : WebAssembly.compile(await answer.arrayBuffer());
}

/** @param {URL | string} address */
async function got(address) {
  const answer = await fetch(address);
  if (!answer.ok) throw new Error(`could not load ${address}: ${answer.status}`);
  return answer;
}

/** Texts of circuits by address, each fetched once. @type {Map<string, Promise<string>>} */
const texts = new Map();

/** @param {string} address */
function text(address) {
  const known = texts.get(address) ?? got(address).then((answer) => answer.text());
  texts.set(address, known);
  known.catch(() => texts.delete(address));
  return known;
}

/** A worker, and who waits for it. */
class Engine {
  worker = new Worker(WORKER, { type: "module" });
  /** @type {Map<number, {resolve: (answer: string) => void, reject: (error: unknown) => void}>} */
  waiting = new Map();
  asked = 0;

  constructor() {
    this.worker.onmessage = ({ data: { id, answer, failed } }) => {
      const one = this.waiting.get(id);
      this.waiting.delete(id);
      if (failed === undefined) one?.resolve(answer);
      else one?.reject(new Error(failed));
    };
    this.worker.onerror = (event) => this.end(new Error(event.message || "the engine could not start"));
  }

  /** @param {string[]} texts @returns {Promise<string>} */
  send(texts) {
    const id = ++this.asked;
    const late = setTimeout(() => this.end(new Error("the engine took too long")), PATIENCE);
    return new Promise((resolve, reject) => {
      this.waiting.set(id, { resolve, reject });
      this.worker.postMessage({ id, texts });
    }).finally(() => clearTimeout(late));
  }

  /** Ends the worker and all waits on it. @param {unknown} error */
  end(error) {
    this.worker.terminate();
    if (latest === this) current = undefined;
    for (const one of this.waiting.values()) one.reject(error);
    this.waiting.clear();
  }
}
