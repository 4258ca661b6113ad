// Makes the floor pages live: taps go into the outbox first, changes of others arrive by server-sent events, timers tick.

import * as store from "./store.js";
import { listen, send } from "./sender.js";
import { notTaken, show } from "./outbox-view.js";
import { keep } from "./keeping.js";
import * as acting from "./acting.js";
import * as drafts from "./drafts.js";
import { keepForOffline } from "./offline.js";
import { keepFileFields, keepFocusedField, noFinger } from "./press.js";

const linkState = document.getElementById("link-state");
const session = document.getElementById("session").dataset;
let isLinked = false;
let offset = Number(localStorage.getItem("shopfloor-clock") ?? 0);

/** The server's time as far as this device knows it: a tablet's clock may be wrong. */
const now = () => new Date(Date.now() - offset);

function readClock(root) {
  const at = root.querySelector("[data-now]")?.dataset.now;
  if (at && isLinked) {
    offset = Date.now() - Date.parse(at);
    localStorage.setItem("shopfloor-clock", String(offset));
  }
}

function device() {
  let name = localStorage.getItem("shopfloor-device");
  if (!name) {
    name = `floor ${store.newKey().slice(0, 6)}`;
    localStorage.setItem("shopfloor-device", name);
  }

  return name;
}

const { signedIn, readSession } = acting;
const showTapper = () => acting.showTapper(document.querySelector(".floor-who"));

function setLinked(linked) {
  isLinked = linked;
  linkState.dataset.linked = linked;
  const lost = window.isSecureContext ? "" : " This address is not secure (no https): after a reload without connection nothing is shown.";
  linkState.textContent = linked ? "Connected" : `No connection. Taps are saved here.${lost}`;
}

/** A form that is being filled in is never replaced under somebody's hands. */
const isBeingFilledIn = () => document.querySelector("#live [data-keep]") !== null;

let kept;
let keptUntil;

/** A form that is sent by the page itself is kept while somebody chooses; two minutes after the last touch the page is made anew after all. */
document.addEventListener("input", (event) => {
  const form = event.target.closest('#live form[method="post"], #live .keep-typed');
  if (!form || (form.hasAttribute("data-keep") && form !== kept)) {
    return;
  }

  kept = form;
  form.setAttribute("data-keep", "");
  clearTimeout(keptUntil);
  keptUntil = setTimeout(() => {
    form.removeAttribute("data-keep");
    void refreshSoon();
  }, 120_000);
});

/** Loads the page's content anew and puts it in place; what is half typed lives outside of it. */
async function refresh() {
  if (isBeingFilledIn()) {
    return;
  }

  const response = await fetch(location.href, { redirect: "manual", cache: "no-store", headers: { Accept: "text/html" } });
  if (!response.ok) {
    if (response.status >= 500) {
      throw new Error(`answer ${response.status}`);
    }

    return;
  }

  const page = new DOMParser().parseFromString(await response.text(), "text/html");
  readSession(page);
  showTapper();
  const fresh = page.getElementById("live");
  if (fresh) {
    await noFinger();
    if (isBeingFilledIn()) {
      return;
    }

    const focused = document.activeElement?.closest("[data-tap]")?.dataset;
    const opened = [...document.querySelectorAll("#live details[open]")].map((d) => d.id);
    const made = document.createDocumentFragment();
    made.append(...fresh.childNodes);
    keepFileFields(document.getElementById("live"), made);
    const focusField = keepFocusedField(document.getElementById("live"), made);
    document.getElementById("live").replaceChildren(made);
    opened.forEach((id) => document.getElementById(id)?.setAttribute("open", ""));
    focusField();
    readClock(document);
    if (focused) {
      document.querySelector(`[data-tap="${focused.tap}"][data-code="${focused.code}"]`)?.focus();
    }

    tick();
    tickReminders();
    tickWatches();
    drafts.restoreAll();
    showScan();
    document.dispatchEvent(new Event("shopfloor-fresh"));
    await show();
  }
}

let refreshing = Promise.resolve();
let isDue = false;
let again = 0;
function refreshSoon() {
  if (!isDue) {
    isDue = true;
    clearTimeout(again);
    refreshing = refreshing.then(() => {
      isDue = false;
      return refresh().catch(() => {
        // What was announced must be seen: nobody announces it a second time. Without a connection the next one asks anyway.
        if (isLinked) {
          again = setTimeout(refreshSoon, 2000);
        }
      });
    });
  }

  return refreshing;
}

let events;
let heardAt = 0;

