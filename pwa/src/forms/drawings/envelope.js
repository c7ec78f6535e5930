// Envelopes as they are being typed, with the present states of the flight where the open leg is flown by this aeroplane.
import { html } from "lit";
import { envelopePicture } from "../../pictures/envelope.js";
import { t } from "../../text.js";

/** @typedef {import("../../pictures/parts.js").Format} Format @typedef {import("../schema.js").Json} Json */

/** @param {Json} plane @param {Format} fmt @param {any} answered */
export function envelopeDrawing(plane, fmt, answered) {
  const picture = answered?.answers.find((/** @type {Json} */ { question }) => question === "balances")?.picture;
  const limit = plane.limits?.takeoff?.value ?? null;
  return (plane.envelopes ?? []).map((/** @type {Json} */ envelope) => {
    const corners = (envelope.vertices ?? []).filter((/** @type {Json} */ one) => one.mass !== undefined && one.across !== undefined);
    if (corners.length < 2) return html`<p class="f-help">${t("form.envelope.corners", { name: envelope.category ?? "" })}</p>`;
    const vertices = envelope.axes === "mass_moment" ? byArm(corners) : corners.map((/** @type {Json} */ { mass, across }) => ({ mass, arm: across }));
    return html`<figure class="f-drawing">
      <figcaption>${envelope.category}</figcaption>
      ${envelopePicture({ picture: { vertices, states: picture?.states ?? [], cap: picture?.cap ?? null, takeoff_limit: limit } }, fmt)}
    </figure>`;
  });
}

/** Points along an edge that is straight in mass and moment: in mass and arm it is bent. */
const POINTS = 8;

/** Corners given by mass [kg] and moment [kg m], as they lie in mass and arm. @param {{ mass: number, across: number }[]} corners */
export function byArm(corners) {
  return corners.flatMap((here, index) => {
    const next = corners[(index + 1) % corners.length];
    return Array.from({ length: POINTS }, (_, point) => {
      const part = point / POINTS;
      const mass = here.mass + part * (next.mass - here.mass);
      return { mass, arm: (here.across + part * (next.across - here.across)) / mass };
    }).filter(({ arm }) => Number.isFinite(arm));
  });
}
