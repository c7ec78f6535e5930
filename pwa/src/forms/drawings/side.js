// The aeroplane from the side, as far as a loader needs it: wheels, seats, bays and tanks at their arms, to scale, with
// a number each; their names and arms in a list below.
import { nothing, svg } from "lit";
import { known, linear, round } from "../../pictures/geometry.js";
import { both, line, paragraphs, row } from "../../pictures/parts.js";
import { t } from "../../text.js";

/** @typedef {import("../../pictures/parts.js").Format} Format @typedef {import("../../pictures/parts.js").Size} Size */
/** @typedef {import("../schema.js").Json} Json */
/** @typedef {{ names: string[], arm: number, kind: "seats" | "bays" | "tanks" }} Station */

const STATIONS = /** @type {const} */ (["seats", "bays", "tanks"]);

/** Stations nearer than this are at one place. [m] */
const SAME = 0.005;

/** @param {Json} plane @param {Format} fmt */
export function sideDrawing(plane, fmt) {
  const stations = gathered(plane);
  const { main_arm: main, other_arm: other } = plane.undercarriage ?? {};
  const wheels = [main, other].map((one) => one?.value).filter(known);
  if (stations.length + wheels.length === 0) return nothing;
  return both((size) => draw(stations, wheels, fmt, size));
}

/** Seats side by side, tanks in both wings: one place, one number. @param {Json} plane */
function gathered(plane) {
  /** @type {Station[]} */
  const found = [];
  for (const kind of STATIONS) {
    for (const { name, arm } of plane[kind] ?? []) {
      if (!known(arm?.value)) continue;
      const same = found.find((one) => one.kind === kind && Math.abs(one.arm - arm.value) < SAME);
      if (same) same.names.push(name);
      else found.push({ arm: arm.value, names: [name], kind });
    }
  }
  return found.sort((a, b) => a.arm - b.arm);
}

/** @param {Station[]} stations @param {number[]} wheels @param {Format} fmt @param {Size} size */
function draw(stations, wheels, fmt, size) {
  const arms = [...stations.map(({ arm }) => arm), ...wheels, 0];
  const [low, high] = [Math.min(...arms), Math.max(...arms)];
  const room = Math.max(high - low, 0.5);
  const across = linear([low - room * 0.04, high + room * 0.04], [16, size.width - 16]);
  const said = stations.map(({ names, arm }) => `${names.join(", ")}: ${fmt.q(arm, "arm")}`);
  const mark = 24;
  const ground = 76;
  const numbers = row(size, stations.map(({ arm }, i) => ({ at: across(arm), text: String(i + 1) })), { top: ground + 18, low: 0, high: size.width, from: ground + 4 });
  const base = stations.length ? numbers.bottom : ground + 8;
  const list = paragraphs(size, 0, base + 8, size.width, [...said.map((text, i) => ({ text: `${i + 1}  ${text}` })), { text: t("form.side.datum"), tone: /** @type {const} */ ("faint") }], 4);
  const body = [
    line(across(low), mark + 14, across(high), mark + 14, "pic-line-thick"),
    line(0, ground, size.width, ground),
    svg`<path class="pic-line pic-dashed" d="M${round(across(0))} 2V${ground}"/>`,
    wheels.map((arm, i) => [line(across(arm), mark + 14, across(arm), ground - 12), svg`<circle class="pic-fill-pale" cx=${round(across(arm))} cy=${ground - (i ? 6 : 9)} r=${i ? 6 : 9}/>`]),
    stations.map(({ arm, kind }) => symbol(across(arm), mark, kind)),
    stations.map(({ arm }) => line(across(arm), mark + 14, across(arm), ground + 4)),
    numbers.body,
    list.body,
  ];
  const told = [t("form.side"), ...said, ...wheels.map((arm, i) => `${t(i ? "form.side.other" : "form.side.main")}: ${fmt.q(arm, "arm")}`)];
  return { height: list.bottom + 8, body, told };
}

/** @param {number} x @param {number} y @param {Station["kind"]} kind */
function symbol(x, y, kind) {
  const a = round(x);
  if (kind === "seats") return svg`<path class="pic-fill-solid" d="M${a - 7} ${y + 12}H${a + 9}V${y + 6}H${a - 2}V${y - 8}H${a - 7}z"/>`;
  if (kind === "bays") return svg`<rect class="pic-fill-plain" x=${a - 9} y=${y - 6} width="18" height="18"/>`;
  return svg`<ellipse class="pic-fill-pale" cx=${a} cy=${y - 6} rx="11" ry="5"/>`;
}
