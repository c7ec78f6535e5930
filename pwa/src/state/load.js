// Edits of the load and the fuel, and the plain sums that a list shows beside its ticks. Whether it fits and balances
// is for the core to say.
import { byId, itemsOf, stationsOf } from "./plan.js";
import { withValue } from "./pointer.js";

/** @typedef {import("./store.js").Store} Store @typedef {import("./store.js").Change} Change */
/** @typedef {import("./pointer.js").Json} Json */
/** @typedef {NonNullable<ReturnType<typeof import("./plan.js").planOf>>} Plan */

/** How an item rides on this load, or undefined. @param {Json} load @param {string} item */
export const placedOf = (load, item) => load.placed?.find((/** @type {Json} */ one) => one.item === item);

/**
 * The bay that an item rides in, by itself or in what it is inside; "" where it stays behind.
 * @param {Json} load
 * @param {string} item
 * @returns {string}
 */
export function bayOf(load, item) {
  let placed = placedOf(load, item);
  // Two that are inside each other ride nowhere.
  for (const seen = new Set(); placed?.inside; placed = placedOf(load, placed.inside)) {
    if (seen.has(placed.item)) return "";
    seen.add(placed.item);
  }
  return placed?.bay ?? "";
}

/**
 * What somebody ticked as packed and the plan leaves behind: it may lie in the aeroplane, and nothing counts it.
 * @param {Json} load
 * @returns {string[]} ids
 */
export const uncounted = (load) => (load?.placed ?? []).filter((/** @type {Json} */ { item, packed }) => packed && !bayOf(load, item)).map((/** @type {Json} */ { item }) => item);

/**
 * Everything that is inside an item on this load, however deep.
 * @param {Json} load
 * @param {string} item
 * @returns {string[]} ids
 */
export function contentsOf(load, item) {
  const found = /** @type {Set<string>} */ (new Set());
  const look = (/** @type {string} */ holder) => {
    for (const { item: id, inside } of load.placed ?? []) {
      if (inside !== holder || found.has(id)) continue;
      found.add(id);
      look(id);
    }
  };
  look(item);
  return [...found];
}

/** Litres that an item takes as it lies [m³], undefined where no size is given. @param {Json} item */
export function bulkOf({ size }) {
  if (!size) return undefined;
  return size.shape === "soft" ? size.volume?.value : size.length.value * size.width.value * size.height.value;
}

/**
 * The bay that an item goes to when it is ticked: where it must ride, where it rode on another load of the trip, where
 * most of its kit is, else the first that may take it.
 * @param {Store} store
 * @param {Plan} plan
 * @param {Json} item
 * @returns {string | undefined}
 */
export function bayFor(store, { trip, load, aeroplane, configuration }, item) {
  const bays = stationsOf(aeroplane, configuration).bays.map((/** @type {Json} */ { id }) => id);
  const may = bays.filter((/** @type {string} */ id) => !item.not_bays?.includes(id));
  const must = may.find((/** @type {string} */ id) => item.must_bays?.includes(id));
  if (must) return must;
  const before = trip.loads.map((/** @type {Json} */ other) => placedOf(other, item.id)?.bay).find((/** @type {string} */ id) => may.includes(id));
  if (before) return before;
  const mates = itemsOf(store, trip).find((/** @type {Json} */ { items }) => items.includes(item))?.items ?? [];
  const count = (/** @type {string} */ bay) => mates.filter((/** @type {Json} */ mate) => placedOf(load, mate.id)?.bay === bay).length;
  return [...may].sort((a, b) => count(b) - count(a))[0];
}

/**
 * Put an item into a bay, or leave it behind (null); out of what it was inside.
 * @param {Plan} plan
 * @param {string} item
 * @param {string | null} bay
 * @returns {Change[]}
 */
export function placeChanges({ trip, load }, item, bay) {
  const place = `/loads/${load.id}/placed/${item}`;
  const placed = placedOf(load, item);
  if (!placed) return [{ document: trip.id, pointer: place, value: { item, bay } }];
  /** @type {Change[]} */
  const changes = [{ document: trip.id, pointer: `${place}/bay`, value: bay }];
  if (placed.inside) changes.push({ document: trip.id, pointer: `${place}/inside` });
  return changes;
}

/**
 * A whole list of things: all of it into its bays, or none of it. What its own rules let into no bay stays as it is.
 * @param {Store} store
 * @param {Plan} plan
 * @param {Json[]} items
 * @param {boolean} comes
 * @returns {{ changes: Change[], left: Json[] }}
 */
