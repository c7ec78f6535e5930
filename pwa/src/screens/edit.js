// Editing a document: its contents with how far each part is, one section or element to a screen, what is missing.
import { html, nothing } from "lit";
import { drawingFor } from "../forms/drawings/index.js";
import { ORIGINS } from "../forms/fields/figure.js";
import { anyField, fieldsIn } from "../forms/fields/index.js";
import { elementButtons } from "../forms/fields/lists.js";
import { Form, idOf } from "../forms/form.js";
import { SECTIONS, isPaged, labelId, nameOf, sectionOf } from "../forms/layout.js";
import { progress } from "../forms/progress.js";
import { itemFrom, quickLine } from "../forms/quick.js";
import { linkTo, readiness } from "../forms/readiness.js";
import { KINDS, classOf, fieldOf } from "../forms/schema.js";
import { choice } from "../parts/choice.js";
import { byFinger } from "../parts/focus.js";
import { t } from "../text.js";
import { hub } from "./edit_hub.js";
import { notices, undoButton } from "./status.js";

/** @typedef {import("./context.js").Context} Context @typedef {import("../state/pointer.js").Json} Json */
/** @typedef {{ list?: string, element?: string, section?: string, target: string }} Page */

/** @param {Context} context */
export function editScreen(context) {
  const { place, sketches, store, chosen, redraw, t } = context;
  const [id, ...rest] = place.part.split("/");
  if (!id || !sketches.work(id) || !KINDS[sketches.work(id).kind]) return hub(context);
  const form = new Form({ store, sketches, chosen, redraw, id });
  const page = pageOf(form, rest.length ? `/${rest.join("/")}` : "");
  const title = page.element ? elementName(form, page) : page.section && SECTIONS[form.document.kind].length > 1 ? t(`form.section.${page.section}`) : form.document.name;
  return html`
    <header class="head open-head f-head">
      <nav class="f-way" aria-label=${t("form.way")}>${way(context, form, page)}</nav>
      <h1 tabindex="-1">${title}</h1>
    </header>
    ${notices(context, { form: form.id })} ${waiting(context, form)}
    <div class="form" data-form=${form.id} data-target=${page.target ? idOf(page.target) : nothing} @keydown=${onEnter}>
      ${page.element ? elementPage(context, form, page) : page.section ? sectionPage(context, form, page.section) : contents(context, form)}
    </div>
    ${ofOthers(context, form.id) ? nothing : undoButton(context)}
    ${store.get(form.id) ? html`<div class="f"><a class="plain" href="#/history/${encodeURIComponent(form.id)}">${t("shell.tab.history")}</a></div>` : nothing}
  `;
}

/** Would undo take back something else than what is seen? A document that is not stored yet has no step of its own. @param {Context} context @param {string} id */
const ofOthers = ({ store }, id) => !store.get(id) && !store.done.at(-1)?.back.some(({ document }) => document === id);

/** Which page shows a place: contents, a section, or an element; and what of it was asked for. @param {Form} form @param {string} pointer @returns {Page} */
function pageOf(form, pointer) {
  const [, field, element] = pointer.split("/");
  const kind = form.document.kind;
  if (!field) return SECTIONS[kind].length === 1 ? { section: SECTIONS[kind][0][0], target: "" } : { target: "" };
  const list = `/${field}`;
  if (element && isPaged(list) && form.value(`${list}/${element}`) !== undefined) {
    const own = `${list}/${element}`;
    return { list, element: own, target: pointer === own ? "" : pointer };
  }
  const [section, fields] = sectionOf(kind, field);
  return { section, target: pointer === `/${fields[0]}` ? "" : pointer };
}

/** @param {Form} form @param {Page} page */
function elementName(form, { list = "", element = "" }) {
  const field = fieldOf(KINDS[form.document.kind], list.slice(1));
  const all = form.value(list) ?? [];
  const one = form.value(element);
  return nameOf(field && classOf(field, one), one, all.indexOf(one));
}

