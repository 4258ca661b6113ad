// Arrow keys turn the picture; they must not scroll the page under it as well.
const arrows = new Set(["ArrowLeft", "ArrowRight", "ArrowUp", "ArrowDown"]);

export function hold(picture) {
  picture.addEventListener("keydown", (event) => {
    if (arrows.has(event.key) && !event.ctrlKey && !event.altKey && !event.metaKey) {
      event.preventDefault();
    }
  });
  picture.dataset.held = "yes";
}
