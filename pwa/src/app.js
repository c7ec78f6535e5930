// The page: documents from the device first, then the last answers as such, then the core, which answers from then on.
import { html, LitElement } from "lit";
import demo from "../generated/demo.json";
import { Sketches } from "./forms/sketches.js";
import { keepData, offline, offlineState, startOffline } from "./offline/offline.js";
import { held } from "./parts/focus.js";
import { keepScales } from "./parts/weigh.js";
import { Answers } from "./state/answers.js";
import { Handed } from "./state/handed.js";
import { Packing } from "./state/packing.js";
import { keepFaults } from "./state/faults.js";
import { Store } from "./state/store.js";
import { now } from "./state/time.js";
import { Context } from "./screens/context.js";
import { frame } from "./screens/frame.js";
import { core } from "./worker/client.js";
import { solver } from "./worker/solver_client.js";
import "./test_hook.js";

/** @typedef {import("./screens/context.js").Boot} Boot */

const store = new Store();
const answers = new Answers(store, core);
const sketches = new Sketches(store, core);
const handed = new Handed(store, core);
const packing = new Packing(store, core, solver);

/** @type {Boot} */
let boot = { state: "starting", step: "waiting", done: 0, of: 3, reason: "" };

const place = () => {
  const [screen = "", part = ""] = location.hash.replace(/^#\/?/, "").split("/");
  return { screen: screen || "answers", part: decodeURIComponent(part) };
};

class TussockApp extends LitElement {
  /** @type {import("./screens/context.js").Ui} */
  ui = { scanning: false, picking: false, end: "from", search: "", kit: "", way: {}, wind: {}, licences: "", incoming: undefined, said: "", working: false };
  /** In the page itself, not in a shadow: one style sheet, and labels that reach what they name. */
  createRenderRoot() {
    return this;
  }

  /** Puts the focus back that a drawing took away. */
  keepFocus = () => {};

  willUpdate() {
    this.keepFocus = held(this);
  }

  render() {
    const redraw = () => this.requestUpdate();
    const [ui, here] = [this.ui, place()];
    const context = new Context({ store, answers, sketches, handed, packing, core, boot, offline: offlineState(), place: here, ui, demo: demo.open.trip, redraw, retry });
    const root = document.documentElement;
    root.dataset.look = context.settings?.look ?? "paper";
    root.dataset.size = store.device.size;
    return html`${frame(context)}`;
  }

  updated() {
    this.keepFocus();
    const paper = getComputedStyle(document.documentElement).getPropertyValue("--paper").trim();
    document.querySelector('meta[name="theme-color"]')?.setAttribute("content", paper);
  }

  /** A new screen begins at its top, and a screen reader at its heading. */
  async arrive() {
    this.ui.picking = false;
    this.ui.scanning = false;
    // The air row on the first screen is that of here; the other end is a choice made on the air's own screen.
    if (place().screen !== "air") this.ui.end = "from";
    if (place().screen !== "load") this.ui.search = "";
    this.requestUpdate();
    await this.updateComplete;
    const shown = place();
    const pane = this.querySelector(shown.screen === "answers" ? ".pane-answers" : ".pane-open");
    scrollTo(0, 0);
    pane?.scrollTo(0, 0);
    // A screen may be drawn before its address is told: who types there already is not disturbed.
    if (document.activeElement?.matches("input, select, textarea") && pane?.contains(document.activeElement)) return;
    const target = shown.screen === "air" && shown.part ? this.querySelector(`#air-${shown.part}`) : null;
    target?.scrollIntoView({ block: "start" });
    /** @type {HTMLElement | null | undefined} */ (pane?.querySelector("h1") ?? pane)?.focus({ preventScroll: true });
    // A place in a form: the field itself.
    const field = document.getElementById(/** @type {HTMLElement | null | undefined} */ (pane?.querySelector("[data-target]"))?.dataset.target ?? "");
    const control = field?.matches("fieldset") ? field.querySelector("input") : field;
    control?.focus({ preventScroll: true });
    field?.scrollIntoView({ block: "center" });
  }
}
customElements.define("tussock-app", TussockApp);

const app = /** @type {TussockApp} */ (document.createElement("tussock-app"));
const redraw = () => app.requestUpdate();
for (const source of [store, answers, sketches, handed, packing, offline]) source.addEventListener("change", redraw);
addEventListener("hashchange", () => app.arrive());

/** Once there is something of the person's own, the browser is asked to keep it. */
function keepOnce() {
  if (store.done.length === 0) return;
  store.removeEventListener("change", keepOnce);
  keepData().catch(() => {}); // the settings page says what came of it
}
store.addEventListener("change", keepOnce);

/** @param {Partial<Boot>} changes */
function booted(changes) {
  boot = { ...boot, ...changes };
  redraw();
}
core.onBoot(({ step, done, of }) => {
  booted({ step, done, of, state: step === "ready" ? "ready" : "starting", reason: "" });
  if (step === "ready") answers.again(); // it was stopped or had failed, and is up anew
});

function retry() {
  core.restart();
  watchStart();
}

/** The core is up: on the very first visit it writes the demo trip, for today. */
async function first() {
  const fresh = await core.ask("demo", { now: now() });
  if (store.done.length === 0) store.replace(fresh, false);
  store.keep("standIn", false);
}

/** Hear of a start that fails, also of one after a restart. */
async function watchStart() {
  try {
    await core.ready;
  } catch (problem) {
    const { code, message } = /** @type {any} */ (problem);
    if (code !== "stopped") return booted({ state: "failed", reason: message });
    return watchStart();
  }
}

await store.load();
await keepFaults(store, core);
// What the demo looked like when this was built stands in until the core has written it for today; a visit that ended
// before that is taken up again.
const isNew = store.isEmpty || (await store.kept("standIn")) === true;
if (store.isEmpty) {
  store.keep("standIn", true);
  store.replace(/** @type {any} */ (demo), false);
}
await answers.recall();
await handed.load();
await keepScales(store);
document.body.append(app);
await startOffline().catch(() => {}); // without it the app works all the same, with a signal
core.start();
watchStart();
if (isNew) await first().catch((problem) => booted({ state: "failed", reason: problem.message }));
answers.begin();
sketches.settle();
