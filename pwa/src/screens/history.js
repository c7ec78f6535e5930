// What changed when: of every document its versions, newest first, each with the way back to it.
import { html, nothing } from "lit";
import { changeLine, folded, namer } from "../forms/changes.js";
import { goBack, places } from "../state/history.js";
import { age, clock, day, iso } from "../state/time.js";
import { notices, undoButton } from "./status.js";

/** @typedef {import("./context.js").Context} Context @typedef {import("../state/pointer.js").Json} Json */
/** @typedef {import("../state/history.js").Past} Past */

/** What was read from the device, for which document, and of which state. */
const read = { id: "", seen: -1, list: /** @type {Past[] | undefined} */ (undefined) };
/** What came of going back. */
let said = "";

/** Read anew what the screen needs, when documents have changed. @param {Context} context @param {string} id */
function look({ store, redraw }, id) {
  const seen = store.done.length + store.version * 100;
  if (read.id === id && read.seen === seen) return read.list;
  if (read.id !== id) {
    read.list = undefined;
    said = "";
  }
  Object.assign(read, { id, seen });
  store.history.of(id || undefined).then(
    (list) => {
      if (read.id !== id || read.seen !== seen) return;
      read.list = list;
      redraw();
    },
    (problem) => {
      said = String(problem);
      redraw();
    },
  );
  return read.list;
}

/** @param {Context} context */
export function historyScreen(context) {
  const { place, store, t } = context;
  const id = place.part;
  const list = look(context, id);
  const name = store.get(id)?.name ?? list?.[0]?.name ?? "";
  return html`
    <header class="head open-head">
      <a class="back" href=${id ? "#/history" : "#/settings"}><span aria-hidden="true">‹&nbsp;</span>${t(id ? "device.history" : "shell.tab.settings")}</a>
      <h1 tabindex="-1">${id ? t("device.history.of", { name }) : t("device.history")}</h1>
    </header>
    ${notices(context)} ${undoButton(context)}
    ${store.history.problem ? html`<p class="block wrong">${t("device.history.not_kept", { problem: store.history.problem })}</p>` : nothing}
    ${said ? html`<p class="block" role="status">${said}</p>` : nothing}
    ${list === undefined ? html`<p class="block">${t("device.history.reading")}</p>` : id ? versions(context, list) : everything(context, list)}
  `;
}

/** "Wed 25 Nov 12:31, 5 minutes ago" @param {Context} context @param {string} at */
function when({ t }, at) {
  const local = iso(Date.parse(at));
  const ago = age(local);
  return `${day(local)} ${clock(local)}, ${t(ago.text, ago.values)}`;
}

/** Every document that was changed, the last changed first. @param {Context} context @param {Past[]} list */
function everything(context, list) {
  const { store, t, format } = context;
  if (!list.length) return html`<p class="block">${t("device.history.none")}</p>`;
  /** @type {Map<string, Past[]>} */
  const byId = new Map();
  for (const one of list) byId.set(one.id, [...(byId.get(one.id) ?? []), one]);
  return html`<ul class="past">
    ${[...byId].map(
      ([id, all]) => html`<li>
        <a class="past-row" href="#/history/${encodeURIComponent(id)}">
          <b>${store.get(id)?.name ?? all[0].name}</b>
          <span class="small">${t(`device.kind.${all[0].kind}`)}${store.get(id) ? nothing : html`, ${t("device.history.gone")}`}</span>
          <span class="small">${t("device.history.last", { what: format.say(all[0].label), when: when(context, all[0].at), n: all.length })}</span>
        </a>
      </li>`,
    )}
  </ul>`;
}

/** @param {Context} context @param {Past[]} list newest first */
function versions(context, list) {
  const { store, t } = context;
  if (!list.length) return html`<p class="block">${t("device.history.none")}</p>`;
  return html`<p class="block small">${t("device.history.about")}</p>
    <ol class="past">
      ${list.map((past, index) => version(context, past, index ? list[index - 1].before : store.get(past.id)))}
    </ol>`;
}

/** @param {Context} context @param {Past} past @param {Json} next what came of it */
function version(context, past, next) {
  const { store, core, chosen, boot, t, format } = context;
  const words = { chosen, name: namer([...store.documents.values(), past.before]) };
  const lines = past.before && next ? places(past.before, next).map((change) => changeLine(change, [next, past.before], words)) : [];
  const here = store.get(past.id);
  const same = past.before && here && places(here, past.before).length === 0;
  const back = async () => {
    const values = { name: past.name, when: when(context, past.at) };
    try {
      await goBack(store, core, past, { text: "device.undo.back", values: { name: past.name } });
      said = t("device.history.done", values);
    } catch (problem) {
      said = t("device.history.refused", { ...values, why: /** @type {any} */ (problem).message });
    }
    context.redraw();
  };
  return html`<li class="block past-version">
    <h2>${format.say(past.label)}</h2>
    <p class="small">${when(context, past.at)}</p>
    ${past.before === null ? html`<p>${t("device.history.made")}</p>` : next === undefined || next === null ? html`<p>${t("device.history.taken_away")}</p>` : folded(lines)}
    ${past.before === null
      ? nothing
      : same
        ? html`<p class="small">${t("device.history.same")}</p>`
        : html`<div class="buttons">
            <button type="button" class="plain" ?disabled=${boot.state !== "ready"} @click=${back}>
              ${t(here ? "device.history.back" : "device.history.bring")}<span class="unseen"> ${when(context, past.at)}</span>
            </button>
          </div>`}
  </li>`;
}
