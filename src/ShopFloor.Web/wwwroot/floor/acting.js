// Who taps while there is no connection: a PIN cannot be checked then, so that a name is chosen and its taps wait for that person's PIN.

const key = "shopfloor-acting";

/** The person chosen without a connection; null where the one who is signed in taps. */
export function acting() {
  const kept = sessionStorage.getItem(key);
  return kept ? JSON.parse(kept) : null;
}

export const stop = () => sessionStorage.removeItem(key);

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
