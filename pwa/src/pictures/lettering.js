// How wide words are before they are drawn, so that they can be wrapped and kept apart without asking the browser.
// Advance widths of Public Sans, in thousandths of the size, measured from the typeface that is served; the widest of
// the digits stands for all. Another typeface on a machine that lacks ours is covered by `SPARE`.

/** @type {[number, string][]} */
const GROUPS = [
  [235, " \u00a0'’·"], [263, "il|j:;!I"], [305, "l()[].,"], [335, "{}"], [352, "/\\"], [390, "tr-*J³²"], [425, "f“”\"°_^"], [485, "z"],
  [507, "sv"], [537, "y?×"], [556, "ac+=±−–<>~"], [568, "ekoxé"], [583, "nu#T"], [598, "bdpqfFhLY"],
  [626, "gEZ"], [660, "0123456789PB"], [682, "KRSQVCX"], [712, "AUD&$O"], [760, "GHNQ"], [784, "w…"], [870, "m½@"],
  [890, "M"], [940, "%W"], [1000, "→"],
]; // prettier-ignore
const WIDTHS = new Map(GROUPS.flatMap(([width, letters]) => [...letters].map((c) => [c, width])));
const OTHER = 640;
const WIDE = 1000; // scripts whose signs fill a square
const BOLD = 1.05;
const SPARE = 1.03;

/** Estimated width of one line of text [px]. */
export function widthOf(/** @type {string} */ text, /** @type {number} */ size, bold = false) {
  let sum = 0;
  for (const c of text) sum += WIDTHS.get(c) ?? ((c.codePointAt(0) ?? 0) >= 0x1100 ? WIDE : OTHER);
  return (sum / 1000) * size * (bold ? BOLD : 1) * SPARE;
}

/**
 * Break text into lines no wider than `width`, and wherever it has a line end of its own; a word that is too long is
 * broken, and what is beyond `most` lines is cut with an ellipsis. A figure and its unit are not torn apart.
 * @returns {string[]} at least one line
 */
export function wrap(
  /** @type {string} */ text,
  /** @type {number} */ width,
  /** @type {number} */ size,
  bold = false,
  most = Infinity,
) {
  const fits = (/** @type {string} */ line) => widthOf(line, size, bold) <= width;
  const lines = text.split("\n").flatMap((part) => wrapPart(part, fits));
  if (lines.length <= most) return lines;
  let last = lines[most - 1];
  while (last && !fits(`${last}…`)) last = last.slice(0, -1);
  return [...lines.slice(0, most - 1), `${last.trimEnd()}…`];
}

function wrapPart(/** @type {string} */ text, /** @type {(line: string) => boolean} */ fits) {
  /** @type {string[]} */
  const lines = [];
  let line = "";
  for (let word of keepUnits(text)) {
    if (line && fits(`${line} ${word}`)) {
      line += ` ${word}`;
      continue;
    }
    if (line) lines.push(line);
    while (!fits(word) && word.length > 1) {
      let n = word.length - 1;
      while (n > 1 && !fits(word.slice(0, n))) n--;
      if (word.lastIndexOf(" ", n) > 0) n = word.lastIndexOf(" ", n); // a figure and a unit that have to part after all
      lines.push(word.slice(0, n));
      word = word.slice(n).trimStart();
    }
    line = word;
  }
  if (line || !lines.length) lines.push(line);
  return lines;
}

/** Words of a text (parted by plain spaces; others hold together), where "400 m", "1 480 m" and "× 1.33" count as one word. */
function keepUnits(/** @type {string} */ text) {
  /** @type {string[]} */
  const words = [];
  for (const word of text.split(/[ \t\r]+/).filter(Boolean)) {
    const last = words[words.length - 1];
    const unit = /^(?:[a-zA-Z°%³²/]{1,3}|ft\/min|kg\/m³)[,;:.]?$/.test(word) && /[\d–]$/.test(last ?? "");
    const thousands = /^\d{3}\b/.test(word) && /(?:^|\s)[−-]?\d{1,3}$/.test(last ?? "");
    const sign = last === "×" || last === "±" || ((word === "±" || word === "×") && /\d$/.test(last ?? ""));
    if (last !== undefined && (unit || thousands || sign) && !JOINERS.has(word))
      words[words.length - 1] = `${last} ${word}`;
    else words.push(word);
  }
  return words;
}
const JOINERS = new Set([
  "of",
  "to",
  "at",
  "by",
  "in",
  "on",
  "and",
  "or",
  "is",
  "the",
  "a",
  "as",
  "for",
  "yes",
  "no",
  "too",
]);
