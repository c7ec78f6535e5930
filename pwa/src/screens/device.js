// About this device: what runs here, what is stored and whether it is as built, and the last fault. One touch copies it.
import { html, nothing } from "lit";
import { facts } from "../parts/facts.js";
import { BUILT, ENGINE, browser, device, lookAtDevice } from "../state/device.js";
import { lastFault } from "../state/faults.js";
import { clock, day } from "../state/time.js";
import { shown } from "../text.js";

/** @typedef {import("./context.js").Context} Context */
/** @typedef {[label: string, value: string]} Line */

/** Was it looked at since the page was loaded? */
let looked = false;
/** What came of copying. */
let said = "";
/** The text itself, where the browser lets nothing be copied by a touch. */
let byHand = "";

/** @param {Context} context */
export function deviceScreen(context) {
  const { t, redraw } = context;
  if (!looked) {
    looked = true;
    queueMicrotask(() => lookAtDevice(redraw));
  }
  const copy = async () => {
    const text = asText(context);
    try {
      await navigator.clipboard.writeText(text);
      said = t("device.copied");
      byHand = "";
    } catch {
      said = t("device.copy_by_hand");
      byHand = text;
    }
    redraw();
  };
  const fault = lastFault();
  const wrong = device.files.filter(({ state }) => state === "missing" || state === "differs");
  const checked = device.files.filter(({ state }) => state !== "waiting").length;
  return html`
    <header class="head open-head">
      <a class="back" href="#/settings"><span aria-hidden="true">‹&nbsp;</span>${t("shell.tab.settings")}</a>
      <h1 tabindex="-1">${t("device.title")}</h1>
    </header>
    <section class="block stack">
      <p>${t("device.nothing_sent")}</p>
      <div class="buttons">
        <button type="button" class="plain strong" @click=${copy}>${t("device.copy")}</button>
        <button type="button" class="plain" ?disabled=${device.looking} @click=${() => lookAtDevice(redraw)}>${t("device.look_again")}</button>
      </div>
      ${said ? html`<p role="status">${said}</p>` : nothing}
      ${byHand ? html`<textarea class="f-text by-hand" readonly rows="8" aria-label=${t("device.title")} @focus=${(/** @type {Event} */ { target }) => /** @type {HTMLTextAreaElement} */ (target).select()} .value=${byHand}></textarea>` : nothing}
      ${facts(lines(context))}
    </section>
    <section class="block stack">
      <h2>${t("device.fault")}</h2>
      ${fault
        ? html`<p><b>${fault.what}</b></p>
            ${fault.where ? html`<p class="small wrapped">${fault.where}</p>` : nothing}
            <p class="small">${day(fault.at)} ${clock(fault.at)}</p>`
        : html`<p>${t("device.fault.none")}</p>`}
    </section>
    <section class="block stack">
      <h2>${t("device.files")}</h2>
      ${device.problem ? html`<p class="wrong" role="alert">${t(device.problem)}</p>` : nothing}
      ${device.files.length
        ? html`<p role="status">${t(device.looking ? "device.files.looking" : wrong.length ? "device.files.wrong" : "device.files.right", { n: checked, of: device.files.length, wrong: wrong.length })}</p>
            <ul class="stored">
              ${device.files.map(
                ({ name, bytes, hash, state }) => html`<li>
                  <span class="stored-name">${name}</span>
                  <span class="small">${kilobytes(context, bytes)}, <b class=${state === "missing" || state === "differs" ? "wrong" : ""}>${t(`device.files.is_${state.replace(" ", "_")}`)}</b></span>
                  ${hash ? html`<code class="small">${hash}</code>` : nothing}
                </li>`,
              )}
            </ul>`
        : nothing}
    </section>
  `;
}

/** @param {Context} context @param {number} bytes */
const kilobytes = ({ t }, bytes) => (bytes < 1e6 ? t("device.kilobytes", { n: Math.max(1, Math.round(bytes / 1e3)) }) : t("device.megabytes", { n: Math.round(bytes / 1e5) / 10 }));

/** @param {Context} context @returns {Line[]} */
function lines(context) {
  const { t, store, boot, offline } = context;
  const { agent, languages, screen, installed } = browser();
  const room = (/** @type {number | undefined} */ bytes) => (bytes === undefined ? t("device.unsaid") : kilobytes(context, bytes));
  const yes = (/** @type {boolean} */ is) => t(is ? "shell.yes" : "shell.no");
  return [
    [t("device.build"), offline.version || t("shell.about.build_unknown")],
    [t("device.built"), BUILT],
    [t("device.engine"), t(`device.engine.${boot.state}`, { version: ENGINE })],
    [t("device.browser"), agent],
    [t("device.languages"), languages],
    [t("device.screen"), screen],
    [t("device.installed"), yes(installed)],
    [t("device.without_signal"), t(`device.phase.${offline.phase}`)],
    [t("device.promised"), device.kept === undefined ? t("device.unsaid") : yes(device.kept)],
    [t("device.used"), t("device.used_of", { used: room(device.used), of: room(device.quota) })],
    [t("device.documents"), store.shelf.problem ? store.shelf.problem : shown(store.documents.size, "count")],
    [t("device.name"), store.device.id],
  ];
}

/** Everything that the screen says, as text. @param {Context} context */
function asText(context) {
  const { t } = context;
  const fault = lastFault();
  const said = [
    t("device.title"),
    ...lines(context).map(([label, value]) => `${label}: ${value}`),
    `${t("device.fault")}: ${fault ? `${fault.what} (${fault.where}) ${fault.at}` : t("device.fault.none")}`,
    `${t("device.files")}:`,
    ...(device.problem ? [t(device.problem)] : []),
    ...device.files.map(({ name, bytes, hash, state }) => `${hash || "-".repeat(64)} ${bytes} ${name} ${t(`device.files.is_${state.replace(" ", "_")}`)}`),
  ];
  return said.join("\n");
}
