// A template of lit as text, without a document: enough to see what would be drawn. What a person typed is put in as
// a value, and is marked as such, so that a test can see that it never becomes markup.

/** Marks around every value. */
export const OPEN = "\u2045";
export const CLOSE = "\u2046";

/** @returns {string} */
export function flatten(part) {
  if (Array.isArray(part)) return part.map(flatten).join("");
  if (part === null || part === undefined || part === "") return "";
  if (typeof part === "symbol") return ""; // nothing
  if (typeof part === "object") {
    if (!("_$litType$" in part)) throw new Error(`can't be drawn: ${JSON.stringify(part)}`);
    return part.strings.reduce(
      (text, piece, i) => text + piece + (i < part.values.length ? flatten(part.values[i]) : ""),
      "",
    );
  }
  return `${OPEN}${part}${CLOSE}`;
}

const bare = (text) => text.replaceAll(OPEN, "").replaceAll(CLOSE, "");

/** The drawings of a picture: size, description, and the texts with their places. */
export function drawings(markup) {
  return [
    ...markup.matchAll(
      /<svg\s+class=(.*?picture-(wide|narrow).*?)\n.*?viewBox="0 0 (.*?) (.*?)"\s+role="img"\s+aria-label=(.*?)\n\s*>(.*?)<\/svg>\s*(?=$|<svg\s+class|<\/div>)/gs,
    ),
  ].map(([, , kind, width, height, told, body]) => ({
    kind,
    width: Number(bare(width)),
    height: Number(bare(height)),
    told: bare(told),
    texts: [
      ...body.matchAll(/<text class="(.*?)" font-size=(.*?) x=(.*?)\s+y=(.*?) text-anchor=(.*?)>(.*?)<\/text>/gs),
    ].map(([, tone, size, x, y, anchor, text]) => ({
      bold: /strong|accent/.test(tone),
      size: Number(bare(size)),
      x: Number(bare(x)),
      y: Number(bare(y)),
      anchor: bare(anchor),
      text: bare(text),
    })),
    body,
  }));
}
