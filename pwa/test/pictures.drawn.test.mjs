// What the pictures draw, without a browser: the modules bundled as for the page, lit's templates turned into text.
import assert from "node:assert/strict";
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { after, before, test } from "node:test";
import { fileURLToPath, pathToFileURL } from "node:url";

import { build } from "esbuild";

import { widthOf } from "../src/pictures/lettering.js";
import { CLOSE, OPEN, drawings, flatten } from "./flatten.mjs";
import { CASES, anyAnswer } from "./pictures.cases.mjs";
import { randomNumbers } from "./random.mjs";

const pwa = fileURLToPath(new URL("../", import.meta.url));
const folder = mkdtempSync(join(tmpdir(), "pictures-"));
const METRIC = {};
const FEET = { length: "ft", "low height": "ft", mass: "lb", arm: "in", bulk: "gal", volume: "gal" };
let picture, measureBar, formatIn;

before(async () => {
  const outfile = join(folder, "pictures.mjs");
  const contents = `export { picture, measureBar } from "./src/pictures/index.js";
    import { display, say, shown } from "./src/text.js";
    export const formatIn = (chosen) => ({ q: (v, d) => shown(v, d, chosen), unit: (d) => display(d, chosen), say: (m) => say(m, chosen) });`;
  await build({
    stdin: { contents, resolveDir: pwa },
    outfile,
    bundle: true,
    format: "esm",
    platform: "node",
    logLevel: "error",
  });
  ({ picture, measureBar, formatIn } = await import(pathToFileURL(outfile).href));
});
after(() => rmSync(folder, { recursive: true }));

/** Box of a text, by the widths that it was laid out with. */
function boxOf({ x, y, text, size, bold, anchor }) {
  const width = widthOf(text, size, bold);
  const left = anchor === "end" ? x - width : anchor === "middle" ? x - width / 2 : x;
  return { left, right: left + width, top: y - size * 0.8, bottom: y + size * 0.25, text };
}

