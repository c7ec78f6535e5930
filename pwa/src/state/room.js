// What is left by mass: a bay offers no more than the limits that it shares with others, and the aeroplane, still take.

/** @typedef {import("./pointer.js").Json} Json */

/**
 * @typedef {object} Shared one limit of several places
 * @property {string} name
 * @property {string[]} stations ids
 * @property {number | null} needed [kg]
 * @property {number | null} available [kg]
 */

/** Measures of *balances* that a kilogram more anywhere aboard uses up. */
const ALL_UP = /^(mass_(ramp|takeoff|zero_fuel|landing|cap)|strip_mass_(from|to))$/;

/** The limits of several places together, as *balances* measured them. @param {Json} aeroplane @param {Json} balances @returns {Shared[]} */
export const sharedOf = (aeroplane, balances) =>
  (aeroplane?.joint_limits ?? []).map((/** @type {Json} */ { name, stations, mass_limit }) => {
    const found = balances?.measures.find((/** @type {Json} */ one) => one.name === "joint_mass" && one.values?.limit === name);
    return { name, stations, needed: found?.needed ?? null, available: found?.available ?? mass_limit?.value ?? null };
  });

/**
 * The measure of the whole aeroplane of which least is left. One that can't be said leaves it open, as nobody knows
 * whether it is less.
 * @param {Json} balances
 * @returns {{ needed: number | null, available: number | null } | undefined}
 */
export function allUpOf(balances) {
  const all = balances?.measures.filter((/** @type {Json} */ { name }) => ALL_UP.test(name)) ?? [];
  if (all.some((/** @type {Json} */ { margin }) => margin === null)) return { needed: null, available: null };
  return all.sort((/** @type {Json} */ a, /** @type {Json} */ b) => a.margin - b.margin)[0];
}

/**
 * The limit [kg] of a bay's own mass, lowered to where a limit that it shares, or the aeroplane, takes no more. A limit
 * that is overstepped already leaves the bay nothing; by how much is said where that limit stands. Null: can't be said.
 * @param {{ id: string, mass: number | null, mass_limit: number | null }} bay
 * @param {Shared[]} shared
 * @param {{ needed: number | null, available: number | null } | undefined} allUp
 * @returns {number | null}
 */
export function bayLimit({ id, mass, mass_limit }, shared, allUp) {
  if (typeof mass !== "number" || typeof mass_limit !== "number") return null;
  const over = [...shared.filter(({ stations }) => stations.includes(id)), ...(allUp ? [allUp] : [])];
  let limit = mass_limit;
  for (const { needed, available } of over) {
    if (typeof needed !== "number" || typeof available !== "number") return null;
    limit = Math.min(limit, mass + Math.max(available - needed, 0));
  }
  return limit;
}

/**
 * The same limits once other masses lie in the bays: people and fuel stay.
 * @template {{ needed: number | null, stations?: string[] }} T
 * @param {T} limit
 * @param {Json[]} before bays with their `mass` as the limit was measured
 * @param {Json[]} after bays with their `mass` then
 * @returns {T}
 */
export function after(limit, before, after) {
  const sum = (/** @type {Json[]} */ bays) => bays.filter(({ id }) => limit.stations?.includes(id) ?? true).reduce((all, { mass }) => all + (mass ?? NaN), 0);
  const needed = limit.needed === null ? NaN : limit.needed + sum(after) - sum(before);
  return { ...limit, needed: Number.isFinite(needed) ? needed : null };
}
