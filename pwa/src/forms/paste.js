// A table that was copied from a spreadsheet, read: tabs, semicolons or commas between cells, a decimal comma or point.
// What may be one number or a thousand times it is refused, with its place.
import { plain, read, written } from "./reading.js";

/** @typedef {import("../text.js").Message} Message @typedef {import("./reading.js").Quantity} Quantity */
/** @typedef {{ quantity: Quantity, unit: string, bare?: boolean }} Column `unit`: of a bare number; `bare`: there was one */
/** @typedef {{ mass_axis: number[], altitude_axis: number[], temperature_axis: number[], grid: (number | null)[][][] }} Table */

/** What stands in a cell of which the book says nothing. */
const EMPTY = ["", "-", "–", "—", "−", "x", "n/a", "na", "."];

/** A mistake with its row and column, counted from one. */
export class Odd extends Error {
  /** @param {Message} message @param {number} row @param {number} column */
  constructor(message, row, column) {
    super(message.text);
    this.said = { text: "form.paste.at", values: { row: String(row + 1), column: String(column + 1), why: message } };
  }
}

/** @param {string[]} lines */
function separatorOf(lines) {
  const all = lines.join("\n");
  if (all.includes("\t")) return "\t";
  if (all.includes(";")) return ";";
  const counts = lines.map((line) => line.split(",").length);
  return counts.every((count) => count === counts[0] && count > 1) ? "," : " ";
}

/** Rows of cells; rows that are empty stay, since they part tables. @param {string} text @returns {string[][]} */
function cellsOf(text) {
  const lines = text.replace(/\r\n?/g, "\n").replace(/^\n+|\s+$/g, "").split("\n");
  const separator = separatorOf(lines.filter((line) => line.trim() !== ""));
  return lines.map((line) => (separator === " " ? line.trim().split(/\s+/) : line.split(separator)).map((cell) => cell.trim().replace(/^"(.*)"$/, "$1").trim()));
}

/** @param {string} cell @param {Column} column @param {number} row @param {number} place */
function numberIn(cell, column, row, place) {
  const { quantity, unit } = column;
  const dotted = /^([+-]?[1-9]\d{0,2})\.(\d{3})$/.exec(plain(cell));
  if (dotted && quantity.si === "m") {
    throw new Odd({ text: "form.wrong.comma", values: { thousand: dotted[1] + dotted[2], point: `${dotted[1]}.${Number(`0.${dotted[2]}`).toString().slice(2) || "0"}` } }, row, place);
  }
  const said = read(cell, quantity, unit);
  if ("problem" in said) throw new Odd(said.problem, row, place);
  if (/^[\d\s.,+-]*$/.test(plain(cell))) column.bare = true;
  else if (column.bare && said.unit !== unit) throw new Odd({ text: "form.paste.mixed", values: { before: written(unit), unit: written(said.unit) } }, row, place);
  else column.unit = said.unit; // a unit that is written once goes on down its column
  return said.value;
}

/**
 * Rows of figures, one column after the other. Throws `Odd`.
 * @param {string} text
 * @param {Column[]} columns
 * @returns {number[][]}
 */
export function rowsFrom(text, columns) {
  return cellsOf(text).flatMap((cells, row) => {
    if (cells.every((cell) => cell === "")) return [];
    if (row === 0 && cells.every((cell) => !/\d/.test(cell))) return []; // headings
    if (cells.length < columns.length) throw new Odd({ text: "form.paste.short", values: { n: String(columns.length) } }, row, cells.length - 1);
    return [columns.map((column, place) => numberIn(cells[place], column, row, place))];
  });
}

/**
 * Blocks of a table, one for each mass: the mass in the corner, temperatures along the top, altitudes down the side.
 * A table that stands alone may have another corner; then it is that of `mass`. Throws `Odd`.
 * @param {string} text
 * @param {{ mass: Column, altitude: Column, temperature: Column, value: Column }} columns
 * @param {number | undefined} mass
 * @returns {Table}
 */
export function tableFrom(text, columns, mass) {
  const rows = cellsOf(text).map((cells, number) => ({ cells, number }));
  /** @type {(typeof rows)[]} */
  const blocks = [[]];
  for (const row of rows) {
    if (row.cells.every((cell) => cell === "")) blocks.push([]);
    else blocks[blocks.length - 1].push(row);
  }
  const read_ = blocks.filter((block) => block.length).map((block) => blockFrom(block, columns, blocks.length === 1 ? mass : undefined));
  const [first] = read_;
  const same = (/** @type {number[]} */ a, /** @type {number[]} */ b) => a.length === b.length && a.every((x, i) => x === b[i]);
  const other = read_.find(({ altitudes, temperatures }) => !same(altitudes, first.altitudes) || !same(temperatures, first.temperatures));
  if (other) throw new Odd({ text: "form.paste.unlike" }, other.row, 0);
  const order = [...read_].sort((a, b) => a.mass - b.mass);
  const twice = order.find((block, i) => i > 0 && block.mass === order[i - 1].mass);
  if (twice) throw new Odd({ text: "form.paste.twice" }, twice.row, 0);
  return { mass_axis: order.map((block) => block.mass), altitude_axis: first.altitudes, temperature_axis: first.temperatures, grid: order.map(({ plane }) => plane) };
}

/** @param {{ cells: string[], number: number }[]} block @param {{ mass: Column, altitude: Column, temperature: Column, value: Column }} columns @param {number | undefined} mass */
function blockFrom([head, ...body], columns, mass) {
  const [corner, ...top] = head.cells;
  const own = /\d/.test(corner) ? numberIn(corner, columns.mass, head.number, 0) : mass;
  if (own === undefined) throw new Odd({ text: "form.paste.no_mass" }, head.number, 0);
  while (top.length && top[top.length - 1] === "") top.pop();
  const across = rising(top.map((cell, i) => numberIn(cell, columns.temperature, head.number, i + 1)));
  const down = rising(body.map(({ cells, number }) => numberIn(cells[0], columns.altitude, number, 0)));
  if (!across.length || !down.length) throw new Odd({ text: "form.paste.no_axes" }, head.number, 0);
  for (const [axis, place] of /** @type {const} */ ([[across, 1], [down, 0]])) if (axis.some((one, i) => i > 0 && one.value === axis[i - 1].value)) throw new Odd({ text: "form.paste.twice" }, head.number, place);
  const plane = down.map(({ from }) =>
    across.map((column) => {
      const { cells, number } = body[from];
      const cell = cells[column.from + 1] ?? "";
      return EMPTY.includes(cell.toLowerCase()) ? null : numberIn(cell, columns.value, number, column.from + 1);
    }),
  );
  return { mass: own, altitudes: down.map(({ value }) => value), temperatures: across.map(({ value }) => value), plane, row: head.number };
}

/** In rising order, with where each stood. @param {number[]} values */
const rising = (values) => values.map((value, from) => ({ value, from })).sort((a, b) => a.value - b.value);

/**
 * A grid on other axes: what stood at the same figures stays, the rest is not known.
 * @param {(number | null)[][][]} grid
 * @param {[number[], number[], number[]]} from
 * @param {[number[], number[], number[]]} to
 */
export function moved(grid, from, to) {
  const [m, h, c] = to.map((axis, i) => axis.map((value) => from[i].indexOf(value)));
  return m.map((i) => h.map((j) => c.map((k) => grid[i]?.[j]?.[k] ?? null)));
}
