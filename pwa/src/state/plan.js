// What is open, looked up: the trip, its leg, and the documents that the leg names.

/** @typedef {import("./store.js").Store} Store */
/** @typedef {import("./pointer.js").Json} Json */

/** @param {Store} store @returns {Json} */
export const openTrip = (store) => {
  const trip = store.get(store.open.trip);
  return trip?.kind === "trip" ? trip : store.all("trip")[0];
};

/** @param {Store} store @returns {Json} */
export const openLeg = (store) => {
  const legs = openTrip(store)?.legs ?? [];
  return legs.find((/** @type {Json} */ leg) => leg.id === store.open.leg) ?? legs[0];
};

/**
 * Everything that the open leg names. Undefined when there is no trip.
 * @param {Store} store
 */
export function planOf(store) {
  const trip = openTrip(store);
  const leg = openLeg(store);
  return trip && leg ? planFor(store, trip, leg) : undefined;
}

/** Everything that one leg of a trip names. @param {Store} store @param {Json} trip @param {Json} leg */
export function planFor(store, trip, leg) {
  const aeroplane = store.get(leg.aeroplane ?? trip.aeroplane);
  const from = store.get(leg.from_strip);
  const to = store.get(leg.to_strip);
  const configuration = leg.configuration ?? trip.configuration;
  return {
    trip,
    leg,
    number: trip.legs.indexOf(leg) + 1,
    aeroplane,
    configuration: byId(aeroplane?.configurations, configuration),
    from,
    to,
    takeoff: byId(from?.directions, leg.takeoff_direction),
    landing: byId(to?.directions, leg.landing_direction),
    load: byId(trip.loads, leg.load),
    airFrom: store.get(leg.air_from),
    airTo: store.get(leg.air_to),
    settings: settingsOf(store, trip),
  };
}

/** @param {Store} store @param {Json} [trip] @returns {Json} */
export const settingsOf = (store, trip = openTrip(store)) => store.get(trip?.settings) ?? store.all("settings")[0];

/**
 * @param {Json[] | undefined} list
 * @param {string | null | undefined} id
 * @returns {Json}
 */
export const byId = (list, id) => list?.find((element) => element.id === id);

/**
 * Seats, bays and tanks that the configuration leaves in. What it is based on lends it its masses, not what is out.
 * @param {Json} aeroplane
 * @param {Json} configuration
 */
export function stationsOf(aeroplane, configuration) {
  const left = (/** @type {string} */ what) =>
    (aeroplane?.[what] ?? []).filter((/** @type {Json} */ { id }) => !configuration?.[`${what}_out`]?.includes(id));
  return { seats: left("seats"), bays: left("bays"), tanks: left("tanks") };
}

/** Every item of the trip's kits, with its kit. @param {Store} store @param {Json} trip */
export function itemsOf(store, trip) {
  const kits = trip.kits?.length ? trip.kits.map((/** @type {string} */ id) => store.get(id)) : store.all("kit");
  return kits.filter(Boolean).map((/** @type {Json} */ kit) => ({ kit, items: kit.items }));
}

/**
 * Does something typed, and not counted, belong to what a leg rests on? Then no answer on it is of now.
 * @param {Store} store
 * @param {Json} trip
 * @param {Json} leg
 */
export function isUnread(store, trip, leg) {
  const own = [trip.id, leg.air_from, leg.air_to, leg.aeroplane ?? trip.aeroplane, leg.from_strip, leg.to_strip, trip.settings, ...(trip.people ?? []), ...(trip.kits ?? [])];
  return Object.entries(store.drafts).some(([place, typed]) => {
    const [id, part, other] = place.split("/");
    if (typed.trim() === "" || part === "noting") return false; // an entry of the notebook decides nothing yet
    // what is kept under no document yet belongs to the leg that is open
    if (!store.get(id)) return true;
    return own.includes(id) && !(id === trip.id && part === "legs" && other !== leg.id);
  });
}
