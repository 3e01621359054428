// The engine at work, beside the page: an instance of the compiled module, thrown away when it fails.
//
// As a worker it is told by messages; imported by a page it does the same there, which the tests use.

/** @type {WebAssembly.Module | undefined} */
let module;
/** @type {Record<string, any> | undefined} */
let exports;

const encoder = new TextEncoder();
const decoder = new TextDecoder();

/** The module to make instances of. @param {WebAssembly.Module} given */
export function use(given) {
  module = given;
  exports = undefined;
}

/**
 * The engine's answer to a question's texts.
 * @param {string[]} texts
 * @returns {Promise<string>}
 */
export async function answer(texts) {
  if (!module) throw new Error("the engine is not loaded");
  exports ??= (await WebAssembly.instantiate(module)).exports;
  try {
    return asked(exports, texts);
  } catch (error) {
    // It stopped half-way: what it holds can't be trusted.
    exports = undefined;
    throw error;
  }
}

/** @param {Record<string, any>} engine @param {string[]} texts */
function asked(engine, texts) {
  const parts = texts.flatMap((text) => {
    const bytes = encoder.encode(text);
    return [encoder.encode(`${bytes.length}:`), bytes];
  });
  const length = parts.reduce((sum, part) => sum + part.length, 0);
  let place = engine.room(length);
  for (const part of parts) {
    new Uint8Array(engine.memory.buffer, place, part.length).set(part);
    place += part.length;
  }
  const long = engine.ask();
  return decoder.decode(new Uint8Array(engine.memory.buffer, engine.answer(), long));
}

if (!("document" in globalThis)) {
  addEventListener("message", async ({ data }) => {
    if (data.module) {
      use(data.module);
      return;
    }
    try {
      postMessage({ id: data.id, answer: await answer(data.texts) });
    } catch (error) {
      postMessage({ id: data.id, failed: String(error) });
    }
  });
}
