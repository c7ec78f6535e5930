// A page with every made-up picture, for the test that looks at them in a browser.
import axe from "axe-core";
import { html, render } from "lit";

import { measureBar, picture } from "../src/pictures/index.js";
import { display, say, shown } from "../src/text.js";
import { CASES } from "./pictures.cases.mjs";

const format = {
  q: (value, dimension) => shown(value, dimension),
  unit: (dimension) => display(dimension),
  say: (message) => say(message),
};
const MEASURES = [
  { needed: 272, available: 400 },
  { needed: 440, available: 400 },
  { needed: null, available: 400 },
  { needed: null, available: 400, verdict: "no" },
].map((measure) => ({ ...measure, dimension: "length" }));

document.documentElement.dataset.look = new URLSearchParams(location.search).get("look") ?? "paper";
render(
  html`<main>
    <h1>Pictures</h1>
    ${MEASURES.map((measure) => measureBar(measure, format))}
    ${Object.entries(CASES).map(
      ([name, answer]) =>
        html`<section data-name=${name}>
          <h2>${name}</h2>
          ${picture(answer, format)}
        </section>`,
    )}
  </main>`,
  document.body,
);
await document.fonts.ready;

/** What is wrong with the drawings as they stand on the page, in words. */
function faults() {
  const found = [];
  for (const drawing of document.querySelectorAll("svg.picture")) {
    const frame = drawing.getBoundingClientRect();
    if (!frame.width) continue;
    const name = drawing.closest("section").dataset.name;
    const texts = [...drawing.querySelectorAll("text")].map((text) => ({
      words: text.textContent,
      size: (parseFloat(getComputedStyle(text).fontSize) * frame.width) / drawing.viewBox.baseVal.width,
      box: text.getBoundingClientRect(),
    }));
    texts.forEach(({ words, size, box }, i) => {
      if (size < 17.99) found.push(`${name}: "${words}" is ${size} px`);
      if (box.left < frame.left - 2 || box.right > frame.right + 2) found.push(`${name}: "${words}" runs out`);
      for (const other of texts.slice(0, i)) {
        const across = Math.min(box.right, other.box.right) - Math.max(box.left, other.box.left);
        const down = Math.min(box.bottom, other.box.bottom) - Math.max(box.top, other.box.top);
        // boxes of lines are taller than their letters
        if (across > 1 && down > size * 0.35) found.push(`${name}: "${words}" overlaps "${other.words}"`);
      }
    });
  }
  return found;
}

const shownNow = () =>
  [...document.querySelectorAll("svg.picture")].filter((d) => d.getBoundingClientRect().width).length;

async function accessibility() {
  const { violations } = await axe.run(document);
  return violations.map((v) => `${v.id}: ${v.nodes[0].html.slice(0, 200)} ${v.nodes[0].failureSummary}`);
}

window.pictures = { faults, accessibility, shownNow, cases: Object.keys(CASES).length };
