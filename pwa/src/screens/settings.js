// Units and look; everything as one file, out and in; the demo trip again; and what this is.
import { html, nothing } from "lit";
import { choice } from "../parts/choice.js";
import { unbroken, words } from "../parts/words.js";
import { counted, giveFile, takeFile } from "../state/bundles.js";
import { now } from "../state/time.js";
import { CHOICES } from "../state/units.js";
import { t } from "../text.js";
import { askForCheck, keepData, takeUpdate } from "../offline/offline.js";
import { notices } from "./status.js";

/** @typedef {import("./context.js").Context} Context */
/** @typedef {import("../state/pointer.js").Json} Json */

/** @type {Record<string, string>} */
const WRITTEN = { degC: "°C", degF: "°F" };

/** @param {Context} context */
export function settingsScreen(context) {
  const { store, settings } = context;
  return html`
    <header class="head open-head"><h1 tabindex="-1">${t("shell.tab.settings")}</h1></header>
    ${notices(context)}
    <section class="block stack">
      ${choice({
        name: "look",
        label: t("shell.look"),
        value: settings?.look ?? "paper",
        options: ["paper", "night", "sun"].map((value) => ({ value, label: t(`shell.look.${value}`) })),
        set: (value) => put(context, "/look", value, "look"),
      })}
      ${choice({
        name: "size",
        label: t("shell.size"),
        value: store.device.size,
        options: ["usual", "projector"].map((value) => ({ value, label: t(`shell.size.${value}`) })),
        set: (value) => store.setDevice({ size: value }),
      })}
    </section>
    <section class="block stack inline-choices">
      <h2>${t("shell.units")}</h2>
      ${Object.entries(CHOICES).map(([dimension, symbols]) =>
        choice({
          name: `unit-${dimension}`,
          label: t(`shell.units.${dimension}`),
          value: settings?.units?.[dimension] ?? symbols[0],
          options: symbols.map((value) => ({ value, label: WRITTEN[value] ?? value })),
          set: (value) => put(context, `/units/${dimension}`, value, "units"),
        }),
      )}
    </section>
    ${files(context)} ${keeping(context)} ${about(context)}
  `;
}

/** @param {Context} context @param {string} pointer @param {string} value @param {string} label */
function put({ store, settings, plan }, pointer, value, label) {
  const undo = { text: `shell.undo.${label}` };
  if (settings) return store.edit([{ document: settings.id, pointer, value }], undo);
  const [, field, part] = pointer.split("/");
  const made = { version: 1, kind: "settings", id: "settings", name: t("shell.tab.settings"), [field]: part ? { [part]: value } : value };
  const changes = [{ document: "settings", pointer: "", value: made }];
  if (plan) changes.push({ document: plan.trip.id, pointer: "/settings", value: /** @type {any} */ ("settings") });
  store.edit(changes, undo);
}

