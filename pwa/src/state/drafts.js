// Where something half-typed stands, by the place under which it is kept.

/** @typedef {import("./store.js").Store} Store */

/** What is asked on the page of a new entry; what else is noted is a run of a track. */
const ASKED = /^(roll|over_50ft|passed|markers|paces|pace|indicated|rate|sink|rotation|flow|volume|engine_time|pressure_altitude|temperature)$/;

/**
 * @param {Pick<Store, "get">} store
 * @param {string} place of the draft
 * @param {string} [trip] the open one
 * @returns {string} address within the app
 */
export function draftPage(store, place, trip) {
  const [id, part, , what] = place.split("/");
  if (id === "notebook") return ASKED.test(place.split("/")[2] ?? "") ? "#/notebook/new" : "#/notebook/track";
  const kind = store.get(id)?.kind;
  if (kind === "air" || !kind) return "#/air";
  if (kind === "settings") return "#/trip/rules";
  if (id === trip) return part !== "legs" ? "#/trip/rules" : what === "fuel" ? "#/load" : "#/trip/leg";
  return `#/edit/${encodeURIComponent(id)}`;
}
