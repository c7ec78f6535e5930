// The drawing that belongs to a section, as far as its figures are known.
import { nothing } from "lit";
import { envelopeDrawing } from "./envelope.js";
import { sideDrawing } from "./side.js";
import { speedsDrawing } from "./speeds.js";

/** @typedef {import("../form.js").Form} Form @typedef {import("../../pictures/parts.js").Format} Format */

const SIDE = ["wheels", "seats", "bays", "tanks", "configurations"];

/** @param {Form} form @param {string} section @param {Format} fmt @param {any} answered the open leg's answer, where it is about this aeroplane */
export function drawingFor(form, section, fmt, answered) {
  if (form.document.kind !== "aeroplane") return nothing;
  if (SIDE.includes(section)) return sideDrawing(form.document, fmt);
  if (section === "envelope") return envelopeDrawing(form.document, fmt, answered);
  if (section === "flaps") return speedsDrawing(form.document, fmt);
  return nothing;
}
