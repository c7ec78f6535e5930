// Trips, legs and loads made, moved and taken away. Each function gives the changes; whether they may stand is for the
// core's gate. Nothing is filled in that nobody told: what a new leg lacks, its answers name.
import { swapped } from "./swap.js";

/** @typedef {import("./store.js").Store} Store @typedef {import("./store.js").Change} Change */
/** @typedef {import("./pointer.js").Json} Json */

/** What belongs to the way between two strips: between others it says nothing. */
const WAY = ["waypoints", "wind_aloft", "cruise_altitude"];

/**
 * @typedef {object} Told of a new leg
 * @property {string} aeroplane
 * @property {string} configuration
 * @property {string} from
 * @property {string} to
 * @property {string} [departure]
 */

/**
 * A leg as far as it was told.
 * @param {Told} told
 * @param {string} id
 * @param {string} load
 * @param {Json} [trip] whose aeroplane it flies, if it is the same
 * @returns {Json}
 */
export function legOf({ aeroplane, configuration, from, to, departure }, id, load, trip) {
  const own = trip && (trip.aeroplane !== aeroplane || trip.configuration !== configuration);
  return { id, from_strip: from, to_strip: to, ...(departure ? { departure } : {}), ...(own ? { aeroplane, configuration } : {}), load };
}

/** Ids of legs, also of those taken away: answers are known by them, whatever the trip. @param {Store} store @returns {string[]} */
export const legIds = (store) =>
  store.all("trip").flatMap((trip) => [...trip.legs.map((/** @type {Json} */ { id }) => id), ...goneFrom(trip, "legs")]);

/** Ids of the loads of a trip, with those taken away. @param {Json} trip @returns {string[]} */
export const loadIds = (trip) => [...trip.loads.map((/** @type {Json} */ { id }) => id), ...goneFrom(trip, "loads")];

/** @param {Json} trip @param {string} list */
const goneFrom = (trip, list) => Object.keys(trip.removed ?? {}).flatMap((place) => (place.startsWith(`/${list}/`) ? [place.split("/")[2]] : []));

/**
 * A load with the same people and things; what was packed or weighed on the other is not on this one yet.
 * @param {Json} load
 * @param {string} id
 * @param {string} name
 * @returns {Json}
 */
export const copyOf = (load, id, name) => ({
  id,
  name,
  seats: structuredClone(load.seats ?? []),
  placed: (load.placed ?? []).map((/** @type {Json} */ { packed, weighed, ...rest }) => rest),
});

/**
 * Another strip at one end of a leg. Direction and air are those of a strip, the rest of the way between two.
 * @param {Json} trip
 * @param {Json} leg
 * @param {"from" | "to"} end
 * @param {string} strip
 * @returns {Change[]}
 */
export const stripChanges = (trip, leg, end, strip) => [
  { document: trip.id, pointer: `/legs/${leg.id}/${end}_strip`, value: strip },
  ...[end === "from" ? "takeoff_direction" : "landing_direction", `air_${end}`, ...WAY].map((field) => ({ document: trip.id, pointer: `/legs/${leg.id}/${field}`, value: undefined })),
];

/**
 * The leg's place in the trip, earlier or later by one.
 * @param {Json} trip
 * @param {string} id
 * @param {-1 | 1} by
 * @returns {Change[]}
 */
export function moveChanges(trip, id, by) {
  const here = trip.legs.findIndex((/** @type {Json} */ leg) => leg.id === id);
  const there = here + by;
  if (here < 0 || there < 0 || there >= trip.legs.length) return [];
  const legs = trip.legs.slice();
  [legs[here], legs[there]] = [legs[there], legs[here]];
  return [{ document: trip.id, pointer: "/legs", value: legs }];
}

/**
 * An element taken away from a list of the trip. What is put back later stands at the end: so it goes there first, and
 * undo finds its place again.
 * @param {Json} trip
 * @param {"legs" | "loads"} list
 * @param {string} id
 * @returns {Change[]}
 */
export function removeChanges(trip, list, id) {
  const others = trip[list].filter((/** @type {Json} */ one) => one.id !== id);
  const order = [...others, ...trip[list].filter((/** @type {Json} */ one) => one.id === id)];
  return [
    { document: trip.id, pointer: `/${list}`, value: order },
    { document: trip.id, pointer: `/${list}/${id}`, value: undefined },
  ];
}

/** The leg flies an aeroplane of its own from now on: the one that it has. @param {Json} trip @param {Json} leg @returns {Change[]} */
export const ownChanges = (trip, leg) => [
  { document: trip.id, pointer: `/legs/${leg.id}/aeroplane`, value: leg.aeroplane ?? trip.aeroplane },
  { document: trip.id, pointer: `/legs/${leg.id}/configuration`, value: leg.configuration ?? trip.configuration },
];

/**
 * The leg flies the trip's aeroplane again.
 * @param {Store} store
 * @param {Json} trip
 * @param {Json} leg
 * @param {Json} memory of earlier swaps
 * @returns {{ changes: Change[], memory: Json }}
 */
export function sharedChanges(store, trip, leg, memory) {
  const other = leg.aeroplane && leg.aeroplane !== trip.aeroplane;
  const swap = other ? swapped(store, trip, leg, trip.aeroplane, memory) : { changes: [], memory };
  const back = ["aeroplane", "configuration"].map((field) => ({ document: trip.id, pointer: `/legs/${leg.id}/${field}`, value: undefined }));
  return { changes: [...swap.changes, ...back], memory: swap.memory };
}
