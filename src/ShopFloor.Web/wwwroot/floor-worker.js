// Keeps the last copy of the floor's pages and their parts, and serves it while the server cannot be reached.

const cacheName = "floor";
const patience = 5000;

self.addEventListener("install", () => self.skipWaiting());
self.addEventListener("activate", (event) => event.waitUntil(self.clients.claim()));

self.addEventListener("fetch", (event) => {
  const { method, url } = event.request;
  const { origin, pathname } = new URL(url);
  const isPage = ["/floor", "/floor/hot-work", "/floor/day", "/floor/paper"].includes(pathname) || /^\/floor\/jobs\/[^/]+(\/parts)?$/.test(pathname) || /^\/inspection(\/[^/]+)?$/.test(pathname);
  const isPart = /\.(css|js|svg)$/.test(pathname);
  if (method === "GET" && origin === self.location.origin && (isPage || isPart)) {
    event.respondWith(newestOf(event.request, isPage));
  }
});

async function newestOf(request, isPage) {
  const kept = await caches.open(cacheName);
  // A page that is open asks for what is new: an old copy would set its clock and its state back.
  const copy = isPage && request.mode !== "navigate" ? undefined : await kept.match(request.url, { ignoreVary: true });
  try {
    // A slow server is given up only where there is something to show instead.
    const response = await fetch(request, copy ? { signal: AbortSignal.timeout(patience) } : {});
    if (response.ok && !response.redirected) {
      // Read to its end first: a copy that breaks off with the connection would take the place of the whole one.
      const { status, statusText, headers } = response;
      await kept.put(request.url, new Response(await response.clone().blob(), { status, statusText, headers }));
    } else if (isPage && (response.redirected || response.type === "opaqueredirect")) {
      // Signed out: nobody reads old pages on this device.
      await caches.delete(cacheName);
    }

    return response;
  } catch (problem) {
    if (copy) {
      return copy;
    }

    if (!isPage || request.mode !== "navigate") {
      throw problem;
    }

    const text = "<!DOCTYPE html><meta charset=utf-8><meta name=viewport content='width=device-width'><title>No connection</title><h1>No connection</h1><p>This page was not open on this device before. Taps made on other pages are kept. <a href=/floor>Cars in the shop</a></p>";
    return new Response(text, { status: 503, headers: { "Content-Type": "text/html; charset=utf-8" } });
  }
}
