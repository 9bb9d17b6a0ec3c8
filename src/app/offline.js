/* The app without a network: every file of the build is kept at the first visit and answered from there. */
const KEPT = 'lacuna __BUILD__';
const FILES = ['__FILES__'];

self.addEventListener('install', (event) => {
  event.waitUntil(
    caches
      .open(KEPT)
      .then((cache) => cache.addAll(FILES))
      .then(() => self.skipWaiting()),
  );
});

// Older builds go, so that their files do not mix with this one's.
self.addEventListener('activate', (event) => {
  event.waitUntil(
    caches
      .keys()
      .then((names) => Promise.all(names.filter((name) => name !== KEPT).map((name) => caches.delete(name))))
      .then(() => self.clients.claim()),
  );
});

self.addEventListener('fetch', (event) => {
  const address = new URL(event.request.url);
  if (event.request.method !== 'GET' || address.origin !== self.location.origin) return;
  event.respondWith(
    caches
      .open(KEPT)
      .then((cache) => cache.match(event.request, { ignoreSearch: true, ignoreVary: true }))
      .then((kept) => kept ?? fetch(event.request)),
  );
});
