// What another phone has handed to this one: parts as they arrive, lists to pack by, and what was done by them. Kept
// beside the documents and apart from them: a passenger's phone holds nobody's aeroplane.
import { partIn, textOf } from "./wire.js";

/** @typedef {import("./pointer.js").Json} Json @typedef {import("./store.js").Store} Store */
/** @typedef {import("../worker/client.js").CoreClient} CoreClient @typedef {import("./wire.js").Part} Part */

/**
 * @typedef {object} Held a list with what was done by it
 * @property {Json} list
 * @property {Json[]} deeds
 */

/** Lists that are remembered; the oldest goes first. */
const MOST_LISTS = 12;

const keyOf = (/** @type {Json} */ { trip, load }) => `${trip}/${load}`;

/** Is the one stamp later than the other? @param {Json} one @param {string | undefined} other */
const after = (one, other) => other === undefined || Date.parse(one.at) >= Date.parse(other);

/** Fires "change" when anything of it changes. */
export class Handed extends EventTarget {
  /** @type {Record<string, Held>} by trip and load, the newest last */
  lists = {};
  /** Parts of a text that is not whole yet. @type {Part[]} */
  parts = [];
  /** What came back from a passenger and waits to be looked at, JSON text. */
  brought = "";
  /** What is wrong with what arrived last: a text id or the core's words. */
  problem = "";

  /** @param {Store} store @param {CoreClient} core */
  constructor(store, core) {
    super();
    this.store = store;
    this.core = core;
  }

  async load() {
    const kept = await this.store.kept("handed");
    this.lists = kept?.lists ?? {};
    this.parts = kept?.parts ?? [];
    this.brought = kept?.brought ?? "";
  }

  #keep() {
    this.store.keep("handed", { lists: this.lists, parts: this.parts, brought: this.brought });
    this.dispatchEvent(new Event("change"));
  }

  /** The list that came last. @returns {Held | undefined} */
  get newest() {
    return Object.values(this.lists).at(-1);
  }

  /**
   * A code was read, or its address opened.
   * @param {string} text
   * @returns {Promise<"part" | "list" | "brought" | "">} what is whole now; "" where it was refused, `problem` says why
   */
  async read(text) {
    const part = partIn(text);
    if (!part) return this.#refuse("hand.foreign");
    const others = this.parts.filter(({ id, of, index }) => id === part.id && of === part.of && index !== part.index);
    this.parts = [...others, part];
    this.problem = "";
    if (this.parts.length < part.of) {
      this.#keep();
      return "part";
    }
    const whole = this.parts;
    this.parts = [];
    try {
      return await this.take(await textOf(whole));
    } catch (problem) {
      return this.#refuse(/** @type {Error} */ (problem).message);
    }
  }

  /**
   * A whole message, from codes or a file.
   * @param {string} text
   * @returns {Promise<"list" | "brought" | "">}
   */
  async take(text) {
    try {
      const message = await this.core.ask("handed", { message: text });
      this.problem = "";
      this.parts = []; // whatever was begun, this came whole
      if (message.format === "tussock-list") this.#put(message);
      else this.brought = text;
      this.#keep();
      return message.format === "tussock-list" ? "list" : "brought";
    } catch (problem) {
      return this.#refuse(/** @type {Error} */ (problem).message);
    }
  }

  /** @param {string} why @returns {""} */
  #refuse(why) {
    this.problem = why;
    this.#keep();
    return "";
  }

  /** A newer list takes an older one's place; what was done by that stays done. @param {Json} list */
  #put(list) {
    const key = keyOf(list);
    const { [key]: before, ...others } = this.lists;
    const stays = before && Date.parse(before.list.at) > Date.parse(list.at) ? before.list : list;
    const kept = Object.entries(others).slice(1 - MOST_LISTS);
    this.lists = { ...Object.fromEntries(kept), [key]: { list: stays, deeds: before?.deeds ?? [] } };
  }

  /** What came back was looked at: taken, or left. */
  seen() {
    this.brought = "";
    this.#keep();
  }

  /** A list is not wanted any more. @param {Json} list */
  drop(list) {
    const { [keyOf(list)]: _, ...others } = this.lists;
    this.lists = others;
    this.#keep();
  }

  /**
   * Something was done to an item of a list.
   * @param {Json} list
   * @param {{ item: string, field: "packed" | "weighed" | "bay", value: Json }} what a value that is undefined is no longer known; no bay is home
   */
  do(list, { item, field, value }) {
    const held = this.lists[keyOf(list)];
    if (!held) return;
    const before = held.deeds.find((one) => one.item === item && one.field === field);
    const seen = held.list.items.find((/** @type {Json} */ { id }) => id === item)?.seen?.[field];
    // Over what is another's: one's own edits have seen themselves.
    const over = before && after(before.stamp, seen) ? before.stamp.over : seen;
    const stamp = { ...this.store.stamp(), ...(over ? { over } : {}) };
    const deed = { item, field, ...(value === undefined ? {} : { [field]: value }), stamp };
    const deeds = [...held.deeds.filter((one) => one !== before), deed];
    this.lists = { ...this.lists, [keyOf(list)]: { ...held, deeds } };
    this.#keep();
  }

  /** The message that goes back. @param {Held} held */
  back({ list, deeds }) {
    const { trip, load, name } = list;
    return JSON.stringify({ format: "tussock-brought", version: 1, trip, load, name, deeds });
  }
}

