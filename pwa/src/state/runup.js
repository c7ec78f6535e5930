// The run-up's readings that stand: kept on the device, by leg, until a good one, a touch or the day takes them away.
import { isToday } from "./time.js";

/**
 * @typedef {object} RunUp a dial's reading and what the core made of it
 * @property {string} typed
 * @property {string} unit
 * @property {string} way "across" or "along"
 * @property {string} at when it was read
 * @property {string} verdict
 * @property {import("../text.js").Message} reason
 * @property {boolean} tells was anything of the torque to be told at all?
 */

/** A day ends at midnight; what was read just before it stands on for this long. [ms] */
const AT_LEAST = 3_600_000;

/** @param {RunUp} reading @param {number} moment */
const stands = ({ at }, moment) => isToday(at, moment) || Math.abs(moment - Date.parse(at)) < AT_LEAST;

/**
 * Readings without those of another day.
 * @param {Record<string, RunUp> | undefined} readings by leg
 * @param {number} [moment]
 * @returns {Record<string, RunUp>}
 */
export const standing = (readings, moment = Date.now()) => Object.fromEntries(Object.entries(readings ?? {}).filter(([, one]) => stands(one, moment)));

/**
 * The reading of a leg that speaks against going, or leaves it open.
 * @param {Record<string, RunUp> | undefined} readings
 * @param {string} leg
 * @param {number} [moment]
 * @returns {RunUp | undefined}
 */
export function doubt(readings, leg, moment = Date.now()) {
  const one = standing(readings, moment)[leg];
  return one?.tells && one.verdict !== "yes" ? one : undefined;
}
