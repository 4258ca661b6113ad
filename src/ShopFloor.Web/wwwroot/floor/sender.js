// Sends kept taps to the server, one after the other in the order of tapping, until each has its answer.

import * as store from "./store.js";

const pauses = [2, 4, 8, 15, 30];
let failures = 0;
let timer = 0;
let isSending = false;
let isAgain = false;

/** Called after every change of the outbox and after every answer that changed the job. */
let changed = async () => {};
let answered = async () => {};

export function listen(onChanged, onAnswered) {
  changed = onChanged;
  answered = onAnswered;
}

/** Tries to empty the outbox now; asked again while it runs, it runs once more. */
export async function send() {
  if (isSending) {
    isAgain = true;
    return;
  }

  isSending = true;
  clearTimeout(timer);
  try {
    do {
      isAgain = false;
      await inOneTabOnly(sendAll);
    } while (isAgain);
    failures = 0;
  } catch {
    // No connection, or a server that is just starting: the taps stay and are tried again.
    failures++;
    timer = setTimeout(send, pauses[Math.min(failures, pauses.length) - 1] * 1000);
  } finally {
    isSending = false;
    await changed();
  }
}

// Where the browser knows locks, two open tabs do not send the same tap at once (the server would recognise it anyway).
const inOneTabOnly = (work) => (navigator.locks ? navigator.locks.request("shopfloor-outbox", work) : work());

async function sendAll() {
  const waiting = (await store.all()).filter((tap) => tap.state === "waiting");
  if (waiting.length === 0) {
    return;
  }

  const session = await ask();
  // A tap that the server stumbles over keeps back the later ones of its own car only.
  const stuck = new Set();
  let stumble = null;
  for (const tap of waiting) {
    if (stuck.has(carOf(tap))) {
      continue;
    }

    if (!session || (tap.person && tap.person !== session.person)) {
      // Only the person who tapped may send it.
      await store.keep({ ...tap, note: session ? `Waits until ${tap.name} signs in here again.` : "Sign in to send it." });
      continue;
    }

    try {
      await sendOne(tap, session.token);
    } catch (problem) {
      if (!(problem instanceof Stumble)) {
        throw problem;
      }

      stuck.add(carOf(tap));
      stumble = problem;
    }
  }

  if (stumble) {
    throw stumble;
  }
}

/** The server answered, but neither with yes nor with no: to be tried again. */
class Stumble extends Error {}

/** The job's part of a tap's address: /floor/jobs/{id}/… or /inspection/{id}/… */
const carOf = (tap) => /[0-9a-f-]{36}/.exec(tap.url)?.[0];

/** Who is signed in, and the token their commands need; null where nobody is. */
async function ask() {
  const response = await fetch("/floor/session", { redirect: "manual", cache: "no-store" });
  if (response.ok) {
    return response.json();
  }

  if (response.type === "opaqueredirect" || response.status === 401 || response.status === 403) {
    return null;
  }

  throw new Error("no session");
}

/** What of a tap is sent. */
function contentOf(tap, token) {
  const headers = { "X-CSRF-TOKEN": token, "Idempotency-Key": tap.key, "X-Device": tap.device };
  let body;
  if (tap.file) {
    body = new FormData();
    body.append("file", tap.file, tap.fileName);
    body.append("kind", "operation");
    body.append("operation", tap.operation);
    body.append("occurredAt", tap.occurredAt);
  } else if (tap.fields) {
    body = new FormData();
    for (const [name, value] of tap.fields) {
      body.append(name, value);
    }
  } else {
    headers["Content-Type"] = "application/json";
    body = JSON.stringify({ occurredAt: tap.occurredAt, ...tap.body });
  }

  return { headers, body };
}

async function sendOne(tap, token) {
  let content;
  try {
    content = contentOf(tap, token);
  } catch {
    // Damaged on this device: it must not keep back all others for ever.
    await store.keep({ ...tap, state: "refused", note: "It cannot be read any more on this device. Enter it again." });
    return;
  }

  const response = await fetch(tap.url, { method: "POST", ...content, redirect: "manual" });
  if (response.ok) {
    await store.drop(tap.id);
    await changed();
    await answered();
    return;
  }

  if (response.status === 429 || response.status >= 500 || response.type === "opaqueredirect") {
    throw new Stumble(`answer ${response.status}`);
  }

  const problem = await response.json().catch(() => null);
  await store.keep({ ...tap, state: "refused", note: problem?.detail ?? `The server refused it (${response.status}).` });
  await answered();
}
