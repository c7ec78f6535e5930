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

/** @typedef {{ needed: number | null, available: number | null }} Limit [kg] */

/** The limits of the whole aeroplane, as *balances* measured them. @param {Json} balances @returns {Limit[]} */
export const allUpOf = (balances) =>
  (balances?.measures ?? [])
    .filter((/** @type {Json} */ { name }) => ALL_UP.test(name))
    .map((/** @type {Json} */ { needed, available }) => ({ needed, available }));

/**
 * The limit of which least is left. One that can't be said leaves it open, as nobody knows whether it is less.
 * @param {Limit[]} limits
 * @returns {Limit | undefined}
 */
export function leastOf(limits) {
  if (limits.some((one) => leftOf(one) === undefined)) return { needed: null, available: null };
  return [...limits].sort((a, b) => (leftOf(a) ?? 0) - (leftOf(b) ?? 0))[0];
}

/** @param {Limit} limit */
const leftOf = ({ needed, available }) => (typeof needed === "number" && typeof available === "number" ? available - needed : undefined);

/**
 * The limit [kg] of a bay's own mass, lowered to where a limit that it shares, or the aeroplane, takes no more. A limit
 * that is overstepped already leaves the bay nothing; by how much is said where that limit stands. Null: can't be said.
 * One of the aeroplane that can't be said is told by its own line, and empties no bay.
 * @param {{ id: string, mass: number | null, mass_limit: number | null }} bay
 * @param {Shared[]} shared
 * @param {Limit[]} allUp
 * @returns {number | null}
 */
export function bayLimit({ id, mass, mass_limit }, shared, allUp) {
  if (typeof mass !== "number" || typeof mass_limit !== "number") return null;
  const own = shared.filter(({ stations }) => stations.includes(id)).map(leftOf);
  if (own.includes(undefined)) return null;
  const left = [...own, ...allUp.map(leftOf)].filter((one) => one !== undefined);
  return Math.min(mass_limit, ...left.map((one) => mass + Math.max(one, 0)));
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
