// The address in a code was opened: its part is taken, and the screen says how many are still to be read.
import { html } from "lit";
import { wayIn } from "./codes.js";

/** @typedef {import("./context.js").Context} Context */

/** The part that was taken last, so that drawing the screen again does not take it again. */
let taken = "";

/** @param {string} what */
const go = (what) => {
  if (what !== "list" && what !== "brought") return;
  taken = "";
  location.replace(what === "list" ? "#/bring" : "#/hand");
};

/** Back at a code that was taken: on to what came of it, not to a count that begins anew. @param {Context} context */
function onwards({ handed }) {
  if (handed.parts.length || handed.problem) return;
  queueMicrotask(() => go(handed.brought || !handed.newest ? "brought" : "list"));
}

/** @param {Context} context */
export function gotScreen(context) {
  const { place, handed, boot, t } = context;
  if (boot.state === "ready" && taken !== place.part) {
    taken = place.part;
    const { hash } = location;
    if (history.state?.spent) onwards(context);
    else
      handed.read(place.part).then((what) => {
        if (location.hash === hash) history.replaceState({ spent: true }, "");
        go(what);
      });
  }
  return html`
    <header class="head open-head"><h1 tabindex="-1">${t("hand.got")}</h1></header>
    <section class="block stack">
      ${boot.state === "failed" ? html`<p class="wrong" role="alert">${t("shell.boot.failed", { reason: boot.reason })}</p>` : ""}
      <p>${t(handed.parts.length ? "hand.got_part" : "hand.got_reading")}</p>
      ${wayIn(context, { label: t("hand.scan_rest"), whole: go })}
      <div class="buttons"><a class="plain" href="#/">${t("hand.rest")}</a></div>
    </section>
  `;
}
