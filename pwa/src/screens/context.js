// What every screen is given: the documents, the answers, the person's units, and where they are in the app.
import { typing } from "../parts/typed.js";
import { display, say, shown, t } from "../text.js";
import { isUnread, planOf, settingsOf } from "../state/plan.js";
import { chosenUnits } from "../state/units.js";

/** @typedef {import("../state/store.js").Store} Store @typedef {import("../state/answers.js").Answers} Answers */
/** @typedef {import("../pictures/parts.js").Format} Format */

/**
 * @typedef {object} Boot
 * @property {"starting" | "ready" | "failed"} state
 * @property {string} step
 * @property {number} done
 * @property {number} of
 * @property {string} reason
 *
 * @typedef {object} Ui what is open and searched for on the screens; forgotten at the end
 * @property {boolean} scanning is the camera looking for codes?
 * @property {boolean} picking is the leg's panel open?
 * @property {"from" | "to"} end whose air is edited
 * @property {string} search
 * @property {string} kit the kit that is shown, "" for all
 * @property {Record<string, string>} way how a pressure or wind is given, before there is a figure
 * @property {Record<string, any>} wind a wind whose direction is not told yet, by leg and end
 * @property {string} licences the licence notices, once they were asked for
 * @property {any} incoming a file that was read and waits for a yes
 * @property {string} said the outcome of the last deed on the settings page
 * @property {boolean} working
 *
 * @typedef {object} Place
 * @property {string} screen
 * @property {string} part
 */

export class Context {
  /**
   * @param {object} given
   * @param {Store} given.store
   * @param {Answers} given.answers
   * @param {import("../forms/sketches.js").Sketches} given.sketches
   * @param {import("../state/handed.js").Handed} given.handed
   * @param {import("../state/packing.js").Packing} given.packing
   * @param {import("../worker/client.js").CoreClient} given.core
   * @param {Boot} given.boot
   * @param {Readonly<import("../offline/offline.js").OfflineState>} given.offline
   * @param {Place} given.place
   * @param {Ui} given.ui
   * @param {() => void} given.redraw
   * @param {string} given.demo id of the demo trip
   * @param {() => void} given.retry starts the engine anew after it failed
   */
  constructor({ store, answers, sketches, handed, packing, core, boot, offline, place, ui, demo, redraw, retry }) {
    this.t = this.t.bind(this); // screens take it out of the context
    this.store = store;
    this.answers = answers;
    this.sketches = sketches;
    this.handed = handed;
    this.packing = packing;
    this.core = core;
    this.boot = boot;
    this.offline = offline;
    this.place = place;
    this.ui = ui;
    this.demo = demo;
    this.redraw = redraw;
    this.retry = retry;
    this.plan = planOf(store);
    this.settings = settingsOf(store);
    this.chosen = chosenUnits(this.settings?.units);
    const { chosen } = this;
    /** @type {Format} for the pictures */
    this.format = {
      q: (value, dimension) => shown(value, dimension, chosen),
      unit: (dimension) => display(dimension, chosen),
      say: (message) => say(message, chosen),
    };
  }

  /** A text of the catalogue. @param {string} id @param {Record<string, any>} [values] */
  t(id, values) {
    return t(id, values, this.chosen);
  }

  /** Change what is open on the screens. @param {Partial<Ui>} changes */
  turn(changes) {
    Object.assign(this.ui, changes);
    this.redraw();
  }

  /** What is known of the open leg. */
  get known() {
    const leg = this.plan?.leg.id;
    return leg ? this.answers.known.get(leg) : undefined;
  }

  /** Does it rest on what the documents say now, and on all that was typed? */
  get current() {
    return this.plan !== undefined && this.holds(this.plan.trip, this.plan.leg);
  }

  /** The same of any leg. @param {any} trip @param {any} leg */
  holds(trip, leg) {
    return typing.size === 0 && !isUnread(this.store, trip, leg) && this.answers.isCurrent(leg.id);
  }

  /** Are the answers those of the documents, and is only something typed not counted? */
  get unread() {
    return this.plan !== undefined && !this.current && typing.size === 0 && this.answers.isCurrent(this.plan.leg.id);
  }

  /** Change one field of one document. @param {string} document @param {string} pointer @param {any} value @param {string} label text id @param {Record<string, any>} [values] */
  edit(document, pointer, value, label, values) {
    this.store.edit([{ document, pointer, value }], { text: label, values });
  }
}
