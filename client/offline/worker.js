/**
 * The service worker: the page starts without its server, and says so. It holds the shell and the hashed
 * files of one build, never an answer of the API. The shell comes from the server whenever that answers, so
 * that nobody is left with an old one. Plain JavaScript, in a world of its own; the build puts `BUILT` before
 * it: its version, and the files that belong to it.
 */
const { version, files } = self.BUILT;
const CACHE = `plateau-${version}`;
const SHELL = '/';
/** Longer than this nobody waits for a server that does not answer, ms. */
const PATIENCE_MS = 4000;

self.addEventListener('install', (event) => {
  event.waitUntil(
    (async () => {
      const cache = await caches.open(CACHE);
      await cache.addAll([SHELL, ...files]);
      await self.skipWaiting();
    })(),
  );
});

self.addEventListener('activate', (event) => {
  event.waitUntil(
    (async () => {
      for (const name of await caches.keys()) if (name !== CACHE) await caches.delete(name);
      await self.clients.claim();
    })(),
  );
});

self.addEventListener('fetch', (event) => {
  const { request } = event;
  const { origin, pathname } = new URL(request.url);
  if (request.method !== 'GET' || origin !== self.location.origin) return;
  if (request.mode === 'navigate') {
    if (pathname === SHELL) event.respondWith(shell(request));
  } else if (files.includes(pathname)) {
    event.respondWith(held(pathname).then((found) => found ?? fetch(request)));
  }
});

/** As the server has it now, else as it was. */
async function shell(request) {
  try {
    return await fetch(request, { signal: AbortSignal.timeout(PATIENCE_MS) });
  } catch {
    return (await held(SHELL)) ?? Response.error();
  }
}

async function held(path) {
  const cache = await caches.open(CACHE);
  return cache.match(path, { ignoreVary: true });
}

// A touch on a notification brings the page to the front.
self.addEventListener('notificationclick', (event) => {
  event.notification.close();
  event.waitUntil(
    (async () => {
      const [page] = await self.clients.matchAll({ type: 'window', includeUncontrolled: true });
      await (page === undefined ? self.clients.openWindow(SHELL) : page.focus());
    })(),
  );
});
