/** Puts the focus on the page's heading, unless it is in the page's content already: then somebody is at work there. */
export function focusHeading() {
  const heading = document.querySelector("h1");
  if (!heading || document.activeElement?.closest("main")) {
    return;
  }

  if (!heading.hasAttribute("tabindex")) {
    heading.tabIndex = -1;
  }

  heading.focus({ preventScroll: true });
}
