// For a preview, where every reload must show the newest: lets go of a worker and of files that a published site left
// at the same address.

self.addEventListener('install', () => self.skipWaiting());
self.addEventListener('activate', (event) => event.waitUntil(letGo()));

async function letGo() {
  const prefix = `loomleaf ${new URL('./', self.location.href).pathname} `;
  const names = (await caches.keys()).filter((name) => name.startsWith(prefix));
  await Promise.all(names.map((name) => caches.delete(name)));
  await self.registration.unregister();
}
