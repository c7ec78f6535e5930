// The windsock as it is seen from above: where from against the strip, and how full.
import { nothing, svg } from "lit";

import { aroundZero, known, round, sockFullness } from "./geometry.js";
import { paragraphs, tell } from "./parts.js";

/** @typedef {import("./parts.js").Format} Format @typedef {import("./parts.js").Size} Size */

const BANDS = 5;
/** Half a knot: less is told as none. [m/s] */
const CALM = (0.5 * 1852) / 3600;

/**
 * What the sock says, in words.
 * @param {Format} fmt @param {any} wind @param {number|null} bearing
 * @returns {{ text: string, tone?: import("./parts.js").Tone }[]}
 */
export function windWords(fmt, wind, bearing) {
  if (!wind) return [{ text: tell(fmt, "unsaid", { subject: tell(fmt, "wind") }) }];
  const { by, low, high, headwind, crosswind } = wind;
  const side = !known(wind.from) ? "" : crosswind > 0 ? "_right" : "_left";
  /** @type {{ text: string, tone?: import("./parts.js").Tone }[]} */
  const told = [];
  if (by === "assumed") told.push({ text: tell(fmt, "wind.assumed"), tone: "strong" });
  else if (by === "calm" || (low === 0 && high === 0)) told.push({ text: tell(fmt, "wind.none"), tone: "strong" });
  else if (!known(low) && !known(high)) told.push({ text: tell(fmt, "unsaid", { subject: tell(fmt, "wind") }) });
  else if (!known(high)) told.push({ text: tell(fmt, "wind.full", { low }), tone: "strong" });
  else if (!known(low) || low === high) told.push({ text: tell(fmt, "wind.steady", { speed: high }), tone: "strong" });
  else told.push({ text: tell(fmt, by === "measured" ? "wind.gust" : "wind.band", { low, high }), tone: "strong" });
  if (!known(headwind)) told.push({ text: tell(fmt, "unsaid", { subject: tell(fmt, "wind.along") }) });
  else if (headwind < -CALM) told.push({ text: tell(fmt, "wind.tail", { speed: -headwind }), tone: "accent" });
  else if (headwind > CALM) told.push({ text: tell(fmt, "wind.head", { speed: headwind }) });
  else told.push({ text: tell(fmt, "wind.no_head") });
  if (!known(crosswind)) told.push({ text: tell(fmt, "unsaid", { subject: tell(fmt, "wind.across") }) });
  else if (Math.abs(crosswind) > CALM)
    told.push({ text: tell(fmt, `wind.cross${side}`, { speed: Math.abs(crosswind) }) });
  return told;
}

/** The angle of the wind against the direction of motion [rad], from ahead 0, from the right positive; or null. */
function relative(/** @type {any} */ wind, /** @type {number|null} */ bearing) {
  return known(wind?.from) && known(bearing) ? aroundZero(wind.from - bearing) : null;
}

/**
 * The sock with its words beside it; motion goes up on a phone and to the right on a wide page, as in the strip.
 * @param {Format} fmt @param {Size} size @param {any} wind @param {number|null} bearing
 * @returns {{ body: unknown, bottom: number, told: string[] }}
 */
export function windBand(fmt, size, wind, bearing, top = 0) {
  const radius = 38;
  const told = windWords(fmt, wind, bearing);
  const text = paragraphs(size, 2 * radius + 26, top + 2, size.width - 2 * radius - 30, told);
  const height = Math.max(2 * radius + 8, text.bottom - top);
  const angle = relative(wind, bearing);
  const body = svg`<g transform="translate(${radius + 4} ${round(top + height / 2)})${size.wide ? " rotate(90)" : ""}">
    <path class="pic-line pic-line-faint pic-dashed" d="M0 ${radius}V${-radius + 7}"/>
    <path class="pic-fill-faint" d="M0 ${-radius}l5 9h-10z"/>
    ${wind ? sock(radius - 4, angle, fullnessOf(wind)) : nothing}
  </g>`;
  return { body: [body, text.body], bottom: top + height, told: told.map((t) => t.text) };
}

/** Fullness that the sock is drawn with: as seen, or as the steady wind would fill it; null where it isn't known. */
function fullnessOf(/** @type {any} */ { by, low, fullness }) {
  if (known(fullness)) return fullness;
  if (by === "calm") return 0;
  return by === "measured" && known(low) ? sockFullness(low) : null;
}

function sock(/** @type {number} */ r, /** @type {number|null} */ angle, /** @type {number|null} */ fullness) {
  const full = fullness === null ? BANDS : Math.round(fullness * BANDS);
  const half = (/** @type {number} */ i) => r * (0.3 - 0.035 * i) * (i > full ? 0.45 : 1);
  const at = (/** @type {number} */ i) => -r + ((2 * r) / BANDS) * i * 0.95;
  const bands = Array.from({ length: BANDS }, (_, i) => {
    const shape = `M${round(-half(i))} ${round(at(i))}L${round(half(i))} ${round(at(i))}L${round(half(i + 1))} ${round(at(i + 1))}L${round(-half(i + 1))} ${round(at(i + 1))}z`;
    const kind =
      fullness === null || angle === null || i >= full
        ? "pic-fill-dotted"
        : i % 2
          ? "pic-fill-plain"
          : "pic-fill-solid";
    return svg`<path class=${kind} d=${shape}/>`;
  });
  const turn = angle === null ? 0 : (angle * 180) / Math.PI;
  return svg`<g transform="rotate(${round(turn)})">${bands}<circle class="pic-fill-solid" cx="0" cy=${round(-r)} r="4.5"/></g>`;
}
