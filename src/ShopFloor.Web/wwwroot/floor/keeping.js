// Keeps a new tap, or says on the page that it could not be kept.

import * as store from "./store.js";
import { nameOf } from "./outbox-view.js";

/** A tap that could not be kept is no tap: that is said at once, and nothing else is done as if it had been. */
export async function keep(tap) {
  try {
    await store.keep(tap);
    sayLost("");
  } catch (problem) {
    sayLost(`NOT kept: ${nameOf(tap)}. This device has no room for taps (${problem?.name ?? "no database"}). Free some storage, then tap again, or write it on paper.`);
    throw problem;
  }
}

function sayLost(text) {
  const lost = document.getElementById("lost");
  lost.hidden = text === "";
  lost.textContent = text;
}
