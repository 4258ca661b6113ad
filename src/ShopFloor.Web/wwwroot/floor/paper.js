// Lines from paper: each goes into the device's outbox first. One that the server refuses stays there, and can be taken back into the form to be changed.

import * as store from "/floor/store.js";
import { send } from "/floor/sender.js";
import { show } from "/floor/outbox-view.js";
import * as drafts from "/floor/drafts.js";

const session = document.getElementById("session").dataset;
const form = () => document.getElementById("paper-form");
const changing = () => document.querySelector(".paper-changing");

/** Person and day of the last line: the next one of a sheet mostly has the same. */
let last = null;

/** The refused line that is being changed; it stays in the outbox until it is entered again. */
let refused = null;

function say(text) {
  const problem = document.getElementById("paper-problem");
  problem.textContent = text;
  problem.hidden = text === "";
}

async function enter(typed) {
  const { operation, personId, on, beganAtClock, endedAtClock, isDone } = typed.elements;
  if (beganAtClock.value === "" && endedAtClock.value === "") {
    say("Give the time at which it began, the time at which it ended, or both.");
    beganAtClock.focus();
    return;
  }

  if (isDone.checked && endedAtClock.value === "") {
    say("Done is ticked: give the time at which it ended.");
    endedAtClock.focus();
    return;
  }

  say("");
  const said = `${personId.selectedOptions[0].text}, ${on.value}, ${beganAtClock.value || "…"} to ${endedAtClock.value || "…"}${isDone.checked ? ", done" : ""}`;
  const job = document.getElementById("job").dataset.job;
  const line = {
    key: store.newKey(),
    url: `/floor/jobs/${job}/paper`,
    page: `/floor/paper?job=${job}`,
    tap: "paper",
    title: `${operation.selectedOptions[0].text.replace(/ \([^)]*\)$/, "")}: ${said}`,
    body: {
      operation: operation.value, personId: personId.value, on: on.value,
      beganAtClock: beganAtClock.value || null, endedAtClock: endedAtClock.value || null, isDone: isDone.checked,
    },
    car: document.querySelector("h1").textContent.replace(/^From paper: /, ""),
    person: session.person, name: session.name, device: localStorage.getItem("shopfloor-device") ?? "floor",
    tappedAt: Date.now(), state: "waiting",
  };
  await store.keep(refused ? { ...line, id: refused } : line);
  refused = null;
  last = { personId: personId.value, on: on.value };
  drafts.drop(typed);
  changing().hidden = true;
  operation.value = beganAtClock.value = endedAtClock.value = "";
  isDone.checked = false;
  delete typed.dataset.keep;
  operation.focus();
  await show();
  void send();
}

document.addEventListener("input", (event) => {
  const typed = event.target.closest(".paper-form");
  if (typed) {
    typed.dataset.keep = "";
  }
});

document.addEventListener("submit", (event) => {
  if (event.target.matches(".paper-form")) {
    event.preventDefault();
    void enter(event.target).catch(() => say("This device could not keep the line (is its storage full?). It stays in the form; try again."));
  }
});

/** A refused line comes back into the form. */
async function takeBack(id) {
  const line = (await store.all()).find((one) => one.id === id);
  if (!line || !form()) {
    return;
  }

  for (const [name, value] of Object.entries(line.body)) {
    const field = form().elements[name];
    if (field.type === "checkbox") {
      field.checked = value;
    } else {
      field.value = value ?? "";
    }
  }

  refused = id;
  form().dataset.keep = "";
  changing().hidden = false;
  form().elements.operation.focus();
}

document.addEventListener("shopfloor-fresh", () => {
  if (last && form() && !("keep" in form().dataset)) {
    form().elements.personId.value = last.personId;
    form().elements.on.value = last.on;
  }
});
document.addEventListener("shopfloor-change", (event) => void takeBack(event.detail));
const asked = sessionStorage.getItem("shopfloor-change");
if (asked) {
  sessionStorage.removeItem("shopfloor-change");
  void takeBack(Number(asked));
}
