// Taps that the server has not answered yet, kept in the browser's own database: they outlive a reload, a restart and a lost connection.

import * as journal from "./journal.js";

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

const recovered = journal.recover(async (tap) => {
  await run("readwrite", (outbox) => {
    const kept = outbox.getAll();
    kept.onsuccess = () => {
      if (!kept.result.some((one) => one.key === tap.key)) {
        outbox.put(tap);
      }
    };
    return kept;
  });
});

/** All kept taps, oldest first. */
export async function all() {
  await recovered;
  return run("readonly", (store) => store.getAll());
}

/** Keeps a tap (or its new state); resolves when it is written. From the call on, a page that goes away does not take it along. */
export async function keep(tap) {
  const forget = journal.note(tap);
  try {
    await recovered;
    return await run("readwrite", (store) => store.put(tap));
  } finally {
    // Written, or about to be told as not kept: either way it must not come back by itself.
    forget();
  }
}

export const drop = (id) => run("readwrite", (store) => store.delete(id));

/** A key that no other tap has; works without a secure context too. */
export function newKey() {
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  return Array.from(bytes, (b) => b.toString(16).padStart(2, "0")).join("");
}
