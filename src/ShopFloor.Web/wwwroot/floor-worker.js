// Keeps the last copy of the floor's pages and their parts, and serves it while the server cannot be reached.

const cacheName = "floor";
const patience = 5000;

self.addEventListener("install", () => self.skipWaiting());
self.addEventListener("activate", (event) => event.waitUntil(self.clients.claim()));

// A page names what it needs without a connection. It is fetched and kept here: a page that is reloaded while it writes would leave nothing behind, not even the copy that was there.
// A page that was still loading when the worker took over is taken in charge now.
self.addEventListener("message", (event) => event.waitUntil(self.clients.claim().then(() => keepAll(event.data.keep)).then(() => event.source.postMessage("kept"))));

const isPageOf = (pathname) =>
  ["/floor", "/floor/hot-work", "/floor/day", "/floor/paper"].includes(pathname) || /^\/floor\/jobs\/[^/]+(\/parts)?$/.test(pathname) || /^\/inspection(\/[0-9a-f-]{36})?$/i.test(pathname);
const isPartOf = (pathname) => /\.(css|js|svg)$/.test(pathname) || /^\/route-pictures\/[^/]+\/thumbnail$/.test(pathname);

self.addEventListener("fetch", (event) => {
  const { method, url } = event.request;
  const { origin, pathname } = new URL(url);
  const isPage = isPageOf(pathname);
  const isPart = isPartOf(pathname);
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
      await keep(kept, request.url, response.clone());
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

/** Read to its end first: a copy that breaks off with the connection would take the place of the whole one. */
async function keep(kept, url, response) {
  const { status, statusText, headers } = response;
  const whole = new Response(await response.blob(), { status, statusText, headers });
  // A device without room still shows what the server sends.
  await kept.put(url, whole).catch(() => {});
}

/** What is kept already is renewed whenever it is asked for. */
async function keepAll(urls) {
  const kept = await caches.open(cacheName);
  for (const url of urls) {
    const { origin, pathname } = new URL(url, self.location.origin);
    const isWanted = origin === self.location.origin && (isPageOf(pathname) || isPartOf(pathname));
    if (isWanted && !(await kept.match(url, { ignoreVary: true }))) {
      const response = await fetch(url).catch(() => null);
      if (response?.ok && !response.redirected) {
        await keep(kept, url, response);
      }
    }
  }
}
