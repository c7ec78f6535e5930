// The drawing that belongs to a section, as far as its figures are known.
import { nothing } from "lit";
import { display, say, shown } from "../../text.js";
import { envelopeDrawing } from "./envelope.js";
import { sideDrawing } from "./side.js";
import { speedsDrawing } from "./speeds.js";

/** @typedef {import("../form.js").Form} Form @typedef {import("../../pictures/parts.js").Format} Format */

/** Drawn in the units in which the document is being written. @param {import("../../text.js").Chosen} chosen @returns {Format} */
const formatOf = (chosen) => ({
  q: (value, dimension) => shown(value, dimension, chosen),
  unit: (dimension) => display(dimension, chosen),
  say: (message) => say(message, chosen),
});

const SIDE = ["wheels", "seats", "bays", "tanks", "configurations"];

/** @param {Form} form @param {string} section @param {any} answered the open leg's answer, where it is about this aeroplane */
export function drawingFor(form, section, answered) {
  if (form.document.kind !== "aeroplane") return nothing;
  const fmt = formatOf(form.units);
  if (SIDE.includes(section)) return sideDrawing(form.document, fmt);
  if (section === "envelope") return envelopeDrawing(form.document, fmt, answered);
  if (section === "flaps") return speedsDrawing(form.document, fmt);
  return nothing;
}
