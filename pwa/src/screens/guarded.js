// Edits that reach beyond one figure: stored when the core's gate lets the documents through as they would then be,
// else nothing changes and the reason is told.
import { html, nothing } from "lit";
import { typing } from "../parts/typed.js";
import { withValue } from "../state/pointer.js";

/** @typedef {import("./context.js").Context} Context @typedef {import("../state/pointer.js").Json} Json */
/** @typedef {import("../state/store.js").Change} Change @typedef {import("../text.js").Message} Message */

/** Edits that have been at the gate, so that each has a name. */
let gates = 0;

/** Why the last such edit was refused, "" when it was not. */
let said = "";

/** Values on their way into the documents, by document and pointer. @type {Map<string, { value: Json }>} */
const coming = new Map();

/**
 * What a list shows: what was chosen last, also while that is still at the gate. Without it a drawing in between would set
 * the list back, and a second press of an arrow would go on from there.
 * @param {string} document @param {string} pointer @param {Json} stored
 * @returns {Json}
 */
export const chosenLast = (document, pointer, stored) => {
  const own = coming.get(document + pointer);
  return own ? own.value : stored;
};

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
  const own = make().map(({ document, pointer, value }) => ({ place: document + pointer, told: { value } }));
  for (const { place, told } of own) coming.set(place, told);
  // until it is in, no answer on it is of now
  const gate = `gate ${++gates}`;
  typing.add(gate);
  redraw();
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
    return false;
  } finally {
    typing.delete(gate);
    // what was chosen meanwhile stays until it is in
    for (const { place, told } of own) if (coming.get(place) === told) coming.delete(place);
    redraw();
  }
}

/** @param {Context} context */
export const refusedWords = ({ t }) => (said ? html`<div class="notice" role="alert"><p><b>${t("trips.not_done")}</b> ${said}</p></div>` : nothing);
