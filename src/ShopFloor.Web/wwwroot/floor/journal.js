// The database takes a moment to write, and a page that goes away in that moment takes the writing along. So a tap is noted here first, at once; the next page finds the note.

const prefix = "shopfloor-tap ";
/** After so long, a note of another tab is taken for left behind: that tab would have written it. */
const left = 10_000;

const tab = sessionStorage.getItem("shopfloor-tab") ?? crypto.getRandomValues(new Uint32Array(2)).join("-");
sessionStorage.setItem("shopfloor-tab", tab);

const hasFile = (tap) => tap.file || tap.fields?.some(([, value]) => value instanceof Blob);

/** Notes a new tap before anything else is done with it; gives what to call when the note has served. Taps with a file have no note: files cannot be written that way. */
export function note(tap) {
  if (hasFile(tap)) {
    return () => {};
  }

  const name = prefix + tap.key;
  try {
    localStorage.setItem(name, JSON.stringify({ tab, at: Date.now(), tap }));
  } catch {
    // No room for notes: the database says whether it has any.
  }

  return () => localStorage.removeItem(name);
}

/** Hands over what earlier pages of this tab noted and could not write any more, and what other tabs left behind. Never fails: what cannot be written stays noted. */
export async function recover(write) {
  const found = Object.keys(localStorage).filter((name) => name.startsWith(prefix)).map((name) => [name, JSON.parse(localStorage.getItem(name))]);
  const mine = found.filter(([, noted]) => noted.tab === tab || Date.now() - noted.at > left).sort(([, a], [, b]) => a.at - b.at);
  for (const [name, { tap }] of mine) {
    try {
      await write(tap);
      localStorage.removeItem(name);
    } catch {
      return;
    }
  }
}
