// What fits: each bay as long as its volume, filled by what is in it, its mass under it; and who sits where.
import { greatest, known, linear } from "./geometry.js";
import { widthOf } from "./lettering.js";
import { both, boxOf, fillOf, filled, line, paragraph, shortened, tell, words } from "./parts.js";

/** @typedef {import("./parts.js").Format} Format @typedef {import("./parts.js").Size} Size */

/** @param {any} answer @param {Format} fmt */
export function baysPicture(answer, fmt) {
  return both((size) => draw(answer.picture, fmt, size));
}

function draw(/** @type {any} */ p, /** @type {Format} */ fmt, /** @type {Size} */ size) {
  const bays = p.bays ?? [];
  const seats = p.seats ?? [];
  const most = greatest(
    bays.flatMap((/** @type {any} */ b) => [b.volume, b.volume_used]),
    0,
  );
  const across = linear([0, most || 1], [1, size.width - 4]);
  /** @type {string[]} */
  const told = [tell(fmt, "bays")];
  const body = [];
  let y = 0;
  if (p.bays == null) {
    const text = tell(fmt, "unsaid", { subject: tell(fmt, "bays.name") });
    const none = paragraph(size, 0, y, size.width, text);
    body.push(none.body);
    told.push(text);
    y = none.bottom + 6;
  }
  for (const bay of bays) {
    const drawn = drawBay(bay, across, fmt, size, y);
    body.push(drawn.body);
    told.push(...drawn.told);
    y = drawn.bottom + 22;
  }
  for (const seat of seats) {
    const drawn = drawSeat(seat, fmt, size, y);
    body.push(drawn.body);
    told.push(drawn.told);
    y = drawn.bottom + 6;
  }
  return { height: y, body, told };
}

function drawBay(
  /** @type {any} */ bay,
  /** @type {(x: number) => number} */ across,
  /** @type {Format} */ fmt,
  /** @type {Size} */ size,
  /** @type {number} */ top,
) {
  const over = known(bay.volume) && known(bay.volume_used) ? bay.volume_used - bay.volume : 0;
  const heavy = known(bay.mass) && known(bay.mass_limit) ? bay.mass - bay.mass_limit : 0;
  const space = partOf(fmt, "space", bay.volume_used, bay.volume, "bulk");
  const weight = partOf(fmt, "mass", bay.mass, bay.mass_limit, "mass");
  const tooMuch = over > 0 ? tell(fmt, "bays.over", { over: fmt.q(over, "bulk") }) : "";
  const tooHeavy = heavy > 0 ? tell(fmt, "bays.over", { over: fmt.q(heavy, "mass") }) : "";
  const name = shortened(bay.name, 34);

  const head = paragraph(size, 0, top, size.width, name, "strong");
  const first = paragraph(size, 0, head.bottom, size.width, joined(space, tooMuch), over > 0 ? "accent" : "");
  const [high, low] = [first.bottom + 6, first.bottom + 6 + (size.wide ? 56 : 50)];
  const end = known(bay.volume) ? bay.volume : null;
  const body = [head.body, first.body];
  body.push(
    filled(boxOf(across(0), high, end === null ? size.width - 4 : across(end), low), end === null ? "dotted" : "plain"),
  );
  body.push(blocks(bay, across, high, low, size));
  if (over > 0 && end !== null) body.push(line(across(end), high - 6, across(end), low + 6, "pic-line-thick"));
  const bulky = bulkiest(bay.items ?? [], fmt);
  const named = bulky ? paragraph(size, 0, low + 6, size.width, bulky, "faint", 3) : { body: [], bottom: low + 6 };
  body.push(named.body);
  const second = paragraph(size, 0, named.bottom + 2, size.width, joined(weight, tooHeavy), heavy > 0 ? "accent" : "");
  body.push(second.body, massBar(bay, size, second.bottom + 4));
  return {
    body,
    bottom: second.bottom + 18,
    told: [
      tell(fmt, "bays.told", {
        name: String(bay.name ?? ""),
        space: joined(space, tooMuch),
        mass: joined(weight, tooHeavy),
      }),
      (bay.items ?? [])
        .map((/** @type {any} */ i) =>
          known(i.volume)
            ? tell(fmt, "bays.item", { name: String(i.name ?? ""), volume: i.volume })
            : tell(fmt, "unsaid", { subject: String(i.name ?? "") }),
        )
        .join(", "),
    ],
  };
}

/** The three that take most room, in words: few blocks are long enough for their names. */
function bulkiest(/** @type {any[]} */ items, /** @type {Format} */ fmt) {
  const sized = items
    .filter((i) => known(i.volume) && i.volume > 0)
    .sort((a, b) => b.volume - a.volume)
    .slice(0, 3);
  const unknown = items
    .filter((i) => !known(i.volume))
    .map((i) => tell(fmt, "unsaid", { subject: shortened(i.name, 24) }));
  const told = sized.map((i) => tell(fmt, "bays.item", { name: shortened(i.name, 24), volume: i.volume }));
  return [...unknown.slice(0, 2), ...told].join(" · ");
}

