// A scale of speeds for each flap: stall and climb (calibrated), the greatest with that flap (indicated), to one scale.
import { nothing } from "lit";
import { known, linear } from "../../pictures/geometry.js";
import { both, boxOf, filled, line, marksAcross, row, unitSize, words } from "../../pictures/parts.js";
import { t } from "../../text.js";

/** @typedef {import("../../pictures/parts.js").Format} Format @typedef {import("../../pictures/parts.js").Size} Size */
/** @typedef {import("../schema.js").Json} Json */

/** What of a flap setting is a speed, and whether its label says which. */
const MARKS = /** @type {const} */ ([["stall", "form.speeds.stall"], ["climb_speed", "form.speeds.climb"], ["limit_speed", "form.speeds.limit"]]);

/** @param {Json} plane @param {Format} fmt */
export function speedsDrawing(plane, fmt) {
  const flaps = (plane.flaps ?? []).filter((/** @type {Json} */ flap) => MARKS.some(([name]) => known(flap[name]?.value)));
  return flaps.length ? both((size) => draw(plane, flaps, fmt, size)) : nothing;
}

/** @param {Json} plane @param {Json[]} flaps @param {Format} fmt @param {Size} size */
function draw(plane, flaps, fmt, size) {
  const speeds = ["manoeuvring", "normal", "never_exceed"].map((name) => plane.speeds?.[name]?.value).filter(known);
  const all = [...flaps.flatMap((flap) => MARKS.map(([name]) => flap[name]?.value).filter(known)), ...speeds];
  const high = Math.max(...all) * 1.05;
  const across = linear([0, high], [6, size.width - 6]);
  let y = 0;
  /** @type {string[]} */
  const told = [t("form.speeds")];
  const body = flaps.map((flap) => {
    const top = y + size.line;
    const marks = MARKS.filter(([name]) => known(flap[name]?.value)).map(([name, text]) => ({ at: flap[name].value, text: t(text, { speed: flap[name].value }, undefined), name }));
    const said = marks.map(({ name, at }) => t(MARKS.find(([one]) => one === name)?.[1] ?? "", { speed: fmt.q(at, "speed") }));
    const stall = known(flap.stall?.value) ? flap.stall.value : 0;
    const limit = known(flap.limit_speed?.value) ? flap.limit_speed.value : (plane.speeds?.never_exceed?.value ?? high);
    const labels = row(size, marks.map(({ at }, i) => ({ at: across(at), text: said[i] })), { top: top + 42, low: 0, high: size.width, from: top + 26 });
    const drawn = [
      words(size, 0, y + size.line / 2, flap.name, { tone: "strong" }),
      filled(boxOf(across(stall), top + 8, across(Math.max(limit, stall)), top + 22), "plain"),
      marks.map(({ at }) => line(across(at), top + 4, across(at), top + 26, "pic-line-thick")),
      labels.body,
    ];
    y = labels.bottom + 12;
    told.push(`${flap.name}: ${said.join(", ")}`);
    return drawn;
  });
  const scale = marksAcross(size, 0, high, across, 6, unitSize(fmt, "speed"));
  const axis = [
    line(across(0), y + 6, across(high), y + 6),
    scale.map(({ at, shown }) => [line(across(at), y + 6, across(at), y + 12), words(size, across(at), y + 14 + size.line / 2, String(shown), { tone: "faint", anchor: "middle" })]),
  ];
  return { height: y + 18 + size.line, body: [body, axis], told };
}
