// `window.tussock`: a way for tests, and for the curious at the console, to ask the core what the screens ask it, and
// to see the state of use without signal. It can do nothing that the screens can't: no document is read or written.
import { offlineState } from "./offline/offline.js";
import { ask, core } from "./worker/client.js";

Object.defineProperty(window, "tussock", { value: Object.freeze({ ask, core, offlineState }) });
