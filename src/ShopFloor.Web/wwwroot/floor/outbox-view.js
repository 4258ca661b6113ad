// Shows what is kept on this device: taps that wait, and taps that the server refused and a person must decide about.

import * as store from "./store.js";
import { send } from "./sender.js";

const words = { start: "Start", stop: "Stop", finish: "Done", hold: "Hold", resume: "Resume", "undo-finish": "Take back", photo: "Photo", reading: "Reading", part: "Parts", material: "Materials", day: "Day", paper: "From paper" };

const element = (name, text, attributes = {}) => {
  const made = Object.assign(document.createElement(name), attributes);
  made.textContent = text;
  return made;
};

/** A tap in words: what was tapped, and on which operation. */
export const nameOf = (tap) => [`${words[tap.tap]}:`, tap.code, tap.title].filter(Boolean).join(" ").replace(/:$/, "");

const timeOf = (tap) => new Date(tap.tappedAt).toLocaleTimeString([], { hour: "2-digit", minute: "2-digit" });

/** Sentences about taps that were not taken, by the operation's code. They stay, however often the page is made anew, until the operation is tapped again. */
export const notTaken = new Map();

/** Draws the outbox and marks the operations on the page that have taps in it. */
export async function show() {
  const taps = await store.all();
  const box = document.getElementById("outbox");
  box.replaceChildren(...(taps.length === 0 ? [] : [element("h2", heading(taps)), list(taps)]));
  box.dataset.count = taps.length;
  for (const note of document.querySelectorAll(".op .unsent")) {
    const operation = note.closest(".op");
    const { code } = operation.dataset;
    const mine = taps.filter((t) => t.job === jobOf() && t.code === code);
    const said = mine.map((t) => `${words[t.tap]} at ${timeOf(t)}: ${t.state === "refused" ? "refused, see above" : `saved here, not yet sent${t.hot && t.tap !== "hold" ? ". Hot work: do not begin before it is sent" : ""}`}`);
    if (notTaken.has(code) && operation.querySelector("[data-tap=start], [data-tap=resume]")) {
      said.unshift(notTaken.get(code));
    }

    note.hidden = said.length === 0;
    note.textContent = said.join("; ");
  }
}

const jobOf = () => document.getElementById("job")?.dataset.job;

function heading(taps) {
  const refused = taps.filter((t) => t.state === "refused").length;
  const waiting = taps.length - refused;
  return [waiting > 0 && `${waiting} saved here, not yet sent`, refused > 0 && `${refused} refused: please decide`].filter(Boolean).join(" · ");
}

function list(taps) {
  const ul = document.createElement("ul");
  for (const tap of taps) {
    const li = document.createElement("li");
    li.dataset.state = tap.state;
    li.append(element("p", `${nameOf(tap)}${tap.car ? ` (${tap.car})` : ""}, ${tap.tap === "paper" ? "typed in" : "tapped"} at ${timeOf(tap)} by ${tap.name || "somebody"}`));
    if (tap.note) {
      li.append(element("p", tap.note, { className: "soft" }));
    }

    if (tap.state === "refused") {
      const again = element("button", "Send again", { type: "button", className: "tap" });
      // A new key: the server remembers its refusal of the old one.
      again.onclick = async () => {
        await store.keep({ ...tap, state: "waiting", note: null, key: store.newKey(), ...notLaterThanNow(tap) });
        await show();
        await send();
      };
      const away = element("button", "Drop it", { type: "button", className: "tap" });
      away.onclick = async () => {
        await store.drop(tap.id);
        await show();
      };
      const taps2 = element("div", "", { className: "taps" });
      taps2.append(...(tap.tap === "paper" ? [change(tap)] : []), again, away);
      li.append(taps2);
    }

    ul.append(li);
  }

  return ul;
}

/** A device whose clock ran ahead dated its taps in the future: sent again, they are of now. */
function notLaterThanNow({ occurredAt, fields }) {
  const now = new Date(Date.now() - Number(localStorage.getItem("shopfloor-clock") ?? 0)).toISOString();
  return {
    ...(occurredAt > now ? { occurredAt: now } : {}),
    ...(fields ? { fields: fields.map(([name, value]) => [name, name === "occurredAt" && value > now ? now : value]) } : {}),
  };
}

/** A line from paper is put right in its form. */
function change(tap) {
  const button = element("button", "Change it", { type: "button", className: "tap" });
  button.onclick = () => {
    if (location.pathname + location.search === tap.page) {
      document.dispatchEvent(new CustomEvent("shopfloor-change", { detail: tap.id }));
    } else {
      sessionStorage.setItem("shopfloor-change", String(tap.id));
      location.assign(tap.page);
    }
  };
  return button;
}
