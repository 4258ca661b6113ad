// Asks the service worker to keep what a page needs for a reload without a connection.

export async function keepForOffline(scope, pages) {
  if (!("serviceWorker" in navigator)) {
    return;
  }

  await navigator.serviceWorker.register("/floor-worker.js", { scope });
  const { active } = await navigator.serviceWorker.ready;
  const parts = performance.getEntriesByType("resource").map((r) => r.name).filter((name) => name.startsWith(location.origin) && /\.(css|js|svg)$/.test(name));
  // Says so on the page: from here on a reload without a connection ends in the same page.
  navigator.serviceWorker.addEventListener("message", () => (document.documentElement.dataset.kept = ""), { once: true });
  navigator.serviceWorker.startMessages();
  active.postMessage({ keep: [...new Set([...pages, ...parts])] });
}
