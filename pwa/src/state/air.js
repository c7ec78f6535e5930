// Edits of the air: what was read is kept as it was read. The time of a reading is that of its oldest figure, so that
// a new temperature does not make an old wind look new.
import { iso, now } from "./time.js";

/** @typedef {import("./store.js").Store} Store @typedef {import("./store.js").Change} Change */
/** @typedef {import("./pointer.js").Json} Json */

/** The figures that are read at a strip. */
const READ = ["pressure", "temperature", "wind"];

/**
 * When each figure of an air was last set [ms].
 * @param {Json} air
 * @param {string} field
 */
export function setAt(air, field) {
  const stamps = Object.entries(air.stamps ?? {}).filter(([pointer]) => pointer === `/${field}` || pointer.startsWith(`/${field}/`));
  return Math.max(Date.parse(air.at), ...stamps.map(([, stamp]) => Date.parse(/** @type {any} */ (stamp).at)));
}

/**
 * The changes that set one figure of the air at one end of the leg; the air is made when there is none yet.
 * @param {Store} store
 * @param {Json} trip
 * @param {Json} leg
 * @param {"from" | "to"} end
 * @param {string} field
 * @param {Json} value
 * @returns {Change[]}
 */
export function airChanges(store, trip, leg, end, field, value) {
  const air = store.get(leg[`air_${end}`]);
  if (!air) {
    const strip = store.get(leg[`${end}_strip`]);
    const id = freeId(store, `air-${strip.id}`);
    const origin = end === "from" ? "read" : "told";
    const made = { version: 1, kind: "air", id, name: strip.name, strip: strip.id, at: now(), origin, [field]: value };
    return [
      { document: id, pointer: "", value: made },
      { document: trip.id, pointer: `/legs/${leg.id}/air_${end}`, value: id },
    ];
  }
  /** @type {Change[]} */
  const changes = [{ document: air.id, pointer: `/${field}`, value }];
  if (READ.includes(field) && air.origin !== "forecast") {
    const others = READ.filter((other) => other !== field && air[other]).map((other) => setAt(air, other));
    const oldest = Math.min(Date.now(), ...others);
    if (oldest > Date.parse(air.at)) changes.push({ document: air.id, pointer: "/at", value: iso(oldest) });
  }
  return changes;
}

/** An id that no document has yet. @param {Store} store @param {string} wanted */
function freeId(store, wanted) {
  const short = wanted.slice(0, 56);
  if (!store.get(short)) return short;
  for (let n = 2; ; n++) if (!store.get(`${short}-${n}`)) return `${short}-${n}`;
}
