// One figure changed by thumb: a stepper on either side, a slider below, and the figure itself for typing.
import { html, nothing } from "lit";
import { live } from "lit/directives/live.js";
import { display, fromSi, numeral, t, toSi } from "../text.js";
import { byFinger } from "./focus.js";
import { fieldOf, readTyped, stepped, typedNow, typing as busy } from "./typed.js";

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
 * @property {() => void} [clear] what was given is not known any more; without it an emptied field gets its figure back
 * @property {unknown} [note] below the label
 * @property {string} [problem] what the core says against it
 * @property {[number, number]} [possible] SI, outside which what is typed is not counted
 *
 * @typedef {import("../screens/context.js").Context} Context
 */

/** A finger on a slider: where it came down, whether on the knob, and whether it went sideways. */
/** @type {WeakMap<EventTarget, { x: number, y: number, near: boolean, sideways: boolean }>} */
const fingers = new WeakMap();
/** How near the knob's middle counts as on it, and how far sideways is meant. [px] */
const [KNOB, MEANT] = [34, 10];

/**
 * A thumb that scrolls the page over a slider must not move it: a finger counts when it came down on the knob and went
 * sideways first.
 * @param {PointerEvent} event
 */
function finger(event) {
  const slider = /** @type {HTMLInputElement} */ (event.currentTarget);
  if (event.type === "pointerup" || event.type === "pointercancel") {
    // the browser's own change of the value comes after this
    setTimeout(() => fingers.delete(slider), 50);
  } else if (event.type === "pointerdown" && event.pointerType !== "mouse") {
    const { left, width } = slider.getBoundingClientRect();
    const part = (Number(slider.value) - Number(slider.min)) / (Number(slider.max) - Number(slider.min) || 1);
    const knob = left + KNOB / 2 + part * (width - KNOB);
    fingers.set(slider, { x: event.clientX, y: event.clientY, near: Math.abs(event.clientX - knob) <= KNOB, sideways: false });
  } else {
    const held = fingers.get(slider);
    if (!held) return;
    const [across, along] = [Math.abs(event.clientX - held.x), Math.abs(event.clientY - held.y)];
    if (held.near && across > MEANT && across > along) held.sideways = true;
  }
}

/**
 * @param {Context} context
 * @param {Entry} entry
 */
export function entry(context, { name, label, value, dimension, step, slide = step, low, high, start = low, set, clear, note, problem, possible }) {
  const { store, chosen } = context;
  const { symbol, unit } = display(dimension, chosen);
  const there = value !== null && value !== undefined;
  const draft = store.drafts[name];
  const id = fieldOf(name);
  const least = Math.ceil(fromSi(low, symbol) / slide - 1e-9) * slide;
  const most = Math.floor(fromSi(high, symbol) / slide + 1e-9) * slide;
  const here = fromSi(there ? value : start, symbol);
  const typingNow = typedNow(name);
  const words = (/** @type {number} */ si) => `${numeral(si, dimension, chosen)} ${unit}`;
  const beyond = (/** @type {number | undefined} */ si) => possible && si !== undefined && (si < possible[0] || si > possible[1]);
  const unread = (/** @type {string} */ typed) =>
    possible && beyond(readTyped(typed, dimension, chosen))
      ? t("shell.entry.beyond", { typed, low: words(possible[0]), high: words(possible[1]) })
      : t("shell.entry.unfinished", { typed });
  const wrong = draft !== undefined && !typingNow ? unread(draft) : problem;

  const put = (/** @type {number} */ next) => {
    store.draft(name, undefined);
    set(next);
  };
  const move = (/** @type {number} */ direction) => {
    const next = there ? stepped(value, direction, step, dimension, chosen) : start;
    put(Math.min(Math.max(next, Math.min(low, value ?? low)), Math.max(high, value ?? high)));
  };
  // Told by leaving the field alone: browsers tell of a "change" too when the window goes, in the midst of typing.
  const type = (/** @type {Event} */ { target }) => {
    const typed = /** @type {HTMLInputElement} */ (target).value;
    if (typed.trim() === "") {
      // An answer must not rest on a figure that is no longer seen.
      store.draft(name, undefined);
      if (there) clear?.();
      return;
    }
    const read = readTyped(typed, dimension, chosen);
    if (read === undefined || beyond(read)) store.draft(name, typed);
    else put(read);
  };
  const typing = (/** @type {Event} */ { target }) => {
    // While it is being typed it is a draft, so that a half of it is neither lost nor taken for the whole.
    busy.add(name);
    store.draft(name, /** @type {HTMLInputElement} */ (target).value);
  };

  const done = (/** @type {Event} */ event) => {
    busy.delete(name);
    // what was there already, typed once more, is no change to the browser; it is a new reading all the same
    if (store.drafts[name] !== undefined) type(event);
    context.redraw();
  };
  const left = (/** @type {Event} */ event) => {
    // another window, or the end of this one, is no "done": a half-typed figure stays a draft
    if (document.activeElement !== event.target) done(event);
  };
  // A finger's keyboard goes with Enter and gives the answers room; who came by keys stays where they are.
  const keyed = (/** @type {KeyboardEvent} */ event) => {
    if (event.key !== "Enter") return;
    const field = /** @type {HTMLInputElement} */ (event.target);
    if (byFinger()) return field.blur();
    done(event);
    field.select();
    // once more when the figure stands there as the page writes it: what is typed next takes its place
    setTimeout(() => document.activeElement === field && !busy.has(name) && field.select());
  };
  const slid = (/** @type {Event} */ { target }) => {
    const slider = /** @type {HTMLInputElement} */ (target);
    const held = fingers.get(slider);
    if (held && !held.sideways) slider.value = String(Math.round(here / slide) * slide);
    else put(toSi(Number(slider.value), symbol));
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
          inputmode=${symbol === "h" ? "text" : "decimal"}
          autocomplete="off"
          spellcheck="false"
          size="6"
          aria-describedby=${wrong ? `${id}-wrong` : `${id}-unit`}
          aria-invalid=${wrong ? "true" : "false"}
          .value=${live(draft ?? (there ? numeral(value, dimension, chosen) : ""))}
          placeholder="–"
          @input=${typing}
          @blur=${left}
          @keydown=${keyed}
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
      @pointerdown=${finger}
      @pointermove=${finger}
      @pointerup=${finger}
      @pointercancel=${finger}
      @input=${slid}
    />
    ${draft !== undefined && typingNow ? html`<p class="small">${t("shell.entry.typing")}</p>` : nothing}
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