/** The way back: all that is mine, this document, its section. @param {Context} context @param {Form} form @param {Page} page */
function way({ t }, form, { list, section }) {
  const kind = form.document.kind;
  const [own] = list ? sectionOf(kind, list.slice(1)) : [""];
  const single = SECTIONS[kind].length === 1;
  return html`<a href="#/edit">${t("form.mine")}</a>
    ${section && !single || list ? html`<a href=${linkTo(form.id, "")}>${form.document.name}</a>` : nothing}
    ${list && !single ? html`<a href=${linkTo(form.id, list)}>${t(`form.section.${own}`)}</a>` : nothing}`;
}

/** What is not stored yet, and why. @param {Context} context @param {Form} form */
function waiting({ store, sketches, boot, t }, form) {
  if (!store.sketches[form.id]) return nothing;
  const open = sketches.open(form.id);
  const isNew = !store.get(form.id);
  if (!open.length) return html`<p class="block small f-waiting" role="status">${t(boot.state === "ready" ? "form.waiting.check" : "form.waiting.start")}</p>`;
  return html`<section class="notice f-waiting" aria-label=${t("form.waiting")}>
    <p><b>${t(isNew ? "form.waiting.new" : "form.waiting.part")}</b></p>
    <ul>
      ${open.slice(0, 6).map(({ pointer, message }) => html`<li><a href=${linkTo(form.id, pointer)}>${placeWords(form, pointer)}</a>${message ? html`: ${message}` : nothing}</li>`)}
      ${open.length > 6 ? html`<li>${t("form.waiting.more", { n: open.length - 6 })}</li>` : nothing}
    </ul>
    <button type="button" class="link" @click=${() => sketches.drop(form.id)}>${t(isNew ? "form.waiting.drop_new" : "form.waiting.drop")}</button>
  </section>`;
}

/** A place in words: the names on the way to it. @param {Form} form @param {string} pointer */
export function placeWords(form, pointer) {
  const parts = pointer.split("/").slice(1);
  const said = parts.flatMap((_, i) => {
    const here = `/${parts.slice(0, i + 1).join("/")}`;
    const found = form.placeOf(here);
    if (!found) return [];
    if (found.field) return i < parts.length - 1 && found.field.kind === "list" ? [] : [t(labelId(found.field))];
    return [nameOf(found.cls, found.value, Number(parts[i]) || 0)];
  });
  return said.join(", ") || form.document.name;
}

/** Enter goes on to the next field; on a button or a link it does what it always does. @param {KeyboardEvent} event */
function onEnter(event) {
  const here = /** @type {HTMLElement} */ (event.target);
  if (event.key !== "Enter" || !(here instanceof HTMLInputElement || here instanceof HTMLSelectElement)) return;
  if (here instanceof HTMLInputElement && here.type === "checkbox") return;
  event.preventDefault();
  const all = [.../** @type {HTMLElement} */ (event.currentTarget).querySelectorAll("[data-main]")].filter((one) => one.checkVisibility());
  const next = all.find((one) => here.compareDocumentPosition(one) & Node.DOCUMENT_POSITION_FOLLOWING);
  /** @type {HTMLElement | undefined} */ (next)?.focus();
  if (document.activeElement !== here) return;
  here.blur(); // it was the last: leaving it is what stores it
  if (!byFinger()) here.focus();
}

/** @param {Context} context @param {Form} form */
function contents(context, form) {
  const { t, core } = context;
  return html`
    ${readiness(form, core)}
    <ol class="f-contents">
      ${progress(form).map(
        ({ name, fields, given, of, open }) => html`<li>
          <a class="f-page" href=${linkTo(form.id, `/${fields[0]}`)} data-section=${name}>
            <b>${t(`form.section.${name}`)}</b>
            <span class="small">${given === 0 ? t("form.progress.none") : given === of ? t("form.progress.all") : t("form.progress.some", { given, of })}</span>
            ${open ? html`<span class="f-needed">${t("form.progress.open", { n: open })}</span>` : nothing}
          </a>
        </li>`,
      )}
    </ol>
    ${drawingFor(form, "wheels", undefined)}
    ${["aeroplane", "strip"].includes(form.document.kind) && context.store.get(form.id)
      ? html`<div class="f buttons"><a class="plain" href="#/trip/new%2F${encodeURIComponent(form.id)}">${t("trips.new_with", { name: form.document.name })}</a></div>`
      : nothing}
  `;
}