function hear() {
  events?.close();
  events = new EventSource("/floor/changes");
  const heard = () => (heardAt = Date.now());
  heard();
  events.onopen = () => {
    heard();
    setLinked(true);
    // From here on a PIN can be checked: what was kept for others waits for theirs.
    acting.stop();
    showTapper();
    void refreshSoon();
    void send();
  };
  events.onmessage = () => {
    heard();
    void refreshSoon();
  };
  events.addEventListener("beat", heard);
  events.onerror = () => {
    setLinked(false);
    if (events.readyState === EventSource.CLOSED) {
      setTimeout(hear, 5000);
    }
  };
}

/** A dead connection may look open for long: the server says a word every 15 seconds. */
function checkLink() {
  if (Date.now() - heardAt > 40000) {
    setLinked(false);
    hear();
  }
}

function tick() {
  for (const timer of document.querySelectorAll(".timer")) {
    const minutes = Math.max(0, Math.floor((now() - Date.parse(timer.dataset.since)) / 60000));
    timer.textContent = `${Math.floor(minutes / 60)}:${String(minutes % 60).padStart(2, "0")} h`;
  }
}

/** What is said only from a time on: the end of the shift. */
function tickReminders() {
  for (const reminder of document.querySelectorAll("[data-from]")) {
    reminder.hidden = now() < Date.parse(reminder.dataset.from);
  }
}

/** How much of a fire watch is left; its end is the server's to say. */
function tickWatches() {
  for (const left of document.querySelectorAll(".watch-left")) {
    const seconds = Math.ceil((Date.parse(left.dataset.until) - now()) / 1000);
    left.textContent = seconds > 0 ? `${Math.floor(seconds / 60)}:${String(seconds % 60).padStart(2, "0")} min left` : "time is over";
    if (seconds <= 0 && !left.dataset.over) {
      left.dataset.over = "yes";
      void refreshSoon();
    }
  }
}

async function tapped(tap, button, body = {}, photo = {}) {
  const job = document.getElementById("job").dataset.job;
  const { code, title } = button?.dataset ?? {};
  notTaken.delete(code);
  await keep({
    key: store.newKey(),
    hot: tap !== "stop" && button !== null && "hot" in button.dataset,
    url: code ? `/floor/jobs/${job}/operations/${code}/${tap}${photo.fields ? "-with-photo" : ""}` : `/floor/jobs/${job}/photos`,
    tap, job, code, title, body, ...photo,
    car: document.querySelector("h1").textContent,
    person: session.person, name: session.name, device: device(),
    occurredAt: now().toISOString(), tappedAt: Date.now(), state: "waiting",
  });
  await show();
  void send();
}

function askHold(button) {
  const dialog = document.getElementById("hold-dialog");
  document.getElementById("hold-what").textContent = `${button.dataset.code} ${button.dataset.title}`;
  const form = dialog.querySelector("form");
  form.reset();
  form.dataset.about = button.dataset.code;
  drafts.restore(form);
  dialog.returnValue = "";
  dialog.onclose = () => {
    if (dialog.returnValue === "hold") {
      const reason = dialog.querySelector("input[name=cause]:checked").value;
      const note = document.getElementById("hold-note").value.trim();
      const file = document.getElementById("hold-photo").files[0];
      const fields = [["kind", "operation"], ["operation", button.dataset.code], ["reason", reason], ["note", note], ["occurredAt", now().toISOString()]];
      const kept = file ? tapped("hold", button, {}, { fields: [...fields.filter(([, value]) => value !== ""), ["file", file]] }) : tapped("hold", button, { reason, note: note || null });
      // What was typed is dropped only when the tap is kept.
      kept.then(() => drafts.drop(form), () => {});
    } else {
      drafts.drop(form);
    }
  };
  dialog.showModal();
}

/** Taps on one's own day and answers to questions about it: the button carries address and content. */
async function tappedDay(button) {
  const { post, body, title, about, clock } = button.dataset;
  const typed = clock ? document.getElementById(clock) : null;
  if (typed && !typed.reportValidity()) {
    return;
  }

  await keep({
    key: store.newKey(),
    url: post, tap: "day", title: typed ? `${title} ${typed.value}` : title, car: about,
    body: { ...JSON.parse(body ?? "{}"), ...(typed ? { [typed.name]: typed.value } : {}) },
    person: session.person, name: session.name, device: device(),
    occurredAt: now().toISOString(), tappedAt: Date.now(), state: "waiting",
  });
  const form = button.closest(".keep-typed");
  if (form && typed) {
    form.removeAttribute("data-keep");
    drafts.drop(form);
    typed.value = "";
  }

  await show();
  void send();
}

