// Times: ISO 8601 with their offset, as documents keep them. The offset comes from the device, since the core has no
// table of time zones; a time is shown as it was written, in its own offset.

/** @param {number} n */
const two = (n) => String(n).padStart(2, "0");

/**
 * A moment as ISO text in an offset [min east of UTC], the device's own when none is given.
 * @param {number} moment ms since 1970
 * @param {number} [offset]
 */
export function iso(moment, offset = -new Date(moment).getTimezoneOffset()) {
  const there = new Date(moment + offset * 60_000);
  const size = Math.abs(offset);
  return `${there.toISOString().slice(0, 19)}${offset < 0 ? "-" : "+"}${two(Math.floor(size / 60))}:${two(size % 60)}`;
}

export const now = () => iso(Date.now());

/**
 * The offset of an ISO time [min east of UTC].
 * @param {string} time
 */
export function offsetOf(time) {
  const match = /([+-])(\d\d):?(\d\d)$/.exec(time);
  return match ? (match[1] === "-" ? -1 : 1) * (Number(match[2]) * 60 + Number(match[3])) : 0;
}

/**
 * The same time some minutes on, in the same offset.
 * @param {string} time
 * @param {number} minutes
 */
export const later = (time, minutes) => iso(Date.parse(time) + minutes * 60_000, offsetOf(time));

/** "07:52" as written. @param {string} time */
export const clock = (time) => time.slice(11, 16);

const DAYS = ["Sun", "Mon", "Tue", "Wed", "Thu", "Fri", "Sat"];
const MONTHS = ["Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"];

/**
 * "Wed 25 Nov", as written; the year too when it is not this one.
 * @param {string} time
 */
export function day(time) {
  const [year, month, date] = time.slice(0, 10).split("-").map(Number);
  const weekday = DAYS[new Date(Date.UTC(year, month - 1, date)).getUTCDay()];
  return `${weekday} ${date} ${MONTHS[month - 1]}${year === new Date().getFullYear() ? "" : ` ${year}`}`;
}

/**
 * A time in few words: the clock alone today, with its weekday within the week, else with its date.
 * @param {string} time
 * @param {number} [moment]
 */
export function briefly(time, moment = Date.now()) {
  if (isToday(time, moment)) return clock(time);
  const ahead = Date.parse(time) - moment;
  return `${ahead > 0 && ahead < 6 * 86_400_000 ? day(time).slice(0, 3) : day(time)} ${clock(time)}`;
}

/**
 * Is it the day of `moment` in that time's own offset?
 * @param {string} time
 * @param {number} [moment]
 */
export const isToday = (time, moment = Date.now()) => iso(moment, offsetOf(time)).slice(0, 10) === time.slice(0, 10);

/**
 * How long ago, as a text id and its values; negative ages are ahead.
 * @param {string} time
 * @param {number} [moment]
 * @returns {import("../text.js").Message}
 */
export function age(time, moment = Date.now()) {
  const minutes = Math.round((moment - Date.parse(time)) / 60_000);
  if (minutes < -1) return { text: "shell.age.ahead", values: { day: day(time), clock: clock(time) } };
  if (minutes < 1) return { text: "shell.age.now" };
  if (minutes < 100) return { text: "shell.age.minutes", values: { n: minutes } };
  if (minutes < 36 * 60) return { text: "shell.age.hours", values: { n: Math.round(minutes / 60) } };
  return { text: "shell.age.days", values: { n: Math.round(minutes / 1440) } };
}
