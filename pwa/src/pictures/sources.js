// Two sources for one distance: both drawn, one under the other, against the same mark.
import { greatest, known, linear } from "./geometry.js";
import { boxOf, filled, line, paragraph, shortened, tell } from "./parts.js";

/**
 * @param {any} p @param {import("./parts.js").Format} fmt @param {import("./parts.js").Size} size
 * @returns {{ body: unknown, bottom: number, told: string[] }}
 */
export function sourceBars(p, fmt, size, top = 0) {
  const sources = p.sources ?? [];
  if (sources.length < 2) return { body: [], bottom: top - 10, told: [] };
  const reach = greatest([p.length, ...sources.map((/** @type {any} */ s) => s.factored)], 0);
  const across = linear([0, reach || 1], [1, size.width - 3]);
  /** @type {string[]} */
  const told = [];
  const end = known(p.length) ? p.length : Infinity;
  let y = top;
  const body = sources.map((/** @type {any} */ source) => {
    const name = tell(fmt, "name", { name: source.name });
    const text = known(source.factored)
      ? tell(fmt, "source", { name: shortened(name, 40), factored: source.factored })
      : tell(fmt, "unsaid", { subject: shortened(name, 40) });
    const { low: least, high: most } = source.band ?? {};
    const banded = known(least) && known(most);
    const whole = banded ? `${text} (${tell(fmt, "band", { low: least, high: most })})` : text;
    told.push(whole);
    const head = paragraph(size, 0, y, size.width, whole);
    const [high, low] = [head.bottom + 2, head.bottom + 12];
    y = low + (banded ? 14 : 8);
    return [
      head.body,
      // where 9 of 10 own runs end, on the same scale, under the bar that has the factor in it
      banded
        ? [
            line(across(least), low + 6, across(Math.min(most, reach)), low + 6, "pic-line-thick"),
            ...[least, Math.min(most, reach)].map((at) => line(across(at), low + 3, across(at), low + 9, "pic-line-thick")),
          ]
        : [],
      line(
        across(0),
        low + 2,
        across(known(p.length) ? p.length : reach || 1),
        low + 2,
        known(source.factored) ? "" : "pic-dashed",
      ),
      known(source.factored)
        ? filled(boxOf(across(0), high, across(Math.min(source.factored, end)), low), "solid")
        : [],
      known(source.factored) && source.factored > end
        ? filled(boxOf(across(end), high - 2, across(source.factored), low + 2), "accent")
        : [],
      known(p.length) ? line(across(p.length), high - 4, across(p.length), low + 4, "pic-line-thick") : [],
    ];
  });
  return { body, bottom: y, told };
}
