// One figure changed by thumb: a stepper on either side, a slider below, and the figure itself for typing.
import { html, nothing } from "lit";
import { live } from "lit/directives/live.js";
import { display, fromSi, numeral, t, toSi } from "../text.js";
import { readTyped, stepped } from "./typed.js";

/**
 * @typedef {object} Entry
 * @property {string} name for ids and drafts: the place of the figure
 * @property {string} label
 * @property {number | null | undefined} value SI
 * @property {string} dimension
 * @property {number} step of the buttons, in the chosen unit
 * @property {number} [slide] step of the slider, in the chosen unit
 * @property {number} low SI, least of the slider
 * @property {number} high SI
 * @property {number} [start] SI, where a figure that is not there yet begins
 * @property {(value: number) => void} set
 * @property {unknown} [note] below the label
 * @property {string} [problem] what the core says against it
 *
 * @typedef {import("../screens/context.js").Context} Context
 */

/**
 * @param {Context} context
 * @param {Entry} entry
 */
export function entry(context, { name, label, value, dimension, step, slide = step, low, high, start = low, set, note, problem }) {
  const { store, chosen } = context;
  const { symbol, unit } = display(dimension, chosen);
  const there = value !== null && value !== undefined;
  const draft = store.drafts[name];
  const id = `entry-${name.replace(/\W+/g, "-")}`;
  const least = Math.ceil(fromSi(low, symbol) / slide - 1e-9) * slide;
  const most = Math.floor(fromSi(high, symbol) / slide + 1e-9) * slide;
  const here = fromSi(there ? value : start, symbol);
  const typingNow = document.activeElement?.id === id;
  const wrong = draft !== undefined && !typingNow ? t("shell.entry.unfinished", { typed: draft }) : problem;

  const put = (/** @type {number} */ next) => {
    store.draft(name, undefined);
    set(next);
  };
  const move = (/** @type {number} */ direction) => {
    const next = there ? stepped(value, direction, step, dimension, chosen) : start;
    put(Math.min(Math.max(next, Math.min(low, value ?? low)), Math.max(high, value ?? high)));
  };
  const type = (/** @type {Event} */ { target }) => {
    const typed = /** @type {HTMLInputElement} */ (target).value;
    const read = readTyped(typed, dimension, chosen);
    if (read === undefined) store.draft(name, typed);
    else put(read);
  };
  const typing = (/** @type {Event} */ { target }) => {
    // While it is being typed it is a draft, so that a half of it is neither lost nor taken for the whole.
    store.draft(name, /** @type {HTMLInputElement} */ (target).value);
  };

  return html`<div class="entry ${wrong ? "entry-wrong" : ""}" role="group" aria-labelledby="${id}-label">
    <div class="entry-head">
      <label class="entry-label" id="${id}-label" for=${id}>${label}</label>
      ${note ? html`<span class="small">${note}</span>` : nothing}
    </div>
    <div class="entry-row">
      <button type="button" class="step" aria-label=${t("shell.entry.less", { label })} @click=${() => move(-1)}>−</button>
      <span class="entry-value">
        <input
          id=${id}
          type="text"
          inputmode="decimal"
          autocomplete="off"
          spellcheck="false"
          size="6"
          aria-describedby=${wrong ? `${id}-wrong` : `${id}-unit`}
          aria-invalid=${wrong ? "true" : "false"}
          .value=${live(draft ?? (there ? numeral(value, dimension, chosen) : ""))}
          placeholder="–"
          @input=${typing}
          @blur=${() => context.redraw()}
          @keydown=${(/** @type {KeyboardEvent} */ event) => event.key === "Enter" && /** @type {HTMLElement} */ (event.target).blur()}
          @change=${type}
          @pointerdown=${touchBegins}
          @mouseup=${touchEnds}
          @focus=${selectAll}
        />
        <span class="unit" id="${id}-unit">${unit}</span>
      </span>
      <button type="button" class="step" aria-label=${t("shell.entry.more", { label })} @click=${() => move(1)}>+</button>
    </div>
    <input
      class="slider ${there ? "" : "slider-empty"}"
      type="range"
      aria-label=${label}
      aria-valuetext=${there ? `${numeral(value, dimension, chosen)} ${unit}` : t("shell.absent")}
      min=${least}
      max=${most}
      step=${slide}
      .value=${live(String(Math.round(here / slide) * slide))}
      @input=${(/** @type {Event} */ { target }) => put(toSi(Number(/** @type {HTMLInputElement} */ (target).value), symbol))}
    />
    ${wrong ? html`<p class="wrong" id="${id}-wrong" role="alert">${wrong}</p>` : nothing}
  </div>`;
}

/** Fields that a touch under way brings the focus to. @type {WeakSet<EventTarget>} */
const touched = new WeakSet();

/** @param {Event} event */
function touchBegins({ target }) {
  if (target && document.activeElement !== target) touched.add(target);
}

/**
 * WebKit puts the caret at the end of the touch that brings the focus, and would undo what was selected by the focus.
 * @param {Event} event
 */
function touchEnds(event) {
  if (event.target && touched.delete(event.target)) event.preventDefault();
}

/** Typing takes the place of what stands there. @param {Event} event */
const selectAll = ({ target }) => /** @type {HTMLInputElement} */ (target).select();
