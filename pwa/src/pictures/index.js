// Pictures of the answers, drawn to scale.
import { nothing } from "lit";

import { baysPicture } from "./bays.js";
import { climbPicture } from "./climb.js";
import { envelopePicture } from "./envelope.js";
import { fuelPicture } from "./fuel.js";
import { stripPicture } from "./strip.js";

export { measureBar } from "./measure.js";
export { trackPicture } from "./track.js";

/** @type {Record<string, (answer: any, fmt: import("./parts.js").Format) => unknown>} */
const DRAWN = {
  fits: baysPicture,
  balances: envelopePicture,
  lifts_off: stripPicture,
  climbs_out: climbPicture,
  reaches: fuelPicture,
  stops: stripPicture,
};

/**
 * The picture of one answer, or nothing where the answer holds none.
 * @param {any} answer @param {import("./parts.js").Format} fmt
 */
export function picture(answer, fmt) {
  const draw = answer?.picture ? DRAWN[answer.question] : undefined;
  return draw ? draw(answer, fmt) : nothing;
}
