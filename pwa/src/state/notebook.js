// The notebook of an aeroplane: which document it is, what an entry is made of, and how a distance is told by a person
// who paced it or counted markers. What an entry says of air and mass is the core's to tell (method `noted`).
import { now } from "./time.js";

/** @typedef {import("./store.js").Store} Store @typedef {import("./store.js").Change} Change @typedef {import("./pointer.js").Json} Json */

/** Every kind of entry, the ones noted after most flights first. */
export const KINDS = ["takeoff", "landing", "climb", "level", "cruise", "glide", "stall", "fill", "static"];

/** Kinds that are flown away from the strip: the air of the strip is not that of the entry. */
export const ALOFT = ["climb", "level", "cruise", "glide", "stall"];

/** The part of a distance that each way of telling it may be out by, and the least [m]. @type {Record<string, [number, number]>} */
const ROUGH = { measured: [0.02, 2], paced: [0.06, 4], marker: [0.1, 10] };

/** Standard deviation of a distance [m] by how it was come by. @param {number} length @param {string} how @param {number} [spacing] between markers [m] */
export const distanceSd = (length, how, spacing = 0) => Math.round(Math.max(ROUGH[how][0] * length, ROUGH[how][1], how === "marker" ? 0.29 * spacing : 0) * 10) / 10;

/** A distance [m] from markers that stand evenly, the last one at the far end. @param {number} passed @param {number} of @param {number} length [m] */
export const byMarkers = (passed, of, length) => (passed / of) * length;

/** @param {Store} store @param {Json} aeroplane @returns {Json} */
export const bookOf = (store, aeroplane) => store.all("notebook").find((one) => one.aeroplane === aeroplane?.id);

/** Entries, the newest first. @param {Json} book @returns {Json[]} */
export const entriesOf = (book) => [...(book?.entries ?? [])].sort((a, b) => Date.parse(b.at) - Date.parse(a.at));

/** @param {Store} store @param {Json} book */
function freshIds(store, book) {
  const taken = new Set([...(book?.entries ?? []).map((/** @type {Json} */ { id }) => id), ...Object.keys(book?.removed ?? {}).map((place) => place.split("/")[2])]);
  let n = taken.size;
  return () => {
    // the device's name keeps entries of two phones apart
    for (;;) {
      const id = `n${++n}-${store.device.id}`.slice(0, 64);
      if (!taken.has(id)) {
        taken.add(id);
        return id;
      }
    }
  };
}

/**
 * The changes that put entries into an aeroplane's notebook, which is made when there is none.
 * @param {Store} store
 * @param {Json} aeroplane
 * @param {Json[]} entries without ids
 * @param {string} name of a new notebook
 * @returns {Change[]}
 */
export function noteChanges(store, aeroplane, entries, name) {
  const book = bookOf(store, aeroplane);
  const fresh = freshIds(store, book);
  const whole = entries.map((entry) => ({ ...entry, id: fresh() }));
  if (book) return whole.map((value) => ({ document: book.id, pointer: `/entries/${value.id}`, value }));
  let id = `${aeroplane.id.slice(0, 50)}-notebook`;
  for (let n = 2; store.get(id) || store.removed[id]; n++) id = `${aeroplane.id.slice(0, 50)}-notebook-${n}`;
  const made = { version: 1, kind: "notebook", id, name, aeroplane: aeroplane.id, entries: whole };
  return [{ document: id, pointer: "", value: made }];
}

/** What the flight knows of an entry, as its fields; of one flown aloft only what is not the strip's. @param {Json} noted what the core said @param {string} what @returns {Json} */
export function knownFields(noted, what) {
  const side = noted?.[what === "landing" ? "landing" : "takeoff"] ?? {};
  const { mass, pressure_altitude, temperature, headwind, slope, surface, strip, direction, flap, configuration } = side;
  const runway = what === "takeoff" || what === "landing";
  const own = runway ? { pressure_altitude, temperature, headwind, slope, surface, strip, direction, flap } : {};
  const still = what === "static" ? { pressure_altitude, temperature, strip } : {};
  const all = { configuration, mass: mass && { value: Math.round(mass * 10) / 10, origin: "measured" }, ...own, ...still };
  return Object.fromEntries(Object.entries(all).filter(([, value]) => value !== undefined && value !== null));
}

/** A figure of somebody's own. @param {number} value @param {number} sd */
export const measured = (value, sd) => ({ value, origin: "measured", ...(sd > 0 ? { sd } : {}) });

/** The head of a new entry. @param {string} what @param {string} technique */
export const headOf = (what, technique) => ({ what, at: now(), technique });
