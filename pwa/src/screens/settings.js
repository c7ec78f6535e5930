// The way to print, sums, history and device; units and look; files; what is stored; and what this is.
import { html, nothing } from "lit";
import { choice } from "../parts/choice.js";
import { CHOICES } from "../state/units.js";
import { t } from "../text.js";
import { askForCheck, keepData, takeUpdate } from "../offline/offline.js";
import { files } from "./file.js";
import { notices } from "./status.js";

/** @typedef {import("./context.js").Context} Context */

/** @type {Record<string, string>} */
const WRITTEN = { degC: "°C", degF: "°F" };

/** @param {Context} context */
export function settingsScreen(context) {
  const { store, settings } = context;
  return html`
    <header class="head open-head"><h1 tabindex="-1">${t("shell.tab.settings")}</h1></header>
    ${notices(context)}
    <nav class="block more-links" aria-label=${t("device.more")}>
      ${["print", "sums", "history", "device"].map((name) => html`<a class="plain" href="#/${name}">${t(`shell.tab.${name}`)}</a>`)}
    </nav>
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
  // Trips may have settings of their own; how things look is the same for all of them.
  if (settings) return store.edit(store.all("settings").map(({ id }) => ({ document: id, pointer, value })), undo);
  const [, field, part] = pointer.split("/");
  const made = { version: 1, kind: "settings", id: "settings", name: t("shell.tab.settings"), [field]: part ? { [part]: value } : value };
  const changes = [{ document: "settings", pointer: "", value: made }];
  if (plan) changes.push({ document: plan.trip.id, pointer: "/settings", value: /** @type {any} */ ("settings") });
  store.edit(changes, undo);
}

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
