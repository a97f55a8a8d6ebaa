// Stands in for the service on the pages of the saw while it cannot be reached: the service first, always;
// what was kept, only when no answer comes. Reports never pass through here.

const CACHE = "saw";
const PATIENCE = 4_000;
const PAGE = /^\/plans\/[0-9a-f]{32}\/saw(\/.*)?$/;

self.addEventListener("install", () => self.skipWaiting());
self.addEventListener("activate", (event) => event.waitUntil(self.clients.claim()));

self.addEventListener("fetch", (event) => {
  const url = new URL(event.request.url);
  const page = PAGE.test(url.pathname);
  const ours = url.origin === self.location.origin && (page || url.pathname.startsWith("/static/"));
  if (ours && event.request.method === "GET") event.respondWith(answer(event.request, url, page));
});

async function answer(request, url, page) {
  const cache = await caches.open(CACHE);
  const kept = await cache.match(page ? url.pathname : request);
  try {
    // Without anything kept there is nothing to hurry for.
    const response = await fetch(request, kept ? { signal: AbortSignal.timeout(PATIENCE) } : {});
    if (response.ok && !response.redirected) await cache.put(page ? url.pathname : request, response.clone());
    return response;
  } catch (why) {
    // The page of all open bars shows the one that its address names.
    const other = kept ?? (page && (await cache.match(url.pathname.replace(/\/saw(\/.*)?$/, "/saw/sheets"))));
    if (other) return other;
    throw why;
  }
}
