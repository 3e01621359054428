// Keeps the whole site on the phone: each publication in a cache of its own, shown only when all of it is there.
// In: requests of the site's pages, and three words from them (`state`, `take`, `use`). Out: files as published, and what
// the pages tell. Publishing puts the publication's name and its list of files in place. Never: a file of another
// publication beside this one's (each is held against its hash), a request to another host.

const PUBLICATION = '%PUBLICATION%';
const LIST = '%LIST%';

/** A deck up to this many bytes, packed, is taken along without being asked. */
const SMALL = 5_000_000;

const root = new URL('./', self.location.href);
const prefix = `loomleaf ${root.pathname} `;
const own = prefix + PUBLICATION;
const mark = new URL('whole', root).href;

/**
 * @typedef {{ bytes: number, first: string[], files: Record<string, [string, number]> }} List
 * `first` is what every page needs; `files` has hash and packed bytes of each path.
 */
/** What went wrong, as the pages call it: `full`, `changed`, `damaged`, `broken`. */
let trouble = '';
let taken = 0;
/** @type {Promise<void> | null} */
let taking = null;

/** What a publication's cache has; asking makes no cache. @param {string} name @param {string} address */
const keptIn = (name, address) => caches.match(address, { cacheName: name });
const isWhole = async (/** @type {string} */ name) => Boolean(await keptIn(name, mark));
const older = async () => (await caches.keys()).filter((name) => name.startsWith(prefix) && name !== own);

/** @param {ArrayBuffer} bytes */
async function hash(bytes) {
  const sum = new Uint8Array(await crypto.subtle.digest('SHA-256', bytes)).slice(0, 10);
  return [...sum].map((byte) => byte.toString(16).padStart(2, '0')).join('');
}

/** @returns {Promise<List>} */
async function list() {
  const address = new URL(LIST, root).href;
  const kept = await keptIn(own, address);
  if (kept) return kept.json();
  const found = await fetch(address);
  if (!found.ok) throw new Error('changed');
  await (await caches.open(own)).put(address, found.clone());
  return found.json();
}

/** One file into the cache: from an older publication where it is the same, else from the network. @param {string} path @param {string} sum */
async function bring(path, sum) {
  const cache = await caches.open(own);
  const address = new URL(path, root).href;
  for (const name of [own, ...await older()]) {
    const kept = await keptIn(name, address);
    if (kept?.headers.get('x-content') !== sum) continue;
    if (name !== own) await cache.put(address, kept);
    return;
  }
  // Some servers know a page only by its folder. What comes damaged is asked for once more, past every cache.
  const ways = new Set([path, path.replace(/index\.html$/, '')]);
  for (const [way, cached] of [...ways].flatMap((way) => [[way, 'no-cache'], [way, 'reload']])) {
    const found = await fetch(new URL(way, root), { cache: cached });
    const bytes = await found.arrayBuffer();
    if (!found.ok || await hash(bytes) !== sum) continue;
    const headers = new Headers(found.headers);
    headers.delete('content-encoding');
    headers.delete('content-length');
    headers.set('x-content', sum);
    await cache.put(address, new Response(bytes, { headers }));
    return;
  }
  throw new Error('changed');
}

/** All these files, four at a time. @param {List} all @param {string[]} paths */
async function bringAll(all, paths) {
  const left = [...paths];
  taken = 0;
  const next = async () => {
    for (let path = left.shift(); path; path = left.shift()) {
      const [sum, bytes] = all.files[path];
      await bring(path, sum);
      taken += bytes;
      if (left.length % 8 === 0) await tell();
    }
  };
  await Promise.all([next(), next(), next(), next()]);
}

/** Why a file was not what the list says: the site still is this publication, is another, or is out of reach. */
const whyOther = () => fetch(new URL('sw.js', root), { cache: 'no-store' }).then((found) => found.text())
  .then((now) => (now.includes(PUBLICATION) ? 'damaged' : 'changed'), () => 'broken');

/** The whole publication; at its end the mark that it is. */
async function take() {
  try {
    trouble = '';
    const all = await list();
    await bringAll(all, Object.keys(all.files));
    await (await caches.open(own)).put(mark, new Response(''));
  } catch (error) {
    const name = error instanceof Error ? error.name : '';
    trouble = name === 'QuotaExceededError' ? 'full' : name === 'Error' ? await whyOther() : 'broken';
    throw error;
  } finally {
    taking = null;
    await tell();
  }
}

/** Tells every page of the site how things stand. */
async function tell() {
  const bytes = await list().then((all) => all.bytes, () => 0);
  const state = { bytes, taken, taking: taking !== null, trouble, whole: await isWhole(own), small: bytes <= SMALL };
  for (const page of await self.clients.matchAll({ includeUncontrolled: true })) page.postMessage(state);
}

async function install() {
  const before = await Promise.all((await older()).map(isWhole));
  // A phone that has a whole site keeps it until all of the new one is there.
  if (before.some(Boolean)) return take();
  // What every page needs; where the phone refuses it, the pages are told when they ask for the whole. A worker that
  // another one stands before waits until its pages are gone or say so: what is typed there is not taken away.
  await list().then((all) => bringAll(all, all.first)).catch(() => {});
}

async function activate() {
  await Promise.all((await older()).map((name) => caches.delete(name)));
  await self.clients.claim();
}

/** @param {Request} request */
async function answer(request) {
  const asked = new URL(request.url);
  const path = asked.pathname.replace(/\/$/, '/index.html');
  const kept = await keptIn(own, new URL(path, root).href);
  if (kept && (path.startsWith(`${root.pathname}assets/`) || await isWhole(own))) return kept;
  const folder = new URL(`${path}/index.html`, root).href;
  if (!kept && request.mode === 'navigate' && await keptIn(own, folder)) return Response.redirect(`${asked.origin}${path}/${asked.search}`);
  const notice = () => Response.redirect(new URL('offline/index.html', root).href);
  const alone = () => kept ?? (request.mode === 'navigate' ? notice() : Response.error());
  // Beside a whole site no page of another publication is shown.
  if (!kept && request.mode === 'navigate' && await isWhole(own)) return notice();
  return fetch(request).catch(alone);
}

self.addEventListener('install', (event) => event.waitUntil(install()));
self.addEventListener('activate', (event) => event.waitUntil(activate()));
self.addEventListener('fetch', (event) => {
  if (event.request.method === 'GET' && event.request.url.startsWith(root.href)) event.respondWith(answer(event.request));
});
self.addEventListener('message', (event) => {
  if (event.data === 'use') event.waitUntil(self.skipWaiting());
  else if (event.data === 'take' && taking === null) event.waitUntil((taking = take()).catch(() => {}));
  else event.waitUntil(tell());
});