function check(name, answer, chosen) {
  const markup = flatten(picture(answer, formatIn(chosen)));
  const plain = markup.replaceAll(OPEN, "").replaceAll(CLOSE, "");
  assert.doesNotMatch(
    plain,
    /NaN|Infinity|undefined|\[object|null/,
    `${name}: ${plain.match(/.{60}(NaN|Infinity|undefined|\[object|null).{60}/s)?.[0]}`,
  );
  assert.doesNotMatch(plain, /\sstyle=/, `${name}: the policy refuses style attributes`);
  assert.doesNotMatch(
    plain,
    /(picture|verdict|state)\.[a-z_]+/,
    `${name}: a text is missing: ${plain.match(/(picture|verdict|state)\.[a-z_.]+/)?.[0]}`,
  );
  assert.doesNotMatch(
    plain,
    /–/,
    `${name}: a figure that is not known got into a text: ${plain.match(/.{40}–.{40}/)?.[0]}`,
  );
  const drawn = drawings(markup);
  assert.deepEqual(
    drawn.map((d) => d.kind),
    ["narrow", "wide"],
    name,
  );
  for (const { kind, width, height, told, texts } of drawn) {
    const what = `${name}, ${kind}`;
    assert.ok(width >= 320 && height > 0, what);
    assert.ok(told.length > 10, `${what}: no description`);
    const boxes = texts.map(boxOf);
    boxes.forEach((a, i) => {
      assert.ok(texts[i].size >= 18, `${what}: small text`);
      assert.ok(a.left >= -2 && a.right <= width + 2, `${what}: "${a.text}" runs out, ${a.left} to ${a.right}`);
      assert.ok(a.top >= -6 && a.bottom <= height + 6, `${what}: "${a.text}" is above or below`);
      for (const b of boxes.slice(0, i)) {
        const meet = a.left < b.right - 1 && b.left < a.right - 1 && a.top < b.bottom - 1 && b.top < a.bottom - 1;
        assert.ok(!meet, `${what}: "${a.text}" overlaps "${b.text}"`);
      }
    });
  }
  return { markup, drawn };
}

for (const [name, answer] of Object.entries(CASES)) {
  test(`${name}: drawn whole, told whole, nothing overlaps`, () => {
    check(name, answer, METRIC);
    check(`${name}, feet`, answer, FEET);
  });
}

test("any answer of the contract is drawn, with whatever is missing", () => {
  const random = randomNumbers(2026);
  for (let i = 0; i < 400; i++) {
    const answer = anyAnswer(random);
    check(`${answer.question} ${JSON.stringify(answer.picture)}`, answer, i % 2 ? METRIC : FEET);
  }
});

test("what is missing is said and not drawn as inside", () => {
  const { drawn } = check("no distance", CASES["take-off, nothing known"], METRIC);
  for (const { told, body } of drawn) {
    for (const part of ["lift-off", "50 ft", "abort point", "far end", "wind", "slope", "beyond the end"]) {
      assert.match(told, new RegExp(`${part}: can't\\s+say`), told);
    }
    assert.doesNotMatch(body, /pic-fill-[^a-z]*(solid|dots)[^-]/, "a bar is drawn for a figure that nobody knows");
  }
});

test("a bar that runs past the end says by how much, and is drawn past the end", () => {
  const { drawn } = check("over", CASES["take-off, past the end"], METRIC);
  for (const { told } of drawn) assert.match(told, /past the end by 110 m/);
  for (const { told } of check("inside", CASES["take-off"], METRIC).drawn) assert.doesNotMatch(told, /past the end/);
});

test("a distance without end is told as such, and its bar runs past the end", () => {
  const { drawn } = check("never", CASES["take-off, never"], METRIC);
  for (const { told, body } of drawn) {
    assert.match(told, /never reaches 50 ft/);
    assert.match(body, /accent-hatched/);
  }
});

test("an abort point is told with the speed to see there", () => {
  const told = (name) => check(name, CASES[name], METRIC).drawn[0].told;
  assert.match(told("take-off"), /abort by 57 m unless 32 kt shows/);
  assert.match(told("take-off, past the end"), /abort by 80 m unless the tail is up/);
  assert.match(told("take-off, far past the end"), /abort by 57 m unless airborne/);
});

test("wind: a lull counts ahead, what a full sock can't tell is said", () => {
  const told = (name) => check(name, CASES[name], METRIC).drawn[0].told;
  assert.match(told("take-off"), /2 kt head counted\. 8 kt cross from the left/);
  assert.match(told("take-off, past the end"), /9 kt tail counted\. 8 kt cross from the right/);
  assert.match(
    told("take-off, full sock from behind"),
    /15 kt or more\. head or tail: can't\s+say\. cross: can't\s+say/,
  );
});

test("HTML in a name stays a value", () => {
  for (const name of ["names as bad as they come", "take-off, ten obstacles"]) {
    const { markup } = check(name, CASES[name], METRIC);
    const outside = markup.replace(new RegExp(`${OPEN}[^${CLOSE}]*${CLOSE}`, "g"), "");
    assert.match(markup, /<b>|<script>/);
    assert.doesNotMatch(outside, /<b>|<script|<i>|onerror/);
  }
});

test("missing fuel is told and drawn, spare fuel is told", () => {
  assert.match(check("short", CASES["fuel, short"], METRIC).drawn[0].told, /14 L missing/);
  const enough = check("enough", CASES["fuel"], METRIC).drawn[0].told;
  assert.match(enough, /spare 11 L/);
  assert.doesNotMatch(enough, /missing/);
});

test("a bay that is too full is told by how much", () => {
  assert.match(check("bays", CASES["bays"], METRIC).drawn[0].told, /22 L too much.*1\.0 kg too much/s);
});

test("no picture, nothing drawn", () => {
  assert.equal(flatten(picture({ question: "fits", picture: null }, formatIn(METRIC))), "");
  assert.equal(flatten(picture(undefined, formatIn(METRIC))), "");
});

test("the small bar: told, and past the mark only when more is needed than there is", () => {
  const bar = (needed, available) => flatten(measureBar({ needed, available, dimension: "length" }, formatIn(METRIC)));
  const plain = (text) => text.replaceAll(OPEN, "").replaceAll(CLOSE, "");
  assert.match(plain(bar(272, 400)), /aria-label=Needs 272 m, has 400 m/);
  assert.doesNotMatch(bar(400, 400), /pic-measure-over/);
  assert.match(plain(bar(440, 400)), /has 400 m\. 40 m too much/);
  assert.match(bar(440, 400), /pic-measure-over/);
  const judged = (needed, available, verdict) =>
    plain(flatten(measureBar({ needed, available, verdict, dimension: "length" }, formatIn(METRIC))));
  assert.match(judged(null, 400, "no"), /pic-measure-over/);
  assert.match(judged(null, 400, "no"), /Needs more than there could be, has 400 m/);
  assert.doesNotMatch(judged(null, 400, "can't say"), /pic-measure-over/);
  assert.match(judged(null, null, "no"), /aria-label=no\n?>/);
  assert.doesNotMatch(judged(null, null, "no"), /pic-measure-(bar|over)|dotted/);
  for (const [needed, available] of [
    [null, 400],
    [300, null],
    [null, null],
    [undefined, undefined],
  ]) {
    const text = bar(needed, available);
    assert.match(plain(text), /can't\s+say/);
    assert.match(text, /pic-fill-dotted/);
    assert.doesNotMatch(text, /pic-measure-(bar|over)/);
    assert.doesNotMatch(plain(text), /NaN|undefined|null/);
  }
});
