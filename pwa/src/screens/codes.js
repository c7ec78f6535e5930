// A text given to another phone: as codes, one after the other where one is too small, or as a file. And the way in: the
// camera, or a file.
import { html, nothing } from "lit";
import { codePicture } from "../parts/code.js";
import { scanner } from "../parts/scanner.js";
import { canShare, saveFile, shareFile } from "../state/file.js";
import { addressOf, partsOf } from "../state/wire.js";

/** @typedef {import("./context.js").Context} Context */

/** How long a code stands before the next. [ms] */
const EACH = 1200;

/** The text that is shown, its parts once they are made, and which of them. */
const shown = { text: "", parts: /** @type {string[]} */ ([]), index: 0, stands: false };
/** @type {ReturnType<typeof setTimeout> | undefined} */
let turn;

/** @param {Context} context @param {{ text: string, file: string }} what */
export function codes(context, { text, file }) {
  const { t, redraw } = context;
  if (shown.text !== text) {
    Object.assign(shown, { text, parts: [], index: 0 });
    partsOf(text).then((parts) => {
      if (shown.text !== text) return;
      shown.parts = parts;
      redraw();
    });
  }
  const { parts } = shown;
  const of = parts.length;
  if (!of) return html`<p role="status">${t("hand.making")}</p>`;
  const index = Math.min(shown.index, of - 1);
  clearTimeout(turn);
  // The next drawing goes on from here, so it ends with the screen.
  if (of > 1 && !shown.stands && document.visibilityState === "visible")
    turn = setTimeout(() => {
      shown.index = (index + 1) % of;
      if (document.querySelector(".codes")) redraw();
    }, EACH);
  const step = (/** @type {number} */ by) => {
    Object.assign(shown, { stands: true, index: (index + by + of) % of });
    redraw();
  };
  const given = { text, name: file };
  return html`<div class="codes">
    ${codePicture(addressOf(parts[index]), t("hand.code", { n: index + 1, of }))}
    ${of > 1
      ? html`<div class="code-steps">
          <button type="button" class="plain" aria-label=${t("hand.code_before")} @click=${() => step(-1)}>‹</button>
          <b>${t("hand.code", { n: index + 1, of })}</b>
          <button type="button" class="plain" aria-label=${t("hand.code_next")} @click=${() => step(1)}>›</button>
          ${shown.stands
            ? html`<button
                type="button"
                class="plain"
                @click=${() => {
                  shown.stands = false;
                  redraw();
                }}
              >
                ${t("hand.code_loop")}
              </button>`
            : nothing}
        </div>`
      : nothing}
    <div class="buttons">
      ${canShare() ? html`<button type="button" class="plain" @click=${() => shareFile(given)}>${t("device.file.share")}</button>` : nothing}
      <button type="button" class="plain" @click=${() => saveFile(given)}>${t("shell.file.give")}</button>
    </div>
  </div>`;
}

/** Why there is no camera, by the browser's name for it. @type {Record<string, string>} */
const NO_CAMERA = { NotAllowedError: "hand.camera.forbidden", NotFoundError: "hand.camera.none", TypeError: "hand.camera.none" };

/**
 * @param {Context} context
 * @param {object} way
 * @param {string} way.label of the button that opens the camera
 * @param {(what: string) => void} way.whole told what is whole now: "list" or "brought"
 */
export function wayIn(context, { label, whole }) {
  const { t, ui, handed, boot } = context;
  const ready = boot.state === "ready";
  const done = (/** @type {string} */ what) => {
    if (what === "list" || what === "brought") {
      context.turn({ scanning: false, said: "" });
      whole(what);
    }
  };
  const file = async (/** @type {Event} */ { target }) => {
    const input = /** @type {HTMLInputElement} */ (target);
    const given = input.files?.[0];
    if (given) done(await handed.take(given.size > 1_000_000 ? "" : await given.text().catch(() => "")));
    input.value = "";
  };
  const failed = (/** @type {string} */ reason) => context.turn({ scanning: false, said: t(NO_CAMERA[reason] ?? "hand.camera.failed", { reason }) });
  const last = handed.parts.at(-1);
  return html`
    ${ui.scanning
      ? html`${scanner({ read: async (text) => done(await handed.read(text)), failed })}
          <button type="button" class="plain" @click=${() => context.turn({ scanning: false })}>${t("hand.camera.stop")}</button>`
      : html`<div class="buttons">
          <button type="button" class="plain" ?disabled=${!ready} @click=${() => context.turn({ scanning: true, said: "" })}>${label}</button>
          <label class="plain file-button">${t("hand.file")}<input type="file" accept=".json,.txt,application/json,text/plain" ?disabled=${!ready} @change=${file} /></label>
        </div>`}
    ${last ? html`<p role="status"><b>${t("hand.parts", { n: handed.parts.length, of: last.of })}</b></p>` : nothing}
    ${ui.said ? html`<p role="status">${ui.said}</p>` : nothing}
    ${handed.problem ? html`<p class="wrong" role="alert">${t(handed.problem)}</p>` : nothing}
  `;
}