export function wholeChanges(store, plan, items, comes) {
  const bays = stationsOf(plan.aeroplane, plan.configuration).bays.map((/** @type {Json} */ { id }) => id);
  const goes = (/** @type {Json} */ { must_bays, not_bays }) => bays.some((/** @type {string} */ id) => !not_bays?.includes(id) && (!must_bays?.length || must_bays.includes(id)));
  /** @type {Change[]} */
  const changes = [];
  /** @type {Json[]} */
  const left = [];
  let { trip } = plan;
  // What lies inside a thing of the list comes or stays with that, so things that lie in none go first.
  const inside = (/** @type {Json} */ item) => Boolean(placedOf(plan.load, item.id)?.inside);
  for (const item of [...items.filter((one) => !inside(one)), ...items.filter(inside)]) {
    const now = { ...plan, trip, load: byId(trip.loads, plan.load.id) };
    if ((bayOf(now.load, item.id) !== "") === comes) continue;
    const bay = comes && goes(item) ? bayFor(store, now, item) : undefined;
    if (comes && !bay) {
      left.push(item);
      continue;
    }
    const made = placeChanges(now, item.id, bay ?? null);
    for (const { pointer, value } of made) trip = withValue(trip, pointer, value);
    changes.push(...made);
  }
  return { changes, left };
}

/**
 * Pack an item into another thing of this load.
 * @param {Plan} plan
 * @param {string} item
 * @param {string} holder
 * @returns {Change[]}
 */
export function insideChanges({ trip, load }, item, holder) {
  const place = `/loads/${load.id}/placed/${item}`;
  return placedOf(load, item)
    ? [{ document: trip.id, pointer: `${place}/inside`, value: holder }]
    : [{ document: trip.id, pointer: place, value: { item, bay: null, inside: holder } }];
}

/**
 * Who sits on a seat: more than one where a lap or a bench is shared.
 * @param {Json} load
 * @param {string} seat
 * @returns {string[]} ids of persons
 */
export const sittersOf = (load, seat) =>
  (load.seats ?? []).filter((/** @type {Json} */ one) => one.seat === seat).map((/** @type {Json} */ { person }) => person);

/**
 * Put `person` on a seat in the place of `before` ("" for none on either side); who is displaced takes the seat that
 * becomes free, if one does.
 * @param {Plan} plan
 * @param {string} seat
 * @param {string} before
 * @param {string} person
 * @returns {Change[]}
 */
export function seatChanges({ trip, load }, seat, before, person) {
  const place = (/** @type {string} */ id) => `/loads/${load.id}/seats/${id}`;
  const earlier = (load.seats ?? []).find((/** @type {Json} */ one) => one.person === person)?.seat;
  /** @type {Change[]} */
  const changes = [];
  if (person && earlier) changes.push({ document: trip.id, pointer: `${place(person)}/seat`, value: seat });
  if (person && !earlier) changes.push({ document: trip.id, pointer: place(person), value: { seat, person } });
  if (before && earlier && earlier !== seat) changes.push({ document: trip.id, pointer: `${place(before)}/seat`, value: earlier });
  else if (before && before !== person) changes.push({ document: trip.id, pointer: place(before) });
  return changes;
}

/**
 * Fill a tank to so much usable fuel [m³].
 * @param {Plan} plan
 * @param {string} tank
 * @param {number} volume
 * @returns {Change[]}
 */
export function fuelChanges({ trip, leg }, tank, volume) {
  const place = `/legs/${leg.id}/fuel/${tank}`;
  const there = leg.fuel?.find((/** @type {Json} */ one) => one.tank === tank);
  if (!there) return [{ document: trip.id, pointer: place, value: { tank, volume: { value: volume, origin: "measured" } } }];
  return [{ document: trip.id, pointer: `${place}/volume`, value: { value: volume, origin: there.volume.origin } }];
}

/** Has the aeroplane every seat and bay of this load, and are its people and things still here? @param {Store} store @param {Json} load @param {Json} aeroplane */
export function suits(store, load, aeroplane) {
  const items = new Set(store.all("kit").flatMap((kit) => kit.items.map((/** @type {Json} */ { id }) => id)));
  return (
    (load.seats ?? []).every((/** @type {Json} */ { seat, person }) => byId(aeroplane?.seats, seat) && store.get(person)?.kind === "person") &&
    (load.placed ?? []).every((/** @type {Json} */ { item, bay }) => items.has(item) && (!bay || byId(aeroplane?.bays, bay)))
  );
}
