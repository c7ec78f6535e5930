// Files: give everything or one thing, take one in. Before it is taken one sees what it would change.
import { html, nothing } from "lit";
import { changeLine, folded, namer, placeIn } from "../forms/changes.js";
import { select } from "../parts/select.js";
import { unbroken, words } from "../parts/words.js";
import { SINGLE, canShare, changesAny, fileOf, held, saveFile, shareFile, textOf, wholeOf } from "../state/file.js";
import { settingsOf } from "../state/plan.js";
import { now } from "../state/time.js";
import { t } from "../text.js";

/** @typedef {import("./context.js").Context} Context @typedef {import("../state/pointer.js").Json} Json */

/** The document that is given, "" for everything. */
let what = "";

/** A bundle that looks as the screen does: in the sun nobody finds the way back from paper. @param {string | undefined} look @param {Json} bundle @returns {Json} */
const lookingAs = (look, bundle) => ({ ...bundle, documents: bundle.documents.map((/** @type {Json} */ one) => (one.kind === "settings" && look ? { ...one, look } : one)) });

/** @param {Context} context */
export function files(context) {
  const { store, core, ui, boot } = context;
  const say = (/** @type {string} */ said) => context.turn({ said, working: false });
  const work = async (/** @type {() => Promise<void>} */ deed, /** @type {(problem: any) => string} */ refused) => {
    context.turn({ working: true, said: "" });
    try {
      await deed();
    } catch (problem) {
      say(refused(problem));
    }
  };
  const take = async (/** @type {Event} */ { target }) => {
    const input = /** @type {HTMLInputElement} */ (target);
    const file = input.files?.[0];
    if (!file) return;
    context.turn({ incoming: undefined });
    let text = "";
    await work(
      async () => {
        const read = await textOf(file);
        text = read.text;
        context.turn({ incoming: await held(read, store, core), working: false });
      },
      (problem) => refusal({ name: file.name, text }, problem, context),
    );
    input.value = "";
  };
  const replace = (/** @type {Json} */ bundle, /** @type {string} */ said) => {
    store.replace(bundle);
    context.turn({ incoming: undefined, said: t(said), working: false });
  };
  const demo = () => work(async () => replace(lookingAs(settingsOf(store)?.look, await core.ask("demo", { now: now() })), "shell.file.demo_done"), ({ message }) => message);
  const back = async () => {
    const aside = await store.kept("aside");
    if (aside) replace(aside.bundle, "shell.file.back_done");
    else say(t("shell.file.no_aside"));
  };
  return html`<section class="block stack">
    <h2>${t("device.file")}</h2>
    ${give(context)}
    <div class="buttons">
      <label class="plain file-button"
        >${t("shell.file.take")}<input type="file" accept=".json,.txt,application/json,text/plain" ?disabled=${boot.state !== "ready"} @change=${take}
      /></label>
    </div>
    <p class="small">${t("device.file.about_take")}</p>
    ${ui.working ? html`<p role="status">${t("shell.file.checking")}</p>` : nothing} ${incoming(context, work, replace)}
    ${ui.said ? html`<p class="wrapped" role="status">${unbroken(ui.said)}</p>` : nothing}
    <div class="buttons">
      <button type="button" class="plain" ?disabled=${boot.state !== "ready"} @click=${demo}>${t("shell.file.demo")}</button>
      <button type="button" class="plain" @click=${back}>${t("shell.file.back")}</button>
    </div>
  </section>`;
}

/** Refused, why, and where. @param {{ name: string, text: string }} file @param {any} problem @param {Context} context */
function refusal({ name, text }, { message, path }, { chosen }) {
  const place = path ? ` ${t("device.file.place", { path: placeIn(text, path, { chosen, name: (id) => id }) })}` : "";
  return `${t("shell.file.refused", { name })} ${t(message)}${place}`;
}

/** @param {Context} context */
function give(context) {
  const { store } = context;
  const options = [
    { value: "", label: t("device.file.everything") },
    ...SINGLE.flatMap((kind) => store.all(kind).map(({ id, name }) => ({ value: id, label: t(`device.file.one.${kind}`, { name }) }))),
  ];
  const id = options.some(({ value }) => value === what) ? what : "";
  const sketched = Object.keys(store.sketches).length > 0;
  return html`
    <label class="f-label" for="file-what">${t("device.file.what")}</label>
    ${select({
      id: "file-what",
      value: id,
      options,
      set: (value) => {
        what = value;
        context.redraw();
      },
    })}
    ${sketched ? html`<p class="small">${t("device.file.sketched")}</p>` : nothing}
    <div class="buttons">
      ${canShare() ? html`<button type="button" class="plain" @click=${() => shareFile(fileOf(store, id || undefined))}>${t("device.file.share")}</button>` : nothing}
      <button type="button" class="plain" @click=${() => saveFile(fileOf(store, id || undefined))}>${t("shell.file.give")}</button>
    </div>
  `;
}

