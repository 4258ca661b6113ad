// The forms of a car's removed parts, materials and welds: what is entered goes into the device's outbox first, and from there to the server.

import * as store from "/floor/store.js";
import { send } from "/floor/sender.js";
import { show } from "/floor/outbox-view.js";
import { keep } from "/floor/keeping.js";

const session = document.getElementById("session").dataset;

/** The server's time as far as this device knows it. */
const now = () => new Date(Date.now() - Number(localStorage.getItem("shopfloor-clock") ?? 0)).toISOString();

// A form that somebody types into is not replaced under their hands.
document.addEventListener("input", (event) => {
  const form = event.target.closest("form.kept-form");
  if (form) {
    form.dataset.keep = "";
  }
});

document.addEventListener("submit", async (event) => {
  const form = event.target.closest("form.kept-form");
  if (!form) {
    return;
  }

  event.preventDefault();
  const fields = [...new FormData(form)].filter(([name, value]) => !name.startsWith("__") && (value instanceof File ? value.size > 0 : value !== ""));
  const what = form.querySelector("[name=what]")?.value;
  const line = {
    key: store.newKey(),
    url: new URL(form.action).pathname,
    tap: form.dataset.tap ?? "part", job: document.getElementById("job").dataset.job,
    title: what ? `${form.dataset.title}: ${what}` : form.dataset.title,
    fields: [...fields, ["occurredAt", now()]],
    car: document.querySelector("h1").textContent,
    person: session.person, name: session.name, device: localStorage.getItem("shopfloor-device") ?? "floor",
    tappedAt: Date.now(), state: "waiting",
  };
  try {
    await keep(line);
  } catch {
    // It is said, and stays in the form.
    return;
  }

  form.reset();
  delete form.dataset.keep;
  await show();
  void send();
});