/** @param {Context} context @param {Form} form @param {string} section */
function sectionPage(context, form, section) {
  const { kind } = form.document;
  const [, fields] = /** @type {[string, string[]]} */ (SECTIONS[kind].find(([name]) => name === section));
  return html`
    ${readiness(form, context.core, { brief: true })} ${originChoice(context, form)} ${drawing(context, form, section)}
    ${section === "items" ? items(context, form) : nothing}
    ${fields.map((name) => anyField(form, /** @type {import("../forms/schema.js").Field} */ (fieldOf(KINDS[kind], name)), `/${name}`))}
    ${onwards(context, form, section)}
  `;
}

/** @param {Context} context @param {Form} form @param {Page} page */
function elementPage(context, form, { list = "", element = "" }) {
  const field = /** @type {import("../forms/schema.js").Field} */ (fieldOf(KINDS[form.document.kind], list.slice(1)));
  const cls = classOf(field, form.value(element));
  const [section] = sectionOf(form.document.kind, list.slice(1));
  const wrong = form.sketches.wrongAt(form.id, element);
  const below = !["envelope", "flaps"].includes(section);
  const name = elementName(form, { list, element, target: "" });
  const back = () => {
    location.hash = linkTo(form.id, list);
  };
  return html`
    ${readiness(form, context.core, { brief: true })} ${originChoice(context, form)} ${below ? nothing : drawing(context, form, section)}
    ${wrong ? html`<p class="wrong block" role="alert">${wrong}</p>` : nothing} ${cls ? fieldsIn(form, cls, element) : nothing}
    ${below ? drawing(context, form, section) : nothing}
    <div class="f">${elementButtons(form, field, list, element, name, back)}</div>
    <div class="f"><a class="plain" href=${linkTo(form.id, list)}>${context.t("form.back_to", { what: context.t(`form.section.${section}`) })}</a></div>
  `;
}

/** @param {Context} context @param {Form} form @param {string} section */
function drawing({ plan, known }, form, section) {
  const answered = plan?.aeroplane?.id === form.id ? known?.leg : undefined;
  return html`<div class="f-drawings">${drawingFor(form, section, answered)}</div>`;
}

/** Where new figures of this document come from. Nobody said so: estimated. @param {Context} context @param {Form} form */
function originChoice({ t }, form) {
  return html`<div class="f f-origins">
    ${choice({
      name: `origin-${form.id}`,
      label: t("form.origin"),
      value: form.origin,
      options: ORIGINS.map((value) => ({ value, label: t(`form.origin.${value}`) })),
      set: (origin) => form.setOrigin(origin),
    })}
    ${form.origin === "estimated" ? html`<p class="f-help">${t("form.origin.help")}</p>` : nothing}
  </div>`;
}

/** @param {Context} context @param {Form} form */
function items(context, form) {
  const { store, sketches, chosen, redraw, t } = context;
  const add = (/** @type {any} */ read) => {
    const taken = [...store.all("kit"), sketches.work(form.id)].flatMap((kit) => (kit.items ?? []).map((/** @type {Json} */ { id }) => id));
    const item = itemFrom(read, taken);
    form.putAll([{ pointer: `/items/${item.id}`, value: item }]);
  };
  return quickLine({ key: form.id, label: t("form.quick.item"), chosen, origin: form.origin, add, redraw, bulky: true });
}

/** The next section, so that one goes through step by step. @param {Context} context @param {Form} form @param {string} section */
function onwards({ t }, form, section) {
  const all = SECTIONS[form.document.kind];
  const next = all[all.findIndex(([name]) => name === section) + 1];
  if (all.length === 1) return nothing;
  return html`<div class="f buttons">
    ${next ? html`<a class="plain" href=${linkTo(form.id, `/${next[1][0]}`)}>${t("form.next", { what: t(`form.section.${next[0]}`) })}</a>` : nothing}
    <a class="plain" href=${linkTo(form.id, "")}>${t("form.contents")}</a>
  </div>`;
}