/**
 * The items of a list as they stand with what was done here.
 * @param {Held} held
 * @returns {Json[]} items; `planned` is the mass that the spare figures were worked out with
 */
export function itemsOf({ list, deeds }) {
  return bagsOf(itemsAlone({ list, deeds }));
}

/** @param {Held} held @returns {Json[]} */
function itemsAlone({ list, deeds }) {
  const done = new Map(deeds.map((one) => [`${one.item}/${one.field}`, one]));
  return list.items.map((/** @type {Json} */ item) => {
    const here = (/** @type {"packed" | "weighed" | "bay"} */ field) => {
      const deed = done.get(`${item.id}/${field}`);
      return deed && after(deed.stamp, item.seen?.[field]) ? deed : undefined;
    };
    const [packed, weighed, rides] = [here("packed"), here("weighed"), here("bay")];
    const home = rides !== undefined && rides.bay === undefined;
    return {
      ...item,
      home,
      // brought after all it rides in the bay, out of the bag that it was in
      ...(rides && !home ? { bay: rides.bay, inside: undefined } : {}),
      planned: item.mass,
      packed: packed ? packed.packed : item.packed === true,
      mass: weighed?.weighed ?? item.mass,
      is_weighed: weighed ? weighed.weighed !== undefined : item.is_weighed === true,
    };
  });
}

/**
 * What is inside an item, however deep, and is not left at home.
 * @param {Json[]} items
 * @param {string} item
 * @returns {string[]} ids
 */
export function insideOf(items, item) {
  const direct = items.filter(({ inside, home }) => inside === item && !home).map(({ id }) => id);
  return direct.flatMap((id) => [id, ...insideOf(items, id)]);
}

/**
 * A bag that nobody put on the scale whole weighs what it was planned with, less what was left at home of it, and what
 * its things turned out to weigh more. What is in a bag that is left at home is so too.
 * @param {Json[]} items
 */
function bagsOf(items) {
  const all = new Map(items.map((item) => [item.id, item]));
  /** @type {(item: Json) => boolean} */
  const homes = (item) => item.home === true || (item.inside !== undefined && homes(all.get(item.inside) ?? {}));
  /** @type {(item: Json, bag: string) => boolean} */
  const within = (item, bag) => item.inside !== undefined && (item.inside === bag || within(all.get(item.inside) ?? {}, bag));
  return items.map((item) => {
    const held = items.filter((one) => within(one, item.id));
    if (!held.length) return { ...item, home: homes(item) };
    const inside = held.filter((one) => !homes(one)).map(({ id }) => id);
    const holding = item.mass?.holding;
    const whole = holding && holding.length === inside.length && inside.every((id) => holding.includes(id));
    if (whole || !item.planned) return { ...item, home: homes(item) };
    const leaves = held.filter(({ id, planned, mass }) => planned && mass && !held.some((one) => one.inside === id));
    const more = leaves.reduce((sum, one) => sum + (homes(one) ? -one.planned.value : item.is_weighed ? 0 : one.mass.value - one.planned.value), 0);
    return { ...item, home: homes(item), mass: { ...item.planned, value: item.planned.value + more } };
  });
}

/**
 * How much is free with all that was weighed here: what the pilot's phone had worked out, less what came on top. Plain
 * sums; whether it fits and balances is for the pilot's phone to say. What turned out lighter makes room in its bay, but
 * none in the aeroplane: it may have held the balance.
 * @param {Json[]} items of `itemsOf`; what is inside another counts with that
 * @param {number | undefined} spare [kg] as listed
 * @param {string} [bay] of one bay alone
 * @returns {number | undefined} undefined where it can't be said
 */
export function freeMass(items, spare, bay) {
  const counted = items.filter((item) => !item.inside && (bay === undefined || item.bay === bay));
  if (spare === undefined || spare === null || counted.some(({ planned, mass, home }) => mass && !planned && !home)) return undefined;
  const more = counted.map(({ planned, mass, home }) => (planned ? (home ? 0 : mass.value) - planned.value : 0));
  return spare - more.reduce((sum, one) => sum + (bay === undefined ? Math.max(one, 0) : one), 0);
}
