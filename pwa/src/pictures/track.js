// A run out of a recorded track, on the strip to scale: the fixes, the roll, and how far each mark may be out.
import { svg } from "lit";
import { greatest, known, linear, round } from "./geometry.js";
import { both, boxOf, filled, line, marksAcross, paragraphs, tell, unitSize, words } from "./parts.js";

/** @typedef {import("./parts.js").Format} Format @typedef {import("./parts.js").Size} Size */

const FIFTY_FEET = 15.24; // m
/** Room for the heights above the strip, and how high they are drawn at most. [px, m] */
const [ROOM, HIGHEST] = [64, 22];

/**
 * @param {any} run of the core's method `track`
 * @param {number | null} length of the strip [m]
 * @param {Format} fmt
 */
export function trackPicture(run, length, fmt) {
  return both((size) => draw(run, length, fmt, size));
}

/** @param {any} run @param {number | null} length @param {Format} fmt @param {Size} size */
function draw(run, length, fmt, size) {
  const landing = run.what === "landing";
  const { roll, over_50ft: over } = run.figures;
  // A landing is drawn as it was flown: from 50 ft, or a little before the touchdown, to where it stopped.
  const from = landing ? greatest([over?.value, 1.3 * roll.value]) : 0;
  const at = (/** @type {number} */ along) => (landing ? from - along : along);
  const reach = greatest([over && over.value + over.sd, roll.value + roll.sd, from, !landing && length], roll.value);
  const across = linear([0, reach * 1.02], [4, size.width - 10]);
  const fixes = run.fixes.filter((/** @type {number[]} */ [, along]) => known(along) && at(along) >= 0 && at(along) <= reach);
  const ground = median(fixes.filter((/** @type {number[]} */ [, along]) => along <= roll.value).map((/** @type {number[]} */ fix) => fix[4]));
  const heights = known(ground);
  const top = heights ? ROOM + 30 : 26;
  const up = linear([0, HIGHEST], [top - 8, 22]);
  const [high, low] = [top, top + 40];
  const scale = marksAcross(size, 0, reach, across, 5, unitSize(fmt, "length")).map(({ at: place, shown }, i) => [
    line(across(place), low, across(place), low + 7),
    words(size, across(place), low + 19, i ? String(shown) : fmt.q(0, "length"), { tone: "faint", anchor: "middle" }),
  ]);
  const mark = (/** @type {any} */ told) => (told ? bracket(across(Math.max(0, at(told.value + told.sd))), across(Math.min(reach, at(told.value - told.sd))), across(at(told.value)), high - 4, low + 4) : []);
  const bars = landing ? [boxOf(across(at(roll.value)), high + 9, across(at(0)), low - 9)] : [boxOf(across(0), high + 9, across(roll.value), low - 9)];
  const body = [
    heights ? [line(across(0), up(FIFTY_FEET), across(reach), up(FIFTY_FEET), "pic-dashed"), words(size, 4, up(FIFTY_FEET) - 12, tell(fmt, "track.fifty"), { tone: "faint" }), line(across(0), up(0), across(reach), up(0))] : [],
    heights ? fixes.map((/** @type {number[]} */ fix) => dot(across(at(fix[1])), up(Math.min(HIGHEST, Math.max(-3, fix[4] - ground))))) : [],
    filled(boxOf(across(0), high, across(!landing && known(length) ? length : reach), low), !landing && known(length) ? "plain" : "dotted"),
    bars.map((box) => filled(box, "solid")),
    mark(roll),
    mark(over),
    scale,
  ];
  const said = [
    { text: tell(fmt, landing ? "track.roll_landing" : "track.roll_takeoff", { value: roll.value, sd: roll.sd }), tone: /** @type {const} */ ("strong") },
    ...(over ? [{ text: tell(fmt, landing ? "track.over_landing" : "track.over_takeoff", { value: over.value, sd: over.sd }) }] : []),
    { text: tell(fmt, landing ? "track.scale_landing" : "track.scale_takeoff"), tone: /** @type {const} */ ("faint") },
  ];
  const list = paragraphs(size, 0, low + 34, size.width, said);
  return { height: list.bottom + 4, body: [body, list.body], told: said.map(({ text }) => text) };
}

/** How far a mark may be out: a bar with two ends, and the mark itself. */
function bracket(/** @type {number} */ a, /** @type {number} */ b, /** @type {number} */ at, /** @type {number} */ high, /** @type {number} */ low) {
  const middle = (high + low) / 2;
  return [
    line(at, high - 4, at, low + 4, "pic-line-thick"),
    svg`<path class="pic-track-error" d="M${round(a)} ${round(middle)}H${round(b)}M${round(a)} ${round(middle - 8)}V${round(middle + 8)}M${round(b)} ${round(middle - 8)}V${round(middle + 8)}"/>`,
  ];
}

const dot = (/** @type {number} */ x, /** @type {number} */ y) => svg`<circle class="pic-track-fix" cx=${round(x)} cy=${round(y)} r="3"/>`;

/** @param {unknown[]} values @returns {number | null} */
function median(values) {
  const there = /** @type {number[]} */ (values.filter(known)).sort((a, b) => a - b);
  return there.length ? there[Math.floor(there.length / 2)] : null;
}
