// What somebody has half typed outlives a reload, a restart and a lost connection: it is kept on the device until it is sent, thrown away, or a week old.

const prefix = "shopfloor-draft";
const week = 7 * 24 * 3600 * 1000;
const person = document.getElementById("session")?.dataset.person;

const formOf = (field) => field.closest("form, .keep-typed");

/** A form is known by its page, its person, its own name, and what it is about. */
const keyOf = (form) =>
  [prefix, person, location.pathname, form.id || form.getAttribute("action") || form.dataset.ask || form.querySelector("[id]")?.id, form.dataset.about].filter(Boolean).join(" ");

/** Never PINs, and no files: a photo is kept in the outbox once it is chosen and sent. */
const fieldsOf = (form) =>
  [...form.querySelectorAll("input, textarea, select")].filter((f) => (f.name || f.id) && !["hidden", "password", "file", "submit", "button"].includes(f.type));

const isChoice = (field) => field.type === "radio" || field.type === "checkbox";
const nameOf = (field) => `${field.name || field.id}${isChoice(field) ? ` ${field.value}` : ""}`;

function save(form) {
  const values = Object.fromEntries(fieldsOf(form).map((f) => [nameOf(f), isChoice(f) ? f.checked : f.value]));
  localStorage.setItem(keyOf(form), JSON.stringify({ at: Date.now(), values }));
}

/** Puts a kept draft back; true where there was one. */
export function restore(form) {
  const kept = localStorage.getItem(keyOf(form));
  if (!kept) {
    return false;
  }

  const { values } = JSON.parse(kept);
  for (const field of fieldsOf(form)) {
    const value = values[nameOf(field)];
    if (value !== undefined) {
      if (isChoice(field)) {
        field.checked = value;
      } else {
        field.value = value;
      }
    }
  }

  return true;
}

export const drop = (form) => localStorage.removeItem(keyOf(form));

/** The dialogs' drafts of this page, by what they are about. */
export function aboutOf(form) {
  const start = [prefix, person, location.pathname, form.id].filter(Boolean).join(" ");
  return Object.keys(localStorage).filter((key) => key.startsWith(`${start} `)).map((key) => key.slice(start.length + 1));
}

/** Puts back what was typed on this page; a form that somebody is at has it already. */
export function restoreAll() {
  for (const form of document.querySelectorAll("#live form:not([data-keep]), #live .keep-typed:not([data-keep])")) {
    restore(form);
  }
}

/** Keeps what is typed from now on. A form that is sent without a connection keeps its draft; that of a dialog is dropped by whoever opened it, when what it asked is kept. */
export function watch(isLinked) {
  for (const key of Object.keys(localStorage).filter((k) => k.startsWith(`${prefix} `))) {
    if (Date.now() - JSON.parse(localStorage.getItem(key)).at > week) {
      localStorage.removeItem(key);
    }
  }

  document.addEventListener("input", (event) => {
    const form = formOf(event.target);
    if (form && !form.matches(".pin-pad")) {
      save(form);
    }
  });
  document.addEventListener("submit", (event) => {
    if (event.target.method !== "dialog" && (isLinked() || event.target.matches(".kept-form"))) {
      drop(event.target);
    }
  });
}
