// Help with a figure on the spot: paces for a length, an angle for a height, the device's own position. What comes out
// is put like anything that is typed, and can be changed by hand.
import { html, nothing } from "lit";
import { live } from "lit/directives/live.js";
import { fromSi, t } from "../../text.js";
import { idOf, shown } from "../form.js";
import { plain, read, written } from "../reading.js";

/** @typedef {import("../form.js").Form} Form @typedef {import("../schema.js").Field} Field @typedef {import("../schema.js").Json} Json */

/** Height of the eye of somebody who stands, until it is said. @type {Record<string, string>} */
const EYE = { m: "1.6", ft: "5.2" };

/** Lengths that somebody walks. */
const WALKED = ["Ground.length", "Ground.width", "Direction.takeoff_length", "Direction.landing_length", "Obstacle.distance", "Segment.length"];

/** @param {Form} form @param {Field} field @param {string} pointer */
export function aidFor(form, field, pointer) {
  const name = `${field.cls}.${field.name}`;
  if (WALKED.includes(name)) return paces(form, field, pointer);
  if (name === "Obstacle.height") return angle(form, field, pointer);
  return nothing;
}

/** @param {string} text */
const number = (text) => (/^\d+(?:[.,]\d+)?$/.test(plain(text ?? "")) ? Number(plain(text).replace(",", ".")) : NaN);

/** One entry of a helper; `key` may be that of several, so the place makes the id. @param {Form} form @param {string} pointer @param {string} key @param {string} label @param {string} usual */
function asked(form, pointer, key, label, usual = "") {
  const id = `aid${idOf(pointer)}-${key.replace(/^.*\/| .*$/g, "")}`;
  return html`<div>
    <label class="f-label" for=${id}>${label}</label>
    <input class="f-number" id=${id} type="text" inputmode="decimal" autocomplete="off" data-main .value=${live(shown.aid[key] ?? usual)}
      @input=${(/** @type {Event} */ { target }) => {
        shown.aid[key] = /** @type {HTMLInputElement} */ (target).value;
        form.redraw();
      }} />
  </div>`;
}

/** @param {Form} form @param {string} pointer @param {unknown} summary @param {unknown} inner */
const folded = (form, pointer, summary, inner) =>
  html`<details class="f-aid" ?open=${shown.open[`aid${form.place(pointer)}`] ?? false}
    @toggle=${(/** @type {Event} */ { target }) => {
      shown.open[`aid${form.place(pointer)}`] = /** @type {HTMLDetailsElement} */ (target).open;
      form.redraw();
    }}>
    <summary>${summary}</summary>
    <div class="f-inner">${inner}</div>
  </details>`;

/** Put a length that came of a helper, with the way it came about. @param {Form} form @param {Field} field @param {string} pointer @param {number} metres @param {string} note */
function putLength(form, field, pointer, metres, note) {
  const unit = walkedIn(form, field, pointer);
  const said = read(inTenths(metres, unit), { si: "m" }, unit);
  if ("problem" in said) return;
  const { value, typed } = said;
  form.setUnit(form.measured(field, pointer), unit);
  if (field.kind === "figure") form.put(field, pointer, { value, origin: "measured", typed, note });
  else form.put(field, pointer, value, typed);
}

/** Feet where the field is in feet, else metres. @param {Form} form @param {Field} field @param {string} pointer */
const walkedIn = (form, field, pointer) => (form.unit(form.measured(field, pointer)) === "ft" ? "ft" : "m");

/** @param {number} metres @param {string} unit */
const inTenths = (metres, unit) => `${Math.round(fromSi(metres, unit) * 10) / 10} ${unit}`;

/** A length with or without its unit. [m] @param {string | undefined} text @param {string} unit */
function metresOf(text, unit) {
  const said = read(text ?? "", { si: "m", low: 0 }, unit);
  return "problem" in said ? NaN : said.value;
}

/** Paces times their length. The length of a pace is kept for the next. @param {Form} form @param {Field} field @param {string} pointer */
function paces(form, field, pointer) {
  const unit = walkedIn(form, field, pointer);
  const [count, length] = [`${pointer}/paces`, `/pace ${unit}`];
  const [n, metres] = [number(shown.aid[count]), metresOf(shown.aid[length], unit)];
  const total = n * metres;
  const pace = () => (Number.isFinite(number(shown.aid[length])) ? `${shown.aid[length]} ${unit}` : shown.aid[length]);
  const take = () => putLength(form, field, pointer, total, t("form.paces.note", { n: shown.aid[count], pace: pace() }));
  return folded(
    form,
    pointer,
    t("form.paces"),
    html`${asked(form, pointer, count, t("form.paces.count"))} ${asked(form, pointer, length, t("form.paces.length", { unit: written(unit) }))}
      <button type="button" class="plain" ?disabled=${!(total > 0)} @click=${take}>${total > 0 ? t("form.paces.take", { total: inTenths(total, unit) }) : t("form.paces.both")}</button>`,
  );
}

/** A height from its angle above the end of the strip, by its distance. @param {Form} form @param {Field} field @param {string} pointer */
function angle(form, field, pointer) {
  const unit = walkedIn(form, field, pointer);
  const [degrees, eye] = [`${pointer}/angle`, `/eye ${unit}`];
  const usual = EYE[unit];
  const distance = form.value(pointer.replace(/height$/, "distance"))?.value;
  const height = distance * Math.tan((number(shown.aid[degrees]) * Math.PI) / 180) + (metresOf(shown.aid[eye] ?? usual, unit) || 0);
  const ready = Number.isFinite(height);
  const take = () => putLength(form, field, pointer, height, t("form.angle.note", { degrees: shown.aid[degrees] }));
  return folded(
    form,
    pointer,
    t("form.angle"),
    distance === undefined
      ? html`<p>${t("form.angle.distance_first")}</p>`
      : html`<p class="f-help">${t("form.angle.how")}</p>
          ${asked(form, pointer, degrees, t("form.angle.degrees"))} ${asked(form, pointer, eye, t("form.angle.eye", { unit: written(unit) }), usual)}
          <button type="button" class="plain" ?disabled=${!ready} @click=${take}>${ready ? t("form.paces.take", { total: inTenths(height, unit) }) : t("form.paces.both")}</button>`,
  );
}

/** The device's own position, on request. @param {Form} form @param {Field} field @param {string} pointer */
export function hereButton(form, field, pointer) {
  const key = form.place(pointer);
  const say = (/** @type {string} */ text, /** @type {Json} */ values = {}) => {
    shown.said[key] = { text, values };
    form.redraw();
  };
  const found = (/** @type {GeolocationPosition} */ { coords }) => {
    const round = (/** @type {number} */ degrees) => Math.round(degrees * 1e6) / 1e6;
    form.put(field, pointer, { latitude: round(coords.latitude), longitude: round(coords.longitude) });
    say("form.here.found", { accuracy: coords.accuracy });
  };
  const failed = ({ code = 2 } = {}) => say(code === 1 ? "form.here.refused" : code === 3 ? "form.here.late" : "form.here.none");
  const ask = () => {
    if (!navigator.geolocation) return failed();
    say("form.here.asking");
    navigator.geolocation.getCurrentPosition(found, failed, { enableHighAccuracy: true, timeout: 60_000, maximumAge: 10_000 });
  };
  const said = shown.said[key];
  return html`<div class="f-row"><button type="button" class="plain" @click=${ask}>${t("form.here")}</button></div>
    ${said ? html`<p role="status">${t(said.text, said.values, form.chosen)}</p>` : nothing}`;
}
