// Sends several photos one after another and says what became of each. Without this script the form sends one.
const form = document.getElementById("upload");
const input = document.getElementById("file");
const results = document.getElementById("results");
const button = form.querySelector("button");
input.multiple = true;
button.textContent = "Add the photos";

async function send(file, line) {
  const body = new FormData();
  body.append("file", file);
  const key = [...crypto.getRandomValues(new Uint8Array(16))].map((b) => b.toString(16).padStart(2, "0")).join("");
  for (let attempt = 1; ; attempt++) {
    try {
      const response = await fetch(location.pathname, { method: "POST", body, headers: { Accept: "application/json", "Idempotency-Key": key } });
      if (response.ok) return (line.textContent = `✓ ${file.name} was added.`);
      const problem = response.headers.get("content-type")?.includes("json") ? (await response.json()).detail : "This link does not work any more.";
      return (line.textContent = `✕ ${file.name}: ${problem}`);
    } catch {
      if (attempt === 4) return (line.textContent = `✕ ${file.name}: no connection. Choose it again when the network is back.`);
      line.textContent = `… ${file.name}: no connection, trying again.`;
      await new Promise((wait) => setTimeout(wait, attempt * 2000));
    }
  }
}

form.addEventListener("submit", async (event) => {
  event.preventDefault();
  const files = [...input.files];
  button.disabled = true;
  for (const file of files) {
    const line = document.createElement("li");
    line.textContent = `… ${file.name} is being sent.`;
    results.append(line);
    await send(file, line);
  }
  form.reset();
  button.disabled = false;
});
