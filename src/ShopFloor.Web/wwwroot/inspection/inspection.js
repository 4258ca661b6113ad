// Makes the inspection page safe on poor Wi-Fi: a reading goes into the device's outbox first and from there to the server.
// Without script (or without the browser's database) the same forms are posted as they are.

import * as store from "/floor/store.js";
import { listen, send } from "/floor/sender.js";
import * as pad from "/Features/Shared/SignaturePad.razor.js";
import * as acting from "/floor/acting.js";
import * as drafts from "/floor/drafts.js";
import { keepForOffline } from "/floor/offline.js";
import { keepFileFields, noFinger } from "/floor/press.js";

const session = document.getElementById("session").dataset;
const box = document.getElementById("outbox");

// How far the device's clock is off. A page that the server just made says so; a kept copy of one must not.
let offset = Number(localStorage.getItem("shopfloor-clock") ?? 0);
const now = () => new Date(Date.now() - offset).toISOString();

function device() {
  let name = localStorage.getItem("shopfloor-device");
  if (!name) {
    name = `bench ${store.newKey().slice(0, 6)}`;
    localStorage.setItem("shopfloor-device", name);
  }

  return name;
}

const timeOf = (tap) => new Date(tap.tappedAt).toLocaleTimeString([], { hour: "2-digit", minute: "2-digit" });

const element = (name, text, attributes = {}) => {
  const made = Object.assign(document.createElement(name), attributes);
  made.textContent = text;
  return made;
};

/** Says at each line what is kept here, and what the server refused. */
async function show() {
  const readings = (await store.all()).filter((tap) => tap.tap === "reading");
  box.dataset.count = readings.length;
  box.replaceChildren(...readings.map(row));
  box.hidden = readings.length === 0;
}

function row(tap) {
  const refused = tap.state === "refused";
  const line = element("div", "", { className: refused ? "problem" : "kept" });
  const kept = tap.hold ? "saved here, not yet sent; work still waits at this hold point" : "saved here, not yet sent";
  const answer = refused ? `refused: ${tap.note}` : (tap.note ?? kept);
  line.append(element("p", `${tap.title} (${tap.car}), entered at ${timeOf(tap)}: ${answer}`));
  if (refused) {
    const away = element("button", "Understood", { type: "button", className: "plain-button" });
    away.onclick = async () => {
      await store.drop(tap.id);
      await show();
    };
    line.append(away);
  }

  return line;
}

function readClock(root) {
  offset = Date.now() - Date.parse(root.getElementById("session").dataset.now);
  localStorage.setItem("shopfloor-clock", String(offset));
}

// With script off, the header keeps the name as the server wrote it.
const showTapper = () => acting.showTapper(document.querySelector(".who"));

let isLinked = true;
const linkState = document.getElementById("link-state");

function setLinked(linked) {
  isLinked = linked;
  linkState.hidden = linked;
  linkState.textContent = linked ? "" : "No connection. Readings are saved here; what they pass counts when they are sent.";
  if (linked) {
    // From here on a PIN can be checked: what was kept for others waits for theirs.
    acting.stop();
  }

  showTapper();
}

/** Asks the server a word; who is signed out is connected too. */
async function checkLink() {
  const wasLinked = isLinked;
  try {
    await fetch("/floor/session", { redirect: "manual", cache: "no-store" });
    setLinked(true);
  } catch {
    setLinked(false);
  }

  if (isLinked && !wasLinked) {
    await refresh().catch(() => {});
    void send();
  }
}

document.getElementById("switch-person")?.addEventListener("click", (event) => {
  if (!isLinked) {
    event.preventDefault();
    void acting.choose(acting.signedIn()?.id).then(showTapper);
  }
});

/** Puts the server's newest state in place; a form somebody is typing into is left alone. */
async function refresh() {
  const response = await fetch(location.pathname, { redirect: "manual", cache: "no-store", headers: { Accept: "text/html" } });
  if (!response.ok) {
    return;
  }

  const page = new DOMParser().parseFromString(await response.text(), "text/html");
  readClock(page);
  acting.readSession(page);
  showTapper();
  await noFinger();
  for (const fresh of page.querySelectorAll("[data-fresh]")) {
    const old = document.getElementById(fresh.id);
    if (old && !isBusy(old)) {
      const placed = document.adoptNode(fresh);
      keepFileFields(old, placed);
      keepAnswer(old, placed);
      old.replaceWith(placed);
      choose(placed);
    }
  }

  offerSignature();
}

const answers = ":scope > [role=status], :scope > [role=alert]";

/** What the server has just answered to a form of this line stays for a minute: it must not go before anybody has read it. */
function keepAnswer(old, placed) {
  const said = old.querySelector(answers);
  if (said && performance.now() < 60_000 && !placed.querySelector(answers)) {
    placed.querySelector("h3")?.after(said);
  }
}

