// Makes or shows a passkey for a form that asks for one; without it, or where the browser knows no passkeys, the form stays hidden.

// A passkey belongs to a name; an address of numbers has none.
const isNamed = !/^[\d.]+$|:/.test(location.hostname);
const known = isNamed && window.isSecureContext && window.PublicKeyCredential?.parseCreationOptionsFromJSON;

for (const form of document.querySelectorAll("form[data-passkey]")) {
  form.hidden = !known;
  form.addEventListener("submit", (event) => {
    if (!form.elements.Passkey.value) {
      event.preventDefault();
      ask(form);
    }
  });
}

async function ask(form) {
  const said = form.querySelector("[role=alert]");
  said.hidden = true;
  try {
    const answer = await fetch(form.dataset.passkey, {
      method: "POST",
      body: new URLSearchParams(new FormData(form)),
    });
    if (answer.status === 403) {
      // Asked before the device makes anything that would then belong to nobody.
      said.textContent = "This is not your password.";
      said.hidden = false;
      return;
    }

    if (!answer.ok) {
      throw new Error(`answer ${answer.status}`);
    }

    const options = await answer.json();
    const credential =
      form.dataset.does === "get"
        ? await navigator.credentials.get({ publicKey: PublicKeyCredential.parseRequestOptionsFromJSON(options) })
        : await navigator.credentials.create({ publicKey: PublicKeyCredential.parseCreationOptionsFromJSON(options) });
    form.elements.Passkey.value = JSON.stringify(credential.toJSON());
    form.requestSubmit();
  } catch (trouble) {
    said.textContent =
      trouble.name === "NotAllowedError"
        ? "No passkey was shown. Try again when you are ready."
        : trouble.name === "InvalidStateError"
          ? "This device has a passkey for you here already."
          : "That did not work. Load the page anew and try again.";
    said.hidden = false;
  }
}