/** So much of so much, as far as it can be said. */
function partOf(
  /** @type {Format} */ fmt,
  /** @type {string} */ what,
  /** @type {unknown} */ used,
  /** @type {unknown} */ has,
  /** @type {string} */ dimension,
) {
  const subject = tell(fmt, `bays.${what}`);
  if (!known(used) && !known(has)) return tell(fmt, "unsaid", { subject });
  if (!known(used)) return tell(fmt, "bays.has_only", { subject, has: fmt.q(Number(has), dimension) });
  if (!known(has)) return tell(fmt, "bays.used_only", { subject, used: fmt.q(used, dimension) });
  return tell(fmt, "bays.of", { subject, used: fmt.q(used, dimension), has: fmt.q(has, dimension) });
}

const joined = (/** @type {string} */ a, /** @type {string} */ b) => (b ? `${a}, ${b}` : a);

/** Items one beside the other, each as wide as its litres, the bulkiest first; the part past the edge is set off. */
function blocks(
  /** @type {any} */ bay,
  /** @type {(x: number) => number} */ across,
  /** @type {number} */ high,
  /** @type {number} */ low,
  /** @type {Size} */ size,
) {
  const items = [...(bay.items ?? [])].sort(
    (a, b) => (known(b.volume) ? b.volume : -1) - (known(a.volume) ? a.volume : -1),
  );
  const total = items.reduce((sum, i) => sum + (known(i.volume) && i.volume > 0 ? i.volume : 0), 0);
  // Items squeezed together take less than the sum of their sizes: the blocks share what is really used.
  const used = bay.volume_used;
  if (!known(used)) return [];
  const squeeze = total > 0 ? used / total : 1;
  const edge = known(bay.volume) ? bay.volume : Infinity;
  let at = 0;
  const body = [];
  for (const item of items) {
    if (!known(item.volume) || item.volume <= 0) continue;
    const [from, to] = [at, at + item.volume * squeeze];
    at = to;
    const inside = Math.min(to, edge);
    if (inside > from) body.push(filled(boxOf(across(from) + 1.5, high + 4, across(inside) - 1.5, low - 4), "solid"));
    // The name stands in the part that is inside, on ink; past the edge the words above say what is too much.
    const label = inside > from ? cutTo(String(item.name ?? ""), across(inside) - across(from) - 10, size.font) : "";
    if (label)
      body.push(
        words(size, (across(from) + across(inside)) / 2, (high + low) / 2, label, {
          anchor: "middle",
          tone: "reversed",
        }),
      );
  }
  if (at > edge) body.push(filled(boxOf(across(edge), high + 4, across(at), low - 4), "accent-hatched"));
  if (!items.length && used > 0)
    body.push(filled(boxOf(across(0), high + 4, across(Math.min(used, edge)), low - 4), "solid"));
  return body;
}

/** The name, or as much of it as makes sense in that room; nothing where not even six letters do. */
function cutTo(/** @type {string} */ name, /** @type {number} */ room, /** @type {number} */ font) {
  if (widthOf(name, font) <= room) return name;
  let cut = [...name];
  while (cut.length > 5 && widthOf(`${cut.join("")}…`, font) > room) cut = cut.slice(0, -1);
  return cut.length > 5 ? `${cut.join("").trimEnd()}…` : "";
}

function massBar(/** @type {any} */ bay, /** @type {Size} */ size, /** @type {number} */ top) {
  const most = greatest([bay.mass, bay.mass_limit], 0);
  const to = linear([0, most || 1], [1, size.width - 4]);
  const limit = known(bay.mass_limit) ? bay.mass_limit : null;
  const inside = known(bay.mass) ? Math.min(bay.mass, limit ?? bay.mass) : null;
  return [
    inside === null || limit === null
      ? filled(boxOf(1, top, size.width - 4, top + 8), "dotted")
      : filled(boxOf(to(0), top, to(inside), top + 8), "solid"),
    limit !== null && known(bay.mass) && bay.mass > limit
      ? filled(boxOf(to(limit), top, to(bay.mass), top + 8), "accent")
      : [],
    limit === null
      ? []
      : [line(to(0), top + 11, to(limit), top + 11), line(to(limit), top - 4, to(limit), top + 13, "pic-line-thick")],
  ];
}

function drawSeat(
  /** @type {any} */ seat,
  /** @type {Format} */ fmt,
  /** @type {Size} */ size,
  /** @type {number} */ top,
) {
  const person = seat.person ? shortened(personName(seat.person)) : tell(fmt, "seats.empty");
  const verdict = seat.verdict && seat.verdict !== "yes" ? fmt.say({ text: `verdict.${seat.verdict}` }) : "";
  const text = joined(tell(fmt, "seats", { seat: shortened(seat.name), person }), verdict);
  const p = paragraph(
    size,
    42,
    top + 4,
    size.width - 42,
    text,
    seat.verdict === "no" ? "accent" : verdict ? "strong" : "",
  );
  const middle = top + 4 + size.line / 2;
  // a seat from the side: back and cushion, filled as its verdict when somebody sits in it
  const body = [
    filled(boxOf(4, middle - 13, 10, middle + 11), "plain"),
    filled(boxOf(4, middle + 5, 30, middle + 11), "plain"),
    seat.person
      ? filled(
          boxOf(12, middle - 13, 26, middle + 4),
          seat.verdict === "no" ? "accent" : seat.verdict === "yes" ? "solid" : fillOf(seat.verdict),
        )
      : [],
  ];
  return { body: [body, p.body], bottom: Math.max(p.bottom, middle + 12), told: text };
}

const personName = (/** @type {any} */ person) => (typeof person === "string" ? person : (person?.name ?? ""));
