// `window.tussock`: a way for tests, and for the curious at the console, to ask the core what the screens ask it, and to
// see the state of use without signal. It can do nothing that the screens can't: no document is read or written.
import { askForCheck, offline, offlineState, takeUpdate } from "./offline/offline.js";
import { CoreClient, ask, core } from "./worker/client.js";
import { solver } from "./worker/solver_client.js";

const hook = {
  ask,
  core,
  CoreClient,
  solver,
  offline: Object.freeze({ state: offlineState, events: offline, check: askForCheck, takeUpdate }),
};

Object.defineProperty(window, "tussock", { value: Object.freeze(hook) });