const isBusy = (place) =>
  [...place.querySelectorAll("input:not([type=hidden]), textarea")].some((field) => field.value !== field.defaultValue || field === document.activeElement) ||
  [...place.querySelectorAll("canvas")].some((canvas) => pad.strokes(canvas).length > 0);

document.addEventListener("submit", async (event) => {
  const form = event.target.closest("form.entry");
  if (!form) {
    return;
  }

  event.preventDefault();
  const fields = [...new FormData(form, event.submitter)].filter(
    ([name, value]) => !name.startsWith("__") && !(value instanceof File && value.size === 0),
  );
  const at = now();
  const tap = {
    key: form.elements.key.value,
    url: `${form.getAttribute("action")}/kept`,
    tap: "reading",
    title: form.dataset.title,
    hold: form.dataset.hold === "yes",
    car: document.querySelector("h1").textContent,
    fields: [...fields, ["occurredAt", at]],
    person: session.person, name: session.name, device: device(),
    occurredAt: at, tappedAt: Date.now(), state: "waiting",
  };
  try {
    await store.keep(tap);
  } catch {
    // No room or no database on this device: the plain way, which needs the connection now.
    form.append(Object.assign(document.createElement("input"), { type: "hidden", name: "result", value: event.submitter?.value ?? "" }));
    form.submit();
    return;
  }

  form.closest("[data-fresh]")?.querySelector(answers)?.remove();
  remember(form.elements.instrument);
  form.reset();
  drafts.drop(form);
  choose(form);
  form.elements.key.value = store.newKey();
  await show();
  void send();
});

const chosenKey = (select) => `shopfloor-instrument-${select.dataset.unit}`;

/** The instrument in one's hand is mostly the one of the line before. */
function remember(select) {
  if (select?.value) {
    localStorage.setItem(chosenKey(select), select.value);
  }
}

function choose(place) {
  for (const select of place.querySelectorAll("select[name=instrument]")) {
    const last = localStorage.getItem(chosenKey(select));
    if (!select.value && [...select.options].some((option) => option.value === last)) {
      select.value = last;
    }
  }
}

choose(document);

/** A plain number with a point or a comma, in units of 10⁻⁸ as the server keeps it; null for anything else, which the server reads. */
function exact(text) {
  const found = /^\s*([-+−]?)(\d{1,7})(?:[.,](\d{1,8}))?\s*°?\s*$/.exec(text);
  return found && (/[-−]/.test(found[1]) ? -1n : 1n) * BigInt(found[2] + (found[3] ?? "").padEnd(8, "0"));
}

function spoken(value) {
  const digits = String(value < 0n ? -value : value).padStart(9, "0");
  const decimals = digits.slice(-8).replace(/0+$/, "");
  return `${value < 0n ? "−" : ""}${digits.slice(0, -8)}${decimals && "." + decimals}`;
}

/** Says what the two values of a pair come to, before anything is sent; the server judges. */
function tellDifference(form) {
  const output = form?.querySelector("output.difference");
  if (!output) {
    return;
  }

  const [first, second] = [exact(form.elements.value.value), exact(form.elements.second.value)];
  if (first === null || second === null) {
    output.textContent = "";
    return;
  }

  const { unit, lower, upper, limits } = output.dataset;
  const difference = first - second;
  const out = (lower && difference < exact(lower)) || (upper && difference > exact(upper));
  output.textContent = `Difference ${spoken(difference)} ${unit}: ${out ? "✕ out of" : "✓ within"} ${limits}`;
}

document.addEventListener("input", (event) => tellDifference(event.target.closest("form.entry")));
document.addEventListener("reset", (event) => setTimeout(() => tellDifference(event.target)));

/** The signature's field appears where it can be drawn in; its strokes go with the form. */
function offerSignature() {
  for (const field of document.querySelectorAll("fieldset.signature[hidden]")) {
    const canvas = field.querySelector("canvas");
    field.hidden = false;
    pad.attach(canvas);
    field.querySelector("button").onclick = () => pad.clear(canvas);
    field.closest("form").addEventListener("submit", () => {
      const drawn = pad.strokes(canvas);
      field.querySelector("input").value = drawn.length ? JSON.stringify(drawn) : "";
    });
  }
}

listen(show, refresh);
offerSignature();
drafts.watch(() => isLinked);
document.querySelectorAll("form.entry").forEach((form) => {
  drafts.restore(form);
  tellDifference(form);
});
acting.readSession(document);
showTapper();
window.addEventListener("offline", () => setLinked(false));
window.addEventListener("online", () => void checkLink());
document.addEventListener("visibilitychange", () => document.visibilityState === "visible" && void checkLink());
setInterval(checkLink, 15000);
void checkLink()
  .then(() => isLinked && refresh().catch(() => {}))
  .then(() => (document.documentElement.dataset.fresh = ""));
void show();
void send();
// Pages of the inspection are kept like those of the floor, by the same worker.
void keepForOffline("/inspection", [location.href]).catch(() => {});