/** @param {Context} context */
function files(context) {
  const { store, core, ui, chosen, boot } = context;
  const say = (/** @type {string} */ said) => context.turn({ said, working: false });
  const take = async (/** @type {Event} */ { target }) => {
    const input = /** @type {HTMLInputElement} */ (target);
    const file = input.files?.[0];
    input.value = "";
    if (!file) return;
    context.turn({ working: true, said: "", incoming: undefined });
    try {
      context.turn({ incoming: await takeFile(file, core), working: false });
    } catch (problem) {
      const { message, path } = /** @type {any} */ (problem);
      say(`${t("shell.file.refused", { name: file.name })} ${t(message)}${path ? ` (${path})` : ""}`);
    }
  };
  const replace = (/** @type {Json} */ bundle, /** @type {string} */ said) => {
    store.replace(bundle);
    context.turn({ incoming: undefined, said: t(said), working: false });
  };
  const demo = async () => {
    context.turn({ working: true, said: "" });
    try {
      replace(await core.ask("demo", { now: now() }), "shell.file.demo_done");
    } catch (problem) {
      say(/** @type {any} */ (problem).message);
    }
  };
  const back = async () => {
    const aside = await store.kept("aside");
    if (aside) replace(aside.bundle, "shell.file.back_done");
    else say(t("shell.file.no_aside"));
  };
  const { incoming } = ui;
  return html`<section class="block stack">
    <h2>${t("shell.file")}</h2>
    <p class="small">${t("shell.file.about")}</p>
    <div class="buttons">
      <button type="button" class="plain" @click=${() => giveFile(store)}>${t("shell.file.give")}</button>
      <label class="plain file-button"
        >${t("shell.file.take")}<input type="file" accept=".json,application/json" ?disabled=${boot.state !== "ready"} @change=${take}
      /></label>
    </div>
    ${ui.working ? html`<p role="status">${t("shell.file.checking")}</p>` : nothing}
    ${incoming
      ? html`<div class="notice">
          <p>${t("shell.file.holds", { name: incoming.name, what: holds(incoming.bundle) })}</p>
          ${incoming.warnings.map((/** @type {Json} */ warning) => html`<p class="small">${words(warning, chosen)}</p>`)}
          <div class="buttons">
            <button type="button" class="plain strong" @click=${() => replace(incoming.bundle, "shell.file.taken")}>${t("shell.file.replace")}</button>
            <button type="button" class="plain" @click=${() => context.turn({ incoming: undefined })}>${t("shell.file.leave")}</button>
          </div>
        </div>`
      : nothing}
    ${ui.said ? html`<p class="wrapped" role="status">${unbroken(ui.said)}</p>` : nothing}
    <div class="buttons">
      <button type="button" class="plain" ?disabled=${boot.state !== "ready"} @click=${demo}>${t("shell.file.demo")}</button>
      <button type="button" class="plain" @click=${back}>${t("shell.file.back")}</button>
    </div>
  </section>`;
}

/** @param {Json} bundle */
const holds = (bundle) =>
  Object.entries(counted(bundle))
    .map(([kind, n]) => t(`shell.kind.${kind}`, { n }))
    .join(", ");

/** @param {Context} context */
function keeping({ store, offline }) {
  const megabytes = Math.round(offline.ofBytes / 1e6);
  const kept = offline.kept;
  const problem = store.shelf.problem;
  return html`<section class="block stack">
    <h2>${t("shell.keeping")}</h2>
    <p>${t(`shell.keeping.${offline.phase}`, { files: offline.files, of: offline.ofFiles, megabytes })}</p>
    ${offline.reason ? html`<p class="small">${offline.reason}</p>` : nothing}
    ${offline.phase === "incomplete" ? html`<div class="buttons"><button type="button" class="plain" @click=${askForCheck}>${t("shell.keeping.complete")}</button></div>` : nothing}
    <p>${problem ? t("shell.keeping.problem", { problem }) : t(`shell.keeping.persisted_${kept === undefined ? "unknown" : kept ? "yes" : "no"}`)}</p>
    ${kept ? nothing : html`<div class="buttons"><button type="button" class="plain" @click=${keepData}>${t("shell.keeping.ask")}</button></div>`}
    ${offline.update
      ? html`<p>${t("shell.update.there")}</p>
          <div class="buttons"><button type="button" class="plain strong" @click=${takeUpdate}>${t("shell.update.take")}</button></div>`
      : nothing}
  </section>`;
}

/** @param {Context} context */
function about(context) {
  const { offline, ui } = context;
  const show = async () => {
    try {
      context.turn({ licences: await (await fetch("licences.txt")).text() });
    } catch (problem) {
      context.turn({ licences: String(problem) });
    }
  };
  return html`<section class="block stack">
    <h2>${t("shell.about")}</h2>
    <p>${t("shell.about.what")}</p>
    <p><b>${t("caution")}</b></p>
    <p class="small">${t("shell.about.build", { build: offline.version || t("shell.about.build_unknown") })}</p>
    <div class="buttons"><button type="button" class="plain" @click=${show}>${t("shell.about.licences")}</button></div>
    ${ui.licences ? html`<pre class="licences" tabindex="0" aria-label=${t("shell.about.licences")}>${ui.licences}</pre>` : nothing}
  </section>`;
}
