// Where the keyboard stays when what it was on goes: a button that takes itself away, or one that can't be pressed any
// more. Without this it falls out of the page, and whoever goes by keys or by ear begins again at the top.

let finger = false;
addEventListener("pointerdown", ({ pointerType }) => (finger = pointerType !== "mouse"), { capture: true, passive: true });
addEventListener("keydown", ({ key }) => (finger &&= key !== "Tab"), { capture: true, passive: true });

/** Did a finger bring us to where we are? Then a keyboard on the screen is to go when it is done. */
export const byFinger = () => finger;

const HEADINGS = "h1, h2, h3, legend";

/**
 * Keep the focus over a drawing of the page: call what is given back once it is drawn.
 * @param {Element} root all that is drawn
 * @returns {() => void}
 */
export function held(root) {
  const here = /** @type {HTMLElement | null} */ (document.activeElement);
  if (!here || here === root || !root.contains(here)) return () => {};
  const byKeys = here.matches(":focus-visible");
  // The headings before it, the nearest first.
  const before = [...root.querySelectorAll(HEADINGS)].filter((one) => one.compareDocumentPosition(here) & Node.DOCUMENT_POSITION_FOLLOWING).reverse();
  return () => {
    if (here.isConnected && !here.matches(":disabled") && here.checkVisibility()) return;
    // somebody has seen to it already
    if (document.activeElement !== here && document.activeElement !== document.body) return;
    const heading = /** @type {HTMLElement | undefined} */ ([...before, ...root.querySelectorAll("h1")].find((one) => one.isConnected && one.checkVisibility()));
    if (!heading) return;
    // Read out, it says where one is; and a second press there does nothing.
    if (!heading.hasAttribute("tabindex")) heading.tabIndex = -1;
    heading.focus({ preventScroll: !byKeys });
  };
}
