// A click is pressing and letting go at one place. When the page moves in between (an answer of the server adds a line above,
// a message slides over the button), the browser gives the click to nobody, or under a finger to whatever came there.
// The button that was pressed gets it.

const pressable = "button, a[href], summary, label, [role=button]";

/** A hand that holds still moves this far, in CSS pixels. */
const still = 6;

let pressed = null;
let at = null;
let what = null;

/** What a button says it does: one that was given to another line meanwhile is not the one that was pressed. */
const said = (button) => `${button.textContent}|${button.getAttribute("aria-label")}|${button.getAttribute("href")}`;

document.addEventListener(
  "pointerdown",
  (event) => {
    const isPlain = event.button === 0 && event.isPrimary && !event.ctrlKey && !event.metaKey && !event.shiftKey;
    pressed = isPlain ? event.target.closest?.(pressable) : null;
    what = pressed && said(pressed);
    at = { x: event.clientX, y: event.clientY };
  },
  true,
);

document.addEventListener("pointercancel", () => (pressed = null), true);

document.addEventListener(
  "pointerup",
  (event) => {
    const button = pressed;
    pressed = null;
    if (!button?.isConnected || button.disabled || said(button) !== what || Math.hypot(event.clientX - at.x, event.clientY - at.y) > still) {
      return;
    }

    if (!button.contains(document.elementFromPoint(event.clientX, event.clientY))) {
      give(button);
    }
  },
  true,
);

function give(button) {
  const misled = (event) => {
    if (event.isTrusted) {
      event.preventDefault();
      event.stopImmediatePropagation();
    }
  };
  const over = () => {
    document.removeEventListener("click", misled, true);
    document.removeEventListener("pointerdown", over, true);
  };
  // After a finger the browser's own click may take its time.
  document.addEventListener("click", misled, true);
  document.addEventListener("pointerdown", over, true);
  setTimeout(over, 500);
  setTimeout(() => {
    if (!button.disabled) {
      button.click();
    }
  });
}