document.addEventListener("click", (event) => {
  const own = event.target.closest("button[data-post]");
  if (own) {
    own.disabled = true;
    void tappedDay(own).catch(() => {}).finally(() => (own.disabled = false));
    return;
  }

  const button = event.target.closest("button[data-tap]");
  if (!button) {
    return;
  }

  const tap = button.dataset.tap;
  if (tap === "hold") {
    askHold(button);
  } else if (!isLinked && "hot" in button.dataset && (tap === "start" || tap === "resume")) {
    notTaken.set(button.dataset.code, "Hot work is not started without a connection: nobody else would know. Wait for it, or tell the others and start when it is back.");
    void show();
  } else {
    button.disabled = true;
    void tapped(tap, button).catch(() => {}).finally(() => (button.disabled = false));
  }
});

document.getElementById("switch-person")?.addEventListener("click", (event) => {
  if (!isLinked) {
    event.preventDefault();
    void acting.choose(signedIn()?.id).then(showTapper);
  }
});

document.addEventListener("change", async (event) => {
  if (event.target.id === "photo-input") {
    const operation = document.getElementById("photo-operation").value;
    for (const file of [...event.target.files]) {
      await tapped("photo", null, {}, { file, fileName: file.name, operation }).catch(() => {});
    }

    event.target.value = "";
  }
});

// A scanner that types sends a whole code in a moment, wherever the page is looked at. Most end it with Enter; a whole address opens its car without one.
let scanned = "";
let scannedAt = 0;
let wholeAddress = 0;
document.addEventListener("keydown", (event) => {
  if (event.target.matches("input, textarea, select") || document.querySelector("dialog[open]")) {
    return;
  }

  // By the time of the key itself: a busy page hears of it later.
  if (event.timeStamp - scannedAt > 150) {
    scanned = "";
  }

  scannedAt = event.timeStamp;
  clearTimeout(wholeAddress);
  if (event.key.length === 1) {
    scanned += event.key;
    if (jobOf(scanned)) {
      wholeAddress = setTimeout(openCar, 300, scanned);
    }
  } else if (event.key === "Enter" && scanned.length >= 6) {
    event.preventDefault();
    openCar(scanned);
  }
});

/** The job in an address of this shop's papers, else undefined. */
const jobOf = (code) => /\/jobs\/([0-9a-f-]{36})/i.exec(code)?.[1].toLowerCase();

/** The car of a code. Without a connection only an address can be followed: number and plates are known to the server. */
function openCar(code) {
  const job = jobOf(code);
  location.assign(job && !isLinked ? `/floor/jobs/${job}` : `/floor/find?code=${encodeURIComponent(code)}`);
}

/** The camera is there only on a secure address: elsewhere it is said why not. */
function showScan() {
  const has = Boolean(navigator.mediaDevices?.getUserMedia);
  document.querySelectorAll("[data-scan]").forEach((button) => (button.hidden = !has));
  document.querySelectorAll("[data-no-scan]").forEach((text) => (text.hidden = has));
}

document.addEventListener("click", async (event) => {
  if (event.target.closest("[data-scan]")) {
    const { scan } = await import("./scan.js");
    const code = await scan();
    if (code) {
      openCar(code);
    }
  }
});

async function prepareOffline() {
  // Under the names by which they are imported.
  const scanner = ["./scan.js", "/lib/qr/decode.js", "/lib/qr/index.js"].map((part) => import.meta.resolve(part));
  // The first page was loaded before the worker; people go to the others also where they have not been yet.
  await keepForOffline("/floor", [location.href, "/floor", "/floor/day", ...scanner]);
}

/** A dialog that was open when the page went away opens again with what was typed in it. */
function reopenHold() {
  const [code] = drafts.aboutOf(document.querySelector("#hold-dialog form"));
  const button = code && document.querySelector(`button[data-tap="hold"][data-code="${code}"]`);
  if (button) {
    askHold(button);
  }
}

listen(show, refreshSoon);
drafts.watch(() => isLinked);
window.addEventListener("offline", () => setLinked(false));
window.addEventListener("online", hear);
document.addEventListener("visibilitychange", () => {
  if (document.visibilityState === "visible") {
    void send();
    void refreshSoon();
  }
});
setLinked(false);
readSession(document);
showTapper();
linkState.textContent = "Connecting …";
tick();
tickReminders();
tickWatches();
setInterval(tick, 10000);
setInterval(tickReminders, 10000);
setInterval(tickWatches, 1000);
setInterval(checkLink, 10000);
drafts.restoreAll();
showScan();
reopenHold();
hear();
void show();
void send();
void prepareOffline().catch(() => {});
