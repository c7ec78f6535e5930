// All that is the person's own: aeroplanes, strips, kits, people. New ones, copies, and what is taken away.
import { html, nothing } from "lit";
import { live } from "lit/directives/live.js";
import { shown } from "../forms/form.js";
import { freshId } from "../forms/layout.js";
import { quickLine } from "../forms/quick.js";
import { linkTo } from "../forms/readiness.js";
import { select } from "../parts/select.js";
import { sourced } from "../parts/words.js";
import { notices, undoButton } from "./status.js";

/** @typedef {import("./context.js").Context} Context @typedef {import("../state/pointer.js").Json} Json */

const HUB = ["aeroplane", "strip", "kit", "person"];

/** What a new document begins with. @type {Record<string, Json>} */
const BEGUN = {
  aeroplane: { configurations: [{ id: "as-it-is", name: "As it is" }] },
  strip: { ground: {}, directions: [] },
  kit: { items: [] },
  person: {},
};

/** The classes to start from, once they were asked for. @type {Json[] | undefined} */
let classes;

/** @param {Context} context */
export function hub(context) {
  const { t, core, redraw, boot } = context;
  if (!classes && boot.state === "ready") {
    classes = [];
    core.ask("classes", {}).then(
      (/** @type {Json[]} */ given) => {
        classes = given;
        redraw();
      },
      () => {
        classes = undefined;
      },
    );
  }
  return html`
    <header class="head open-head f-head"><h1 tabindex="-1">${t("form.mine")}</h1></header>
    ${notices(context)}
    ${context.store.all("aeroplane").length && context.store.all("strip").length
      ? html`<div class="block buttons"><span>${t("trips.fly")}</span> <a class="plain" href="#/trip/new">${t("trips.new")}</a></div>`
      : nothing}
    <div class="form">${HUB.map((kind) => kindList(context, kind))}</div>
    ${undoButton(context)}
  `;
}

/** @param {Context} context @param {string} kind */
function kindList(context, kind) {
  const { sketches, store, chosen, t, redraw } = context;
  const all = sketches.all(kind);
  const said = shown.said[`hub-${kind}`];
  return html`<section class="f-list" data-kind=${kind} aria-labelledby="hub-${kind}">
    <h2 id="hub-${kind}">${t(`form.kind.${kind}`)}</h2>
    <ul class="f-pages">
      ${all.map(
        (one) => html`<li class="f-mine">
          <a class="f-page" href=${linkTo(one.id, "")}>
            <b>${one.name}</b>
            ${kind === "person" ? html`<span>${sourced(one.mass, "mass", chosen)}</span>` : nothing} ${kind === "kit" ? html`<span class="small">${t("form.items", { n: one.items?.length ?? 0 })}</span>` : nothing}
            ${one.variant_of ? html`<span class="small">${t("form.variant_of", { what: store.get(one.variant_of)?.name ?? t("form.variant_of.gone") })}</span>` : nothing}
            ${store.get(one.id) ? nothing : html`<span class="f-needed">${t("form.not_whole")}</span>`}
          </a>
          <span class="buttons">
            <button type="button" class="link" @click=${() => duplicate(context, one)}>${t("form.copy")}<span class="unseen"> ${one.name}</span></button>
            <button type="button" class="link" @click=${() => remove(context, one)}>${t("form.delete")}<span class="unseen"> ${one.name}</span></button>
          </span>
        </li>`,
      )}
    </ul>
    ${said ? html`<p class="wrong" role="alert">${t(said.text, said.values)}</p>` : nothing}
    ${kind === "person" ? quickLine({ key: "person", label: t("form.quick.person"), chosen, origin: "measured", redraw, add: (read) => person(context, read) }) : addLine(context, kind)}
  </section>`;
}

/** @param {Context} context */
const ids = ({ store, sketches }) => [...store.documents.keys(), ...Object.keys(store.sketches), ...Object.keys(store.removed)].concat(sketches.all("kit").map(({ id }) => id));