/**
 * What the file would change, and whether to take it.
 * @param {Context} context
 * @param {(deed: () => Promise<void>, refused: (problem: any) => string) => Promise<void>} work
 * @param {(bundle: Json, said: string) => void} replace
 */
function incoming(context, work, replace) {
  const { ui, store, core } = context;
  /** @type {import("../state/file.js").Incoming | undefined} */
  const file = ui.incoming;
  if (!file) return nothing;
  const refused = (/** @type {any} */ problem) => refusal(file, problem, context);
  const take = () =>
    work(async () => {
      if (store.version !== file.version) {
        context.turn({ incoming: await held(file, store, core), said: t("device.file.meanwhile"), working: false });
        return;
      }
      store.take(file.merged, { text: "device.undo.file", values: { name: file.name } });
      context.turn({ incoming: undefined, said: t("device.file.taken"), working: false });
    }, refused);
  const instead = () => work(async () => replace(await wholeOf(file, core), "shell.file.taken"), refused);
  return html`<section class="notice" aria-label=${file.name}>
    <h3>${t("device.file.would", { name: file.name })}</h3>
    ${differences(context, file)}
    <div class="buttons">
      ${changesAny(file) ? html`<button type="button" class="plain strong" @click=${take}>${t("device.file.merge")}</button>` : nothing}
      <button type="button" class="plain" @click=${() => context.turn({ incoming: undefined })}>${t("shell.file.leave")}</button>
      <button type="button" class="plain" @click=${instead}>${t("shell.file.replace")}</button>
    </div>
  </section>`;
}

/** How many of each kind. @param {Json[]} documents */
const counted = (documents) =>
  [...new Set(documents.map(({ kind }) => kind))].map((kind) => t(`shell.kind.${kind}`, { n: documents.filter((one) => one.kind === kind).length })).join(", ");

/**
 * What a merge would change, in words.
 * @param {Context} context
 * @param {{ merged: Json }} file
 * @param {(change: Json, named: (id: string) => string) => string | undefined} [plainly] words of one's own for a change, "" to be silent of it
 */
export function differences(context, { merged }, plainly = () => undefined) {
  const { store, chosen } = context;
  const after = new Map(merged.documents.map((/** @type {Json} */ one) => [one.id, one]));
  const said = { chosen, name: namer([...store.documents.values(), ...merged.documents]) };
  /** @type {Map<string, Json[]>} */
  const changed = new Map();
  for (const change of merged.changes) changed.set(change.document, [...(changed.get(change.document) ?? []), change]);
  const whole = (/** @type {string} */ kind) => [...changed.values()].filter(([one]) => one.pointer === "" && one.kind === kind).map(([one]) => after.get(one.document) ?? store.get(one.document) ?? one);
  const inside = [...changed].filter(([, [one]]) => one.pointer !== "");
  // What two people changed apart is looked at first.
  const apart = (/** @type {Json[]} */ list) => list.filter(({ kind }) => kind === "conflict").length;
  inside.sort(([, a], [, b]) => apart(b) - apart(a));
  const list = (/** @type {string} */ title, /** @type {Json[]} */ documents) =>
    documents.length
      ? html`<h4>${t(title, { what: counted(documents) })}</h4>
          ${folded(documents.map(({ name }) => html`<li class="diff">${name}</li>`))}`
      : nothing;
  return html`
    ${merged.changes.length ? nothing : html`<p>${t("device.file.nothing")}</p>`}
    ${whole("conflict").map((one) => html`<p class="wrong">${t(store.get(one.id) && !after.has(one.id) && merged.gone.includes(one.id) ? "device.file.apart_gone" : "device.file.apart_stays", { name: one.name })}</p>`)}
    ${inside.map(
      ([id, list]) => html`<h4>${said.name(id)}${apart(list) ? html` <span class="wrong">${t("device.file.conflicts", { n: apart(list) })}</span>` : nothing}</h4>
        ${folded(
          [...list].sort((a, b) => Number(b.kind === "conflict") - Number(a.kind === "conflict")).flatMap((change) => {
              const own = plainly(change, said.name);
              if (own === "") return [];
              return [own ? html`<li class="diff"><b>${own}</b></li>` : changeLine(change, [after.get(id), store.get(id)], said)];
            }),
        )}`,
    )}
    ${list("device.file.new", whole("added"))} ${list("device.file.gone", whole("removed"))}
    ${merged.not_joined.map((/** @type {Json} */ one) => html`<p class="wrong">${words(one.reason, chosen)}. ${one.error.message}</p>`)}
    ${merged.unchanged ? html`<p class="small">${t("device.file.unchanged", { n: merged.unchanged })}</p>` : nothing}
  `;
}
