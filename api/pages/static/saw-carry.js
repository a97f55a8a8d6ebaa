// What a tablet carries to the bench: every bar that is still to be cut, and, where the browser allows it
// (https, or this machine itself), the pages for a reload without a connection.

import { barsOf } from "./saw-bench.js";

const CACHE = "saw";
const PATIENCE = 4_000;
const PLANS = 4;

/** Fetch a page's bars; undefined when it cannot be had now. */
export async function fetchBars(address, patience = PATIENCE) {
  try {
    const response = await fetch(address, { headers: { Accept: "text/html" }, signal: AbortSignal.timeout(patience) });
    return response.ok && !response.redirected ? barsOf(await response.text()) : undefined;
  } catch {
    return undefined;
  }
}

/** Let the worker stand in for the service while it cannot be reached; false where there are no workers. */
export async function carryPages(plan) {
  if (!navigator.serviceWorker) return false;
  try {
    await navigator.serviceWorker.register("/saw-worker.js", { scope: "/plans/" });
    const own = performance.getEntriesByType("resource").map((entry) => new URL(entry.name));
    const parts = own.filter((url) => url.origin === location.origin && url.pathname.startsWith("/static/"));
    const pages = [`/plans/${plan}/saw`, `/plans/${plan}/saw/sheets`, location.pathname];
    const cache = await caches.open(CACHE);
    await Promise.all([...new Set([...pages, ...parts.map((url) => url.pathname + url.search)])].map((one) => keep(cache, one)));
    await tidy(cache);
    return true;
  } catch {
    return false;
  }
}

async function keep(cache, address) {
  const response = await fetch(address, { headers: { Accept: "text/html, */*" } });
  if (!response.ok || response.redirected) return;
  // A file of an older version has the same path and another digest behind it.
  await cache.delete(address, { ignoreSearch: true });
  await cache.put(address, response);
}

/** Let go of the plans that have not been at this saw for longest. */
async function tidy(cache) {
  const kept = (await cache.keys()).map((request) => new URL(request.url).pathname);
  const pages = kept.filter((path) => path.startsWith("/plans/")).reverse();
  const plans = [...new Set(pages.map((path) => path.split("/")[2]))];
  const old = plans.slice(PLANS);
  await Promise.all(pages.filter((path) => old.includes(path.split("/")[2])).map((path) => cache.delete(path)));
}
