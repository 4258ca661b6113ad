// Who taps while there is no connection: a PIN cannot be checked then, so that a name is chosen and its taps wait for that person's PIN.

const key = "shopfloor-acting";

/** The person chosen without a connection; null where the one who is signed in taps. */
export function acting() {
  const kept = sessionStorage.getItem(key);
  return kept ? JSON.parse(kept) : null;
}

export const stop = () => sessionStorage.removeItem(key);

/** Who was signed in when the server last made a page here. */
export const signedIn = () => JSON.parse(localStorage.getItem("shopfloor-session") ?? "null");

/** A kept copy of a page may be older than the last change of person: whose page is newer says who is signed in. */
export function readSession(root) {
  const { person, name, made } = root.getElementById("session").dataset;
  const at = Date.parse(made);
  if (at >= (signedIn()?.at ?? 0)) {
    localStorage.setItem("shopfloor-session", JSON.stringify({ id: person, name, at }));
  }
}

/** Notes on the page whose taps these are, for every script of it: the one who is signed in, or without a connection whoever chose their name. */
export function showTapper(who) {
  const session = document.getElementById("session").dataset;
  const chosen = acting();
  const { id, name } = chosen ?? signedIn() ?? { id: session.person, name: session.name };
  session.person = id;
  session.name = name;
  who.textContent = chosen ? `Taps are kept for ${name} (PIN not checked)` : name;
  who.toggleAttribute("data-acting", chosen !== null);
}

const known = () => JSON.parse(localStorage.getItem("shopfloor-people") ?? "[]");

/** Lets somebody choose their name; resolves when the dialog is closed. */
export function choose(person) {
  const dialog = document.getElementById("acting-dialog");
  dialog.querySelector("ul").replaceChildren(
    ...known().map((one) => {
      const item = document.createElement("li");
      const button = Object.assign(document.createElement("button"), { type: "button", className: "tap", textContent: one.name });
      button.onclick = () => {
        if (one.id === person) {
          stop();
        } else {
          sessionStorage.setItem(key, JSON.stringify(one));
        }

        dialog.close();
      };
      item.append(button);
      return item;
    }),
  );
  dialog.showModal();
  return new Promise((closed) => dialog.addEventListener("close", closed, { once: true }));
}
