// Edits that reach beyond one figure: stored when the core's gate lets the documents through as they would then be,
// else nothing changes and the reason is told.
import { html, nothing } from "lit";
import { withValue } from "../state/pointer.js";

/** @typedef {import("./context.js").Context} Context @typedef {import("../state/pointer.js").Json} Json */
/** @typedef {import("../state/store.js").Change} Change @typedef {import("../text.js").Message} Message */

/** Why the last such edit was refused, "" when it was not. */
let said = "";

/** Every document as text, with changes made. @param {Context["store"]} store @param {Change[]} changes */
function textsAfter(store, changes) {
  /** @type {Map<string, Json>} */
  const after = new Map(store.documents);
  for (const { document, pointer, value } of changes) {
    if (pointer !== "") after.set(document, withValue(after.get(document), pointer, value));
    else if (value === undefined) after.delete(document);
    else after.set(document, value);
  }
  return [...after.values()].map((document) => JSON.stringify(document));
}

/**
 * @param {Context} context
 * @param {() => Change[]} make the changes to what is stored when they are stored
 * @param {Message} label what the undo button says
 * @returns {Promise<boolean>} were they made?
 */
export async function guarded({ store, core, redraw }, make, label) {
  said = "";
  try {
    await core.ready;
    for (;;) {
      const [changes, { version }] = [make(), store];
      await core.ask("check", { documents: textsAfter(store, changes) });
      if (store.version !== version) continue; // edited meanwhile: that was not looked at
      store.edit(changes, label);
      return true;
    }
  } catch (problem) {
    said = /** @type {any} */ (problem).message;
    redraw();
    return false;
  }
}

/** @param {Context} context */
export const refusedWords = ({ t }) => (said ? html`<div class="notice" role="alert"><p><b>${t("trips.not_done")}</b> ${said}</p></div>` : nothing);
