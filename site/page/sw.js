// The lines above are written when the site is made: VERSION is a hash of all its bytes, FILES are its files.
const CACHE = `ohmwright-${VERSION}`;
const ALL = ['./', ...FILES.filter((file) => file !== 'index.html')]; // './' is index.html

// Either every file is installed or none is: addAll fails as a whole. Files that the page has just fetched are fetched again only
// if they changed (no-cache).
self.addEventListener('install', (e) => {
  e.waitUntil(caches.open(CACHE).then((cache) => cache.addAll(ALL.map((file) => new Request(file, { cache: 'no-cache' })))));
});

self.addEventListener('activate', (e) => {
  e.waitUntil(
    caches
      .keys()
      .then((names) => Promise.all(names.filter((n) => n.startsWith('ohmwright-') && n !== CACHE).map((n) => caches.delete(n))))
      .then(() => self.clients.claim()),
  );
});

self.addEventListener('message', (e) => {
  if (e.data === 'change') self.skipWaiting();
  if (e.data === 'complete?') {
    e.waitUntil(
      caches
        .open(CACHE)
        .then((cache) => Promise.all(ALL.map((file) => cache.match(file))))
        .then((found) => e.source.postMessage({ complete: found.every(Boolean), version: VERSION })),
    );
  }
});

self.addEventListener('fetch', (e) => {
  const url = new URL(e.request.url);
  if (e.request.method !== 'GET' || url.origin !== self.location.origin) return;
  const asked = e.request.mode === 'navigate' ? './' : e.request;
  e.respondWith(caches.open(CACHE).then((cache) => cache.match(asked, { ignoreSearch: true })).then((kept) => kept ?? fetch(e.request)));
});
