// Keeps what a person typed at a calculator in this browser. Storage may be forbidden or full: then it is not kept.
export function keep(key, figures) {
  try {
    localStorage.setItem(key, figures);
  } catch {
    /* not kept */
  }
}

export function recall(key) {
  try {
    return localStorage.getItem(key);
  } catch {
    return null;
  }
}

export async function copy(text) {
  try {
    await navigator.clipboard.writeText(text);
    return true;
  } catch {
    return false;
  }
}

export function print() {
  window.print();
}
