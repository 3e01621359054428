// Search at work, beside the page: engine and pack fetched together, opened, asked.
//
// As a worker it is told by messages; imported by a page it does the same there, which tests and benchmark
// use. A file that arrived damaged, or an engine that stopped, is thrown away and fetched again, once.

const WASM = new URL("../engine/search.wasm", import.meta.url);
/** What the browser holds the engine against when it arrives; publishing puts the sum in. The pack has its own. */
const WHOLE = { integrity: "sha256 ../engine/search.wasm" };

/** @typedef {{memory: WebAssembly.Memory, room: (bytes: number) => number, open: () => number, ask: () => number, answer: () => number}} Exports */

/** @type {Promise<Exports> | undefined} */
let opened;
let address = "";

const encoder = new TextEncoder();
const decoder = new TextDecoder();

/** Opens the pack at an address; once for each. @param {string} pack */
export function open(pack) {
  if (!opened || pack !== address) {
    address = pack;
    const own = loaded(pack, "default").catch(() => loaded(pack, "reload"));
    own.catch(() => { if (opened === own) opened = undefined; });
    opened = own;
  }
  return opened;
}

/**
 * The answer to words as typed.
 * @param {string} pack
 * @param {string} query
 * @returns {Promise<string>}
 */
export async function find(pack, query) {
  try {
    return asked(await open(pack), query);
  } catch (error) {
    if (!(error instanceof WebAssembly.RuntimeError)) throw error;
    // It stopped half-way: what it holds can't be trusted.
    opened = undefined;
    return asked(await open(pack), query);
  }
}

/** @param {string} pack @param {RequestCache} cache @returns {Promise<Exports>} */
async function loaded(pack, cache) {
  const [engine, bytes] = await Promise.all([instance(cache), got(pack, { cache })]);
  write(engine, bytes);
  if (engine.open() !== 1) throw new Error("the search index is damaged");
  return engine;
}

/** @param {RequestCache} cache @returns {Promise<any>} */
async function instance(cache) {
  const bytes = await got(WASM, { cache, ...WHOLE }).catch((cause) => {
    throw new Error("the search engine did not arrive whole", { cause });
  });
  return (await WebAssembly.instantiate(await WebAssembly.compile(bytes))).exports;
}

/** @param {URL | string} from @param {RequestInit} how */
async function got(from, how) {
  const answer = await fetch(from, how);
  if (!answer.ok) throw new Error(`could not load ${from}: ${answer.status}`);
  return new Uint8Array(await answer.arrayBuffer());
}

/** @param {Exports} engine @param {Uint8Array} bytes */
function write(engine, bytes) {
  const place = engine.room(bytes.length);
  new Uint8Array(engine.memory.buffer, place, bytes.length).set(bytes);
}

/** @param {Exports} engine @param {string} query */
function asked(engine, query) {
  write(engine, encoder.encode(query));
  const long = engine.ask();
  return decoder.decode(new Uint8Array(engine.memory.buffer, engine.answer(), long));
}

if (!("document" in globalThis)) {
  addEventListener("message", async ({ data: { id, pack, query } }) => {
    try {
      if (query === undefined) await open(pack);
      else postMessage({ id, answer: await find(pack, query) });
    } catch (error) {
      postMessage({ id, failed: String(error) });
    }
  });
}
