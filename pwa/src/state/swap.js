// Another aeroplane for the same trip. Seats, bays, tanks, flaps and cruise belong to an aeroplane, so they are chosen
// anew: as they were when that aeroplane was last used on this trip, else by position. What results is a load like any
// other; whether it fits is for the core to say.
import { suits } from "./load.js";
import { byId, stationsOf } from "./plan.js";

/** @typedef {import("./store.js").Store} Store @typedef {import("./store.js").Change} Change */
/** @typedef {import("./pointer.js").Json} Json */

/** What of a leg belongs to its aeroplane. */
const OWN = ["takeoff_flap", "landing_flap", "cruise", "fuel", "load"];

/**
 * The changes that put another aeroplane in the place of the open leg's: on that leg when it names its own, else on
 * every leg that flies the trip's.
 * @param {Store} store
 * @param {Json} trip
 * @param {Json} leg
 * @param {string} id of the other aeroplane
 * @param {Json} [memory] kept from earlier swaps: by aeroplane, what each leg had
 * @returns {{ changes: Change[], memory: Json }}
 */
export function swapped(store, trip, leg, id, memory = {}) {
  const old = store.get(leg.aeroplane ?? trip.aeroplane);
  const other = store.get(id);
  const legs = leg.aeroplane ? [leg] : trip.legs.filter((/** @type {Json} */ one) => !one.aeroplane);
  const before = memory[id] ?? {};
  // a variant has the same configurations, flaps and cruises by the same ids: what was chosen stays chosen
  const origin = (/** @type {Json} */ one) => one.variant_of ?? one.id;
  const same = (/** @type {Json[] | undefined} */ list, /** @type {string | undefined} */ id) => (origin(old) === origin(other) ? byId(list, id) : undefined);
  const configuration = byId(other.configurations, before.configuration) ?? same(other.configurations, leg.configuration ?? trip.configuration) ?? other.configurations[0];
  const loads = trip.loads.slice();
  const place = (/** @type {Json} */ one, /** @type {string} */ field) => `/legs/${one.id}/${field}`;
  /** @type {Change[]} */
  const changes = [];
  /** @type {Json} */
  const kept = { configuration: leg.configuration ?? trip.configuration, legs: {} };
  for (const one of legs) {
    kept.legs[one.id] = Object.fromEntries(OWN.map((field) => [field, one[field]]));
    const had = before.legs?.[one.id];
    const known = had && stillHolds(store, had, loads, other) ? had : undefined;
    const load = known?.load ?? carriedLoad(store, loads, byId(loads, one.load), other, configuration);
    // What was not chosen or told with the one aeroplane is not chosen by a change to the other.
    const flap = (/** @type {"takeoff" | "landing"} */ use) => (one[`${use}_flap`] ? (same(other.flaps, one[`${use}_flap`]) ?? other.flaps?.find((/** @type {Json} */ f) => f.used_for?.includes(use)))?.id : undefined);
    const next = known ?? {
      load,
      fuel: one.fuel?.length ? carriedFuel(one.fuel, stationsOf(other, configuration).tanks) : one.fuel,
      takeoff_flap: flap("takeoff"),
      landing_flap: flap("landing"),
      cruise: one.cruise ? (same(other.cruises, one.cruise) ?? other.cruises?.[0])?.id : undefined,
    };
    for (const field of OWN) changes.push({ document: trip.id, pointer: place(one, field), value: field === "load" ? load : next[field] });
    if (one.configuration) changes.push({ document: trip.id, pointer: place(one, "configuration"), value: leg.aeroplane ? configuration.id : undefined });
  }
  if (leg.aeroplane) {
    changes.push({ document: trip.id, pointer: place(leg, "aeroplane"), value: id });
    if (!leg.configuration) changes.push({ document: trip.id, pointer: place(leg, "configuration"), value: configuration.id });
  } else {
    changes.push({ document: trip.id, pointer: "/aeroplane", value: id });
    changes.push({ document: trip.id, pointer: "/configuration", value: configuration.id });
  }
  const added = loads.slice(trip.loads.length).map((/** @type {Json} */ value) => ({ document: trip.id, pointer: `/loads/${value.id}`, value }));
  return { changes: [...added, ...changes], memory: { ...memory, [old.id]: kept } };
}

/** Is what a leg had with an aeroplane still possible? Both may have been edited since. @param {Store} store @param {Json} had @param {Json[]} loads @param {Json} other */
function stillHolds(store, had, loads, other) {
  const load = byId(loads, had.load);
  const named = (/** @type {string} */ list, /** @type {string | undefined} */ id) => !id || byId(other[list], id) !== undefined;
  return (
    load !== undefined &&
    suits(store, load, other) &&
    named("flaps", had.takeoff_flap) &&
    named("flaps", had.landing_flap) &&
    named("cruises", had.cruise) &&
    (had.fuel ?? []).every((/** @type {Json} */ { tank, volume }) => named("tanks", tank) && volume.value <= (byId(other.tanks, tank).usable?.value ?? Infinity))
  );
}

/**
 * The id of a load like `load` for the other aeroplane; it is added to `loads` when it is new.
 * @param {Store} store
 * @param {Json[]} loads
 * @param {Json} load
 * @param {Json} other
 * @param {Json} configuration
 */
function carriedLoad(store, loads, load, other, configuration) {
  const base = `${load.id}-${other.id}`.slice(0, 60);
  let id = base;
  for (let n = 2; byId(loads, id); n++) {
    if (suits(store, byId(loads, id), other)) return id;
    id = `${base}-${n}`;
  }
  const { seats, bays } = stationsOf(other, configuration);
  /** @type {Map<string, string>} */
  const bayOf = new Map();
  const free = bays.map((/** @type {Json} */ bay) => bay.id);
  const into = (/** @type {string | null | undefined} */ bay) => {
    if (!bay || !free.length) return null;
    if (!bayOf.has(bay)) bayOf.set(bay, free.includes(bay) ? bay : free[Math.min(bayOf.size, free.length - 1)]);
    return bayOf.get(bay);
  };
  loads.push({
    id,
    name: load.name,
    seats: (load.seats ?? []).slice(0, seats.length).map((/** @type {Json} */ { person }, /** @type {number} */ i) => ({ seat: seats[i].id, person })),
    placed: (load.placed ?? []).map((/** @type {Json} */ one) => ({ ...one, bay: into(one.bay) })),
  });
  return id;
}

/**
 * As many litres as far as they go in, shared by the size of the tanks.
 * @param {Json[]} fuel
 * @param {Json[]} all
 */
function carriedFuel(fuel, all) {
  const tanks = all.filter(({ usable }) => usable);
  const room = tanks.reduce((sum, { usable }) => sum + usable.value, 0);
  const total = fuel.reduce((sum, { volume }) => sum + volume.value, 0);
  const share = room > 0 ? Math.min(1, total / room) : 0;
  return tanks.map(({ id, usable }) => ({ tank: id, volume: { value: usable.value * share, origin: "estimated" } }));
}
