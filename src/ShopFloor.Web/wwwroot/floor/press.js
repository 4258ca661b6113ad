// A tap is pressing and letting go: what is under the finger must not be replaced in between, or the tap is lost.

let letGo = Promise.resolve();

document.addEventListener("pointerdown", () => {
  letGo = new Promise((release) => {
    const soon = () => setTimeout(release);
    document.addEventListener("pointerup", soon, { once: true });
    document.addEventListener("pointercancel", soon, { once: true });
    setTimeout(release, 3000);
  });
});

/** Waits until no finger is on the page; what is put in place right after that takes no tap away. */
export const noFinger = () => letGo;

/** The field in which somebody is stays the same element, with what stands in it; gives what to call when the new content is in place. */
export function keepFocusedField(old, made) {
  const field = document.activeElement;
  const twin = field?.id && old.contains(field) && field.matches("input:not([type=file]), textarea, select") ? made.querySelector(`#${CSS.escape(field.id)}`) : null;
  twin?.replaceWith(field);
  return () => twin && field.focus({ preventScroll: true });
}

/** A picture may be on its way into such a field right now: it stays the same element, or the picture would be lost. */
export function keepFileFields(old, made) {
  for (const field of old.querySelectorAll("input[type=file][id]")) {
    made.querySelector(`#${CSS.escape(field.id)}`)?.replaceWith(field);
  }
}