/** @param {Context} context @param {Json} document */
function begin(context, document) {
  context.sketches.put(document.id, [{ pointer: "", value: document }], { text: "form.undo.new", values: { name: document.name } });
}

/** @param {Context} context @param {{ name: string, mass?: Json }} read */
function person(context, { name, mass }) {
  begin(context, { version: 1, kind: "person", id: freshId(name, ids(context)), name, ...(mass ? { mass } : {}) });
}

/** A new one by its name; an aeroplane may begin as one of its class. @param {Context} context @param {string} kind */
function addLine(context, kind) {
  const { t, redraw } = context;
  const key = `hub-${kind}`;
  const name = shown.aid[key] ?? "";
  const chosen = shown.aid[`${key}-class`] ?? "";
  const add = () => {
    const given = name.trim();
    if (!given) return;
    shown.aid[key] = "";
    const id = freshId(given, ids(context));
    const base = kind === "aeroplane" ? classes?.find((one) => one.id === chosen)?.document : undefined;
    begin(context, { ...(base ? structuredClone(base) : BEGUN[kind]), version: 1, kind, id, name: given });
    location.hash = linkTo(id, "");
  };
  return html`<div class="f-add" data-at=${key}>
    ${kind === "aeroplane" && classes?.length
      ? html`<label class="f-label" for="${key}-class">${t("form.class")}</label>
          <p class="f-help">${t("form.class.help")}</p>
          ${select({
            id: `${key}-class`,
            value: chosen,
            options: [{ value: "", label: t("form.class.none") }, ...classes.map((one) => ({ value: one.id, label: t(one.label.text, one.label.values) }))],
            set: (next) => {
              shown.aid[`${key}-class`] = next;
              redraw();
            },
          })}`
      : nothing}
    <label class="f-label" for="${key}-name">${t(`form.new.${kind}`)}</label>
    <div class="f-row">
      <input class="f-text" id="${key}-name" type="text" maxlength="120" autocomplete="off" .value=${live(name)}
        @input=${(/** @type {Event} */ { target }) => {
          shown.aid[key] = /** @type {HTMLInputElement} */ (target).value;
          redraw();
        }}
        @keydown=${(/** @type {KeyboardEvent} */ event) => event.key === "Enter" && add()} />
      <button type="button" class="plain" @click=${add}>${t("form.add")}</button>
    </div>
  </div>`;
}

/** @param {Context} context @param {Json} one */
function duplicate(context, one) {
  const name = context.t("form.copy_of", { what: one.name });
  const taken = ids(context);
  const { stamps, removed, ...rest } = structuredClone(one);
  const copy = { ...rest, id: freshId(name, taken), name };
  if (one.kind === "aeroplane") copy.variant_of = one.id;
  // Items are named once among all kits.
  if (one.kind === "kit") {
    const used = context.store.all("kit").flatMap(({ items }) => items.map((/** @type {Json} */ { id }) => id));
    copy.items = one.items.map((/** @type {Json} */ item) => {
      const id = freshId(item.name, used);
      used.push(id);
      return { ...item, id };
    });
  }
  begin(context, copy);
}

/** Take a document away, unless something else rests on it. @param {Context} context @param {Json} one */
async function remove({ store, sketches, core, redraw }, one) {
  const key = `hub-${one.kind}`;
  delete shown.said[key];
  if (store.get(one.id)) {
    const texts = store.texts();
    const rest = [...store.documents.keys()].flatMap((id, index) => (id === one.id ? [] : [texts[index]]));
    try {
      await core.ask("check", { documents: rest });
    } catch (problem) {
      shown.said[key] = { text: "form.delete.used", values: { name: one.name, why: /** @type {any} */ (problem).message } };
      return redraw();
    }
  }
  const changes = store.sketches[one.id];
  const gone = store.get(one.id) ? [{ document: one.id, pointer: "", value: undefined }] : [];
  store.edit(gone, { text: "form.undo.delete", values: { name: one.name } }, one.id, changes && { document: one.id, changes });
  sketches.drop(one.id);
  redraw();
}
