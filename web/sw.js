// One cache per build, filled only with files whose hash is the build's own. A new worker waits
// until the page, with no job open, lets it take over. @BUILD@ and @FILES@ come from the build.
'use strict';
const kBuild = '@BUILD@';
const kFiles = @FILES@;   // path -> SHA-256, hexadecimal
const kCache = 'kickplate-' + kBuild;

async function hash(bytes) {
  const digest = new Uint8Array(await crypto.subtle.digest('SHA-256', bytes));
  return Array.from(digest, (byte) => byte.toString(16).padStart(2, '0')).join('');
}

async function fill() {
  const cache = await caches.open(kCache);
  await Promise.all(Object.keys(kFiles).map(async (path) => {
    const answer = await fetch(path, { cache: 'reload' });
    if (!answer.ok) throw new Error(path + ': ' + answer.status);
    if (await hash(await answer.clone().arrayBuffer()) !== kFiles[path]) {
      throw new Error(path + ' is of another build');
    }
    await cache.put(path, answer);
  }));
}

self.addEventListener('install', (event) => {
  event.waitUntil(fill().catch(async (error) => {
    await caches.delete(kCache);
    throw error;
  }));
});

self.addEventListener('activate', (event) => {
  event.waitUntil((async () => {
    for (const name of await caches.keys()) {
      if (name.startsWith('kickplate-') && name !== kCache) await caches.delete(name);
    }
    await self.clients.claim();
  })());
});

self.addEventListener('message', (event) => {
  if (event.data === 'take over') self.skipWaiting();
});

self.addEventListener('fetch', (event) => {
  const url = new URL(event.request.url);
  if (event.request.method !== 'GET' || url.origin !== self.location.origin) return;
  const base = new URL(self.registration.scope).pathname;
  let path = url.pathname.slice(base.length);
  if (path === '' && event.request.mode === 'navigate') path = 'index.html';
  if (!Object.hasOwn(kFiles, path)) return;
  event.respondWith((async () => {
    const cache = await caches.open(kCache);
    return (await cache.match(path)) || fetch(event.request);
  })());
});
