// Tells whether the site is on this phone, and offers what can be done about it. The words stand in the page; this
// shows those that hold. In: what the service worker tells. Out: one line in the page's foot, and an offer where a newer
// publication is there. A page that gets no worker stays as it is.

/**
 * @typedef {{ bytes: number, taken: number, taking: boolean, trouble: string, whole: boolean, small: boolean }} State
 */

const root = new URL('../../', import.meta.url);
const place = document.querySelector('[data-part="offline"]');
const offer = document.querySelector('[data-part="newer"]');

/** @param {string} name @returns {HTMLElement | null | undefined} */
const part = (name) => place?.querySelector(`[data-${name}]`);

let tried = false;
let used = false;
/** Whether another tab has let a newer publication take over. */
let over = false;

/** Only the line of this name. @param {string} name */
function say(name) {
  for (const line of place?.querySelectorAll('[data-when]') ?? []) {
    if (line instanceof HTMLElement) line.hidden = line.dataset.when !== name;
  }
  if (place instanceof HTMLElement) place.hidden = false;
}

/** `3.1 MB`, as the rest of the site writes it. @param {number} bytes */
const megabytes = (bytes) => `${(bytes / 1e6).toFixed(1)}\u00a0MB`;

/** @param {State} state @param {ServiceWorker} worker */
function show(state, worker) {
  for (const size of place?.querySelectorAll('[data-size]') ?? []) size.textContent = megabytes(state.bytes);
  const bar = part('bar');
  if (bar instanceof HTMLProgressElement) Object.assign(bar, { max: state.bytes || 1, value: state.taken });
  if (state.whole) return say('whole');
  if (state.taking) return say('taking');
  if (state.trouble && (tried || state.trouble === 'full')) return say(state.trouble);
  if (!state.small) return say('large');
  // Once a page: what broke off at an earlier page goes on here.
  take(worker);
  return say('taking');
}

/** From now on the page says what becomes of it. @param {ServiceWorker | null} worker */
function take(worker) {
  tried = true;
  worker?.postMessage('take');
}

const offerNewer = () => { if (offer instanceof HTMLElement) offer.hidden = false; };

/** Whether something stands here that loading again would lose. */
const isTyped = () => [...document.querySelectorAll('input, textarea')].some((one) => (
  (one instanceof HTMLTextAreaElement || (one instanceof HTMLInputElement && !one.matches('[type=radio], [type=checkbox]')))
  && one.value !== one.defaultValue));

/** A page that was shown by the worker before is of another publication: it loads again, unless something is typed there;
    then that is offered. */
function takenOver() {
  over = true;
  if (used || !isTyped()) location.reload();
  else offerNewer();
}

/** Offers a publication that lies ready. @param {ServiceWorkerRegistration} kept */
function watch(kept) {
  const ready = () => { if (kept.waiting && kept.active) offerNewer(); };
  offer?.querySelector('[data-use]')?.addEventListener('click', () => {
    used = true;
    if (over) location.reload();
    else kept.waiting?.postMessage('use');
  });
  offer?.querySelector('[data-later]')?.addEventListener('click', () => { if (offer instanceof HTMLElement) offer.hidden = true; });
  ready();
  kept.addEventListener('updatefound', () => kept.installing?.addEventListener('statechange', ready));
  if (navigator.onLine) kept.update().catch(() => {});
}

async function start() {
  const workers = navigator.serviceWorker;
  const before = workers.controller;
  workers.addEventListener('controllerchange', () => { if (before || used) takenOver(); });
  const kept = await workers.register(new URL('sw.js', root), { updateViaCache: 'none' });
  watch(kept);
  const { active } = await workers.ready;
  workers.addEventListener('message', (event) => { if (active && event.source === active) show(event.data, active); });
  workers.startMessages();
  for (const button of place?.querySelectorAll('button') ?? []) button.addEventListener('click', () => take(active));
  active?.postMessage('state');
}

/** Whether the site is out of reach, or the browser refuses it a worker. */
const why = () => fetch(new URL('sw.js', root), { cache: 'no-store' }).then(({ ok }) => (ok ? 'refused' : 'broken'), () => 'broken');

/** Begins; where the network went before there was a worker, again when a person says so. */
async function begin() {
  try {
    await start();
  } catch {
    say(await why());
    for (const button of place?.querySelectorAll('button') ?? []) button.addEventListener('click', begin, { once: true });
  }
}

if (place && 'serviceWorker' in navigator) begin();
else say('refused');
