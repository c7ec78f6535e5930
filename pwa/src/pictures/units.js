// The one thing that a picture must know of units: how long one of them is, so that its marks fall on round figures.
import { toSi } from "../text.js";

/**
 * Size in SI of the unit in which a dimension is shown; 1 where it is not known. For units without an offset.
 * @param {{ unit: (dimension: string) => any }} fmt @param {string} dimension
 */
export function unitSize(fmt, dimension) {
  const unit = fmt.unit(dimension);
  const symbol = typeof unit === "string" ? unit : unit?.symbol;
  try {
    return toSi(1, symbol) - toSi(0, symbol);
  } catch {
    return 1;
  }
}

/** The unit in which a dimension is shown, as it is written. @param {{ unit: (dimension: string) => any }} fmt @param {string} dimension */
export function unitName(fmt, dimension) {
  const unit = fmt.unit(dimension);
  return String(typeof unit === "string" ? unit : (unit?.unit ?? ""));
}
