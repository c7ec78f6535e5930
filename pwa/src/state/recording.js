// Recording a track here: fixes of the phone's receiver, the screen kept awake, all of it without signal. What is
// recorded is kept as it goes, so that a page that goes takes nothing with it. It becomes a table as the core reads it.

/** @typedef {import("./store.js").Store} Store */

/**
 * @typedef {object} Recording
 * @property {"flight" | "walk"} what
 * @property {string[]} lines of the table
 * @property {string} at when it began
 */

const HEADER = "time,latitude,longitude,height (m),speed (m/s),accuracy (m)";
/** It is kept after so many fixes. */
const EVERY = 10;

/** Fires "change" with every fix and whenever it starts, stops or fails. */
class Recorder extends EventTarget {
  /** @type {Recording | undefined} */
  recording;
  running = false;
  /** Text id of what is amiss, "" when nothing is. */
  problem = "";
  /** Is the screen kept awake? */
  awake = false;
  /** @type {{ speed: number | null, accuracy: number } | undefined} */
  last;
  /** @type {number | undefined} */
  #watch;
  /** @type {WakeLockSentinel | undefined} */
  #lock;
  /** @type {Store | undefined} */
  #store;

  /** Something that was being recorded when the page went. @param {Store} store */
  async recall(store) {
    this.#store = store;
    const kept = await store.kept("recording");
    if (kept?.lines?.length && !this.recording) {
      this.recording = kept;
      this.#changed();
    }
  }

  /** @param {Store} store @param {"flight" | "walk"} what */
  start(store, what) {
    if (this.running) return;
    this.#store = store;
    this.problem = navigator.geolocation ? "" : "notebook.record.none";
    if (this.problem) return this.#changed();
    this.recording = { what, lines: [], at: new Date().toISOString() };
    this.running = true;
    this.#watch = navigator.geolocation.watchPosition(
      (fix) => this.#heard(fix),
      ({ code }) => {
        this.problem = code === 1 ? "notebook.record.refused" : "notebook.record.waiting";
        if (code !== 1) return this.#changed();
        this.stop();
        // nothing was recorded: it must not wait to be used, nor stand in the way of the other kind
        if (!this.recording?.lines.length) this.forget();
      },
      { enableHighAccuracy: true, maximumAge: 0, timeout: 30_000 },
    );
    document.addEventListener("visibilitychange", this.#stayAwake);
    this.#stayAwake();
    this.#changed();
  }

  stop() {
    if (this.#watch !== undefined) navigator.geolocation.clearWatch(this.#watch);
    this.#watch = undefined;
    this.running = false;
    this.awake = false;
    document.removeEventListener("visibilitychange", this.#stayAwake);
    this.#lock?.release().catch(() => {});
    this.#lock = undefined;
    this.#keep();
    this.#changed();
  }

  /** It was taken, or is not wanted. */
  forget() {
    this.recording = undefined;
    this.last = undefined;
    this.#store?.keep("recording", null);
    this.#changed();
  }

  /** The table, as a file would hold it. @returns {ArrayBuffer} */
  bytes() {
    return /** @type {ArrayBuffer} */ (new TextEncoder().encode([HEADER, ...(this.recording?.lines ?? [])].join("\n")).buffer);
  }

  get seconds() {
    return this.recording ? Math.max(0, Math.round((Date.now() - Date.parse(this.recording.at)) / 1000)) : 0;
  }

  /** @param {GeolocationPosition} fix */
  #heard({ timestamp, coords }) {
    if (!this.running || !this.recording) return;
    const { latitude, longitude, altitude, speed, accuracy } = coords;
    const cell = (/** @type {number | null} */ value, /** @type {number} */ decimals) => (typeof value === "number" && Number.isFinite(value) ? value.toFixed(decimals) : "");
    const time = new Date(timestamp).toISOString();
    this.recording.lines.push([time, latitude.toFixed(8), longitude.toFixed(8), cell(altitude, 1), cell(speed, 2), cell(accuracy, 1)].join(","));
    this.last = { speed, accuracy };
    this.problem = "";
    if (this.recording.lines.length % EVERY === 0) this.#keep();
    this.#changed();
  }

  #keep() {
    if (this.recording) this.#store?.keep("recording", { ...this.recording, lines: [...this.recording.lines] });
  }

  /** The lock ends whenever the page is hidden, and is asked for anew. */
  #stayAwake = async () => {
    if (!this.running || document.visibilityState !== "visible") return;
    try {
      this.#lock = await navigator.wakeLock.request("screen");
      this.awake = true;
      this.#lock.addEventListener("release", () => {
        this.awake = false;
        this.#changed();
      });
      if (!this.running) this.#lock.release();
    } catch {
      this.awake = false; // said on the screen
    }
    this.#changed();
  };

  #changed() {
    this.dispatchEvent(new Event("change"));
  }
}

export const recorder = new Recorder();
