// The windsock: how full, by picture; where from, by touch around the strip as the pilot sees it from the threshold.
import { LitElement, html, svg } from "lit";
import { t } from "../text.js";

const BANDS = 5;
const TURN = 2 * Math.PI;
/** The dial goes by tens of degrees. [rad] */
const STEP = TURN / 36;

/**
 * A sock on its mast, seen from the side: empty it hangs, full it stands straight out.
 * @param {number} fullness 0 to 1
 */
export function sockPicture(fullness) {
  const droop = Math.round((1 - fullness) * 78);
  return html`<svg class="sock" viewBox="0 0 44 40" aria-hidden="true">
    <line class="sock-mast" x1="5" y1="3" x2="5" y2="39" />
    <g transform="translate(6 7) rotate(${droop})">
      ${Array.from({ length: BANDS }, (_, i) => {
        const [a, b] = [5 - i * 0.7, 5 - (i + 1) * 0.7];
        const x = i * 7;
        return svg`<path class=${i % 2 ? "sock-light" : "sock-dark"} d="M${x} ${-a}L${x + 7} ${-b}V${b}L${x} ${a}Z" />`;
      })}
    </g>
  </svg>`;
}

/** Fullness in words: how many of the sock's bands are filled. @param {number} fullness */
export function fullnessWords(fullness) {
  const bands = fullness * BANDS;
  if (bands <= 0) return t("shell.sock.empty");
  if (fullness >= 1) return t("shell.sock.full");
  return Math.abs(bands - Math.round(bands)) < 1e-6
    ? t("shell.sock.bands", { n: Math.round(bands) })
    : t("shell.sock.part", { part: fullness });
}

/**
 * Where from against the direction of motion, in words.
 * @param {number} angle [rad], from the right positive
 */
export function angleWords(angle) {
  const degrees = Math.round((((angle % TURN) + TURN) % TURN) * (360 / TURN)) % 360;
  if (degrees === 0) return t("shell.from.ahead");
  if (degrees === 180) return t("shell.from.behind");
  if (degrees <= 90) return t("shell.from.ahead_right", { n: degrees });
  if (degrees < 180) return t("shell.from.behind_right", { n: 180 - degrees });
  if (degrees < 270) return t("shell.from.behind_left", { n: degrees - 180 });
  return t("shell.from.ahead_left", { n: 360 - degrees });
}

/** Where from against true north, in words. @param {number} angle [rad] */
export const bearingWords = (angle) => {
  const degrees = Math.round((angle * 360) / TURN) % 360;
  return t("shell.from.true", { bearing: String(degrees).padStart(3, "0") });
};

/** An angle ten degrees further. @param {number} angle [rad] @param {number} way 1: to the right @returns {number} */
export function turned(angle, way) {
  const next = (Math.round(angle / STEP) + way + 36) % 36;
  return next * STEP;
}

/**
 * Fires "turn" with the angle [rad] in `detail` while the finger moves: against the direction of motion, which points
 * up, or against true north when `bearing` says how the strip lies on a dial with north at its top.
 */
class WindDial extends LitElement {
  static properties = { angle: { type: Number }, designator: { type: String }, bearing: { type: Number } };

  constructor() {
    super();
    /** @type {number | undefined} */
    this.angle = undefined;
    this.designator = "";
    /** @type {number | undefined} */
    this.bearing = undefined;
  }

  createRenderRoot() {
    return this;
  }

  /** @param {number} angle */
  #turn(angle) {
    const snapped = (Math.round(angle / STEP) * STEP + 2 * TURN) % TURN;
    this.dispatchEvent(new CustomEvent("turn", { detail: Math.abs(snapped - TURN) < 1e-9 ? 0 : snapped }));
  }

  /** Where a finger came down, and whether on the arrow. @type {{ x: number, y: number, grip: boolean } | undefined} */
  #down;

  /**
   * The arrow is dragged; elsewhere on the dial a tap points it, and a thumb that scrolls by changes nothing.
   * @param {PointerEvent} event
   */
  #touch(event) {
    const face = /** @type {Element} */ (event.currentTarget);
    if (event.type === "pointerdown") {
      const grip = /** @type {Element} */ (event.target).classList.contains("dial-grip");
      this.#down = { x: event.clientX, y: event.clientY, grip };
      if (grip) face.setPointerCapture(event.pointerId);
      return;
    }
    const down = this.#down;
    if (event.type === "pointercancel") this.#down = undefined;
    if (!down || event.type === "pointercancel") return;
    const tap = Math.hypot(event.clientX - down.x, event.clientY - down.y) < 10;
    const counts = event.type === "pointermove" ? down.grip : !down.grip && tap;
    if (event.type === "pointerup") this.#down = undefined;
    if (!counts) return;
    const { left, top, width, height } = face.getBoundingClientRect();
    const [x, y] = [event.clientX - left - width / 2, event.clientY - top - height / 2];
    if (Math.hypot(x, y) > width / 12) this.#turn(Math.atan2(x, -y));
  }

  /** @param {KeyboardEvent} event */
  #key(event) {
    const by = { ArrowRight: 1, ArrowUp: 1, ArrowLeft: -1, ArrowDown: -1, PageUp: 9, PageDown: -9 }[event.key];
    if (by === undefined) return;
    event.preventDefault();
    this.#turn((this.angle ?? 0) + by * STEP);
  }

  render() {
    const set = this.angle !== undefined && Number.isFinite(this.angle);
    const angle = set ? /** @type {number} */ (this.angle) : 0;
    const degrees = Math.round((angle * 360) / TURN) % 360;
    const north = this.bearing !== undefined;
    const lies = north ? Math.round((/** @type {number} */ (this.bearing) * 360) / TURN) : 0;
    return html`<svg
      class="dial"
      viewBox="-100 -100 200 200"
      role="slider"
      tabindex="0"
      aria-label=${t("shell.sock.from")}
      aria-valuemin="0"
      aria-valuemax="350"
      aria-valuenow=${degrees}
      aria-valuetext=${set ? (north ? bearingWords(angle) : angleWords(angle)) : t("shell.absent")}
      @pointerdown=${this.#touch}
      @pointermove=${this.#touch}
      @pointerup=${this.#touch}
      @pointercancel=${this.#touch}
      @keydown=${this.#key}
    >
      <circle class="dial-face" r="97" />
      ${Array.from({ length: 36 }, (_, i) => svg`<line class=${i % 9 ? "dial-tick" : "dial-tick dial-tick-big"} y1="-96" y2=${i % 9 ? -89 : -84} transform="rotate(${i * 10})" />`)}
      <g transform="rotate(${lies})">
        <rect class="dial-strip" x="-13" y="-58" width="26" height="116" />
        <path class="dial-way" d="M0 -50V-18M-7 -40L0 -51L7 -40" />
        <text class="dial-name" y="50" text-anchor="middle">${this.designator}</text>
      </g>
      ${north ? svg`<text class="dial-name" y="-66" text-anchor="middle">N</text>` : ""}
      ${
        set
          ? svg`<g transform="rotate(${degrees})">
              <path class="dial-wind" d="M-9 -86L0 -62L9 -86Z" />
              <line class="dial-stem" y1="-60" y2="-26" />
              <circle class="dial-grip" cy="-72" r="24" />
            </g>`
          : ""
      }
    </svg>`;
  }
}
customElements.define("wind-dial", WindDial);
