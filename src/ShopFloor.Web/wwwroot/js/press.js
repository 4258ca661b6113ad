// A click is pressing and letting go at one place. When the page moves in between (an answer of the server adds a line above,
// a message slides over the button), the browser gives the click to nobody, or under a finger to whatever came there.
// The button that was pressed gets it.

const pressable = "button, a[href], summary, label, [role=button]";

/** A hand that holds still moves this far, in CSS pixels. */
const still = 6;

let pressed = null;
let at = null;

document.addEventListener(
  "pointerdown",
  (event) => {
    pressed = event.button === 0 && event.isPrimary ? event.target.closest?.(pressable) : null;
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
    if (!button?.isConnected || button.disabled || Math.hypot(event.clientX - at.x, event.clientY - at.y) > still) {
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
  document.addEventListener("click", misled, true);
  setTimeout(() => {
    document.removeEventListener("click", misled, true);
    if (!button.disabled) {
      button.click();
    }
  }, 30);
}
