// Taps that the server has not answered yet, kept in the browser's own database: they outlive a reload, a restart and a lost connection.

const database = new Promise((resolve, reject) => {
  const opening = indexedDB.open("shopfloor", 1);
  opening.onupgradeneeded = () => opening.result.createObjectStore("outbox", { keyPath: "id", autoIncrement: true });
  opening.onsuccess = () => resolve(opening.result);
  opening.onerror = () => reject(opening.error);
});

async function run(mode, act) {
  const db = await database;
  return new Promise((resolve, reject) => {
    const transaction = db.transaction("outbox", mode, { durability: "strict" });
    const request = act(transaction.objectStore("outbox"));
    transaction.oncomplete = () => resolve(request.result);
    transaction.onerror = transaction.onabort = () => reject(transaction.error);
  });
}

/** All kept taps, oldest first. */
export const all = () => run("readonly", (store) => store.getAll());

/** Keeps a tap (or its new state); resolves when it is written. */
export const keep = (tap) => run("readwrite", (store) => store.put(tap));

export const drop = (id) => run("readwrite", (store) => store.delete(id));

/** A key that no other tap has; works without a secure context too. */
export function newKey() {
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  return Array.from(bytes, (b) => b.toString(16).padStart(2, "0")).join("");
}
