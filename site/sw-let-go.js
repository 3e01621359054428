// For a preview, where every reload must show the newest: lets go of a worker and of files that a published site left
// at the same address. Done while this worker is installed: it would take over only once the old one has nothing in
// hand, which a browser may wait minutes for.

self.addEventListener('install', (event) => event.waitUntil(letGo()));

async function letGo() {
  const prefix = `loomleaf ${new URL('./', self.location.href).pathname} `;
  const names = (await caches.keys()).filter((name) => name.startsWith(prefix));
  await Promise.all(names.map((name) => caches.delete(name)));
  // Not waited for: the browser lets go after this worker is installed.
  self.registration.unregister();
}
