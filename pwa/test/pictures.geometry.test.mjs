// The geometry of the pictures, without a browser: `node --test`.
import assert from "node:assert/strict";
import { test } from "node:test";

import {
  MARK,
  aroundZero,
  clock,
  dots,
  exaggeration,
  groundProfile,
  hang,
  hatch,
  heightAt,
  linear,
  measureScale,
  offsetOf,
  roundUp,
  sockFullness,
  spread,
  stripExtent,
  ticks,
} from "../src/pictures/geometry.js";
import { corners, dot, faces, fromAfar, view } from "../src/pictures/aslant.js";
import { widthOf, wrap } from "../src/pictures/lettering.js";
import { randomNumbers } from "./random.mjs";

const near = (a, b, tolerance = 1e-9) => assert.ok(Math.abs(a - b) <= tolerance, `${a} is not ${b}`);

test("labels with room stay where they point", () => {
  assert.deepEqual(
    spread(
      [
        { at: 10, size: 4 },
        { at: 30, size: 4 },
      ],
      0,
      100,
    ),
    [10, 30],
  );
});

test("two labels at one place part evenly, in their order", () => {
  assert.deepEqual(
    spread(
      [
        { at: 50, size: 20 },
        { at: 50, size: 20 },
      ],
      0,
      100,
    ),
    [40, 60],
  );
});

test("labels that point anywhere never overlap, keep their order and stay inside where there is room", () => {
  const random = randomNumbers(7);
  for (let round = 0; round < 400; round++) {
    const labels = Array.from({ length: 1 + Math.floor(random() * 9) }, () => ({
      at: random() * 140 - 20,
      size: 4 + random() * 20,
    }));
    const gap = random() * 5;
    const total = labels.reduce((sum, l) => sum + l.size + gap, -gap);
    const high = total + random() * 60;
    const centres = spread(labels, 0, high, gap);
    const order = labels.map((_, i) => i).sort((a, b) => labels[a].at - labels[b].at || a - b);
    for (let k = 0; k < order.length; k++) {
      const i = order[k];
      assert.ok(centres[i] - labels[i].size / 2 >= -1e-9 && centres[i] + labels[i].size / 2 <= high + 1e-9);
      if (k) {
        const before = order[k - 1];
        assert.ok(centres[i] - labels[i].size / 2 >= centres[before] + labels[before].size / 2 + gap - 1e-9);
      }
    }
  }
});

test("labels move no further than they must: no other order-keeping place is nearer in the squares", () => {
  const random = randomNumbers(11);
  const cost = (labels, centres) => labels.reduce((sum, l, i) => sum + (l.at - centres[i]) ** 2, 0);
  for (let round = 0; round < 100; round++) {
    const labels = Array.from({ length: 4 }, () => ({ at: random() * 60, size: 10 }));
    const best = cost(labels, spread(labels));
    const order = [0, 1, 2, 3].sort((a, b) => labels[a].at - labels[b].at);
    for (let other = 0; other < 60; other++) {
      const centres = [];
      let from = random() * 60 - 15;
      for (const i of order) {
        centres[i] = from + 5;
        from += 10 + random() * 6;
      }
      assert.ok(cost(labels, centres) >= best - 1e-9);
    }
  }
});

test("where there is no room for all, they still do not overlap", () => {
  const centres = spread(
    [
      { at: 5, size: 20 },
      { at: 5, size: 20 },
      { at: 5, size: 20 },
    ],
    0,
    30,
  );
  assert.deepEqual(centres, [10, 30, 50]);
});

test("hanging labels meet neither another label of their row nor, in their half, another's leader", () => {
  const random = randomNumbers(3);
  for (let round = 0; round < 300; round++) {
    const labels = Array.from({ length: 1 + Math.floor(random() * 5) }, () => ({
      at: random() * 320,
      size: 40 + random() * 110,
    }));
    const boxes = hang(labels, 320, 10);
    for (let i = 0; i < labels.length; i++) {
      assert.ok(boxes[i].left >= -1e-9 && boxes[i].right <= 320 + 1e-9);
      for (let j = 0; j < labels.length; j++) {
        if (i === j) continue;
        if (boxes[i].row === boxes[j].row)
          assert.ok(boxes[i].right <= boxes[j].left || boxes[j].right <= boxes[i].left);
        const oneHalf = labels[i].at < 160 === labels[j].at < 160;
        const leaderPasses =
          boxes[j].row > boxes[i].row && labels[j].at > boxes[i].left && labels[j].at < boxes[i].right;
        if (oneHalf) assert.ok(!leaderPasses, "a leader runs through a label");
      }
    }
  }
});

test("marks fall on round figures of the unit that is shown", () => {
  assert.deepEqual(
    ticks(0, 400, 5).map((t) => t.shown),
    [0, 100, 200, 300, 400],
  );
  const feet = ticks(0, 400, 5, 0.3048);
  assert.deepEqual(
    feet.map((t) => t.shown),
    [0, 500, 1000],
  );
  near(feet[1].at, 152.4);
  assert.deepEqual(
    ticks(0.31, 0.452, 4, 0.001).map((t) => t.shown),
    [350, 400, 450],
  );
  assert.deepEqual(ticks(5, 5), []);
  assert.deepEqual(ticks(0, NaN), []);
  for (const marks of [ticks(-7, 13, 6), ticks(0.001, 0.0093, 3), ticks(0, 123456, 7)])
    assert.ok(marks.length >= 1 && marks.length <= 8);
});

test("round numbers up", () => {
  assert.deepEqual([0.9, 1, 1.1, 2.1, 5.1, 74].map(roundUp), [1, 1, 2, 5, 10, 100]);
});

test("a scale without width maps to the middle", () => {
  assert.equal(linear([3, 3], [0, 10])(3), 5);
  assert.equal(linear([0, 10], [100, 0])(2.5), 75);
});

test("a bar and its mark are to one scale from zero, the marks of all in one line until a bar needs the room", () => {
  const inside = measureScale(272, 400);
  near(inside.available, MARK);
  near(inside.needed / inside.available, 272 / 400);
  assert.equal(inside.over, false);
  const over = measureScale(1200, 400);
  near(over.needed, 1);
  near(over.needed / over.available, 3);
  assert.equal(over.over, true);
  const exact = measureScale(400, 400);
  assert.equal(exact.over, false);
  near(exact.needed, exact.available);
});

test("what is not known has no bar, and is never drawn as inside", () => {
  assert.equal(measureScale(null, 400).needed, null);
  assert.equal(measureScale(300, null).available, null);
  assert.equal(measureScale(null, null).over, false);
  assert.equal(measureScale(NaN, 400).needed, null);
  assert.equal(measureScale(Infinity, 400).needed, null);
});

test("a measure below zero keeps its zero on the scale", () => {
  const { zero, needed, available, over } = measureScale(0.033, -0.01);
  assert.ok(available < zero && zero < needed && over);
  near((needed - zero) / (zero - available), 3.3, 1e-9);
});

test("a strip is shown to its end or as far as the bar runs, and cut beyond five lengths", () => {
  const short = stripExtent({ length: 400, factored: 362, over_50ft: 272, roll: 115 });
  assert.deepEqual([short.extent, short.cut], [400, false]);
  assert.equal(stripExtent({ length: 300, factored: 900 }).extent, 900);
  const far = stripExtent({ length: 200, factored: 1900 });
  assert.deepEqual([far.extent, far.cut], [1000, true]);
  assert.equal(stripExtent({ length: null, factored: 300 }).extent, 300);
  assert.equal(stripExtent({}).extent, 0);
});

test("things near the end are drawn to scale, others told; on the approach they stand before the start", () => {
  const trees = { distance: 60 };
  const ridge = { distance: 1800 };
  const lost = { distance: null };
  const seen = stripExtent({ length: 400 }, [trees, ridge, lost]);
  assert.deepEqual([seen.near, seen.far, seen.extent, seen.start], [[trees], [ridge, lost], 460, 0]);
  const approach = stripExtent({ length: 400 }, [trees, ridge], true);
  assert.deepEqual([approach.near, approach.extent, approach.start], [[trees], 400, -60]);
});

test("the ground rises by slope times length", () => {
  const ground = groundProfile([
    { length: 100, slope: 0.02 },
    { length: 50, slope: -0.04 },
  ]);
  assert.deepEqual(
    ground.map((g) => g.distance),
    [0, 100, 150],
  );
  near(ground[1].height, 2);
  near(ground[2].height, 0);
  near(heightAt(ground, 50), 1);
  near(heightAt(ground, 125), 1);
  assert.equal(heightAt(ground, -5), 0);
  near(heightAt(ground, 500), 0);
});

test("heights are drawn larger only as far as the room goes", () => {
  assert.equal(exaggeration(20, 0.8, 84), 5);
  assert.equal(exaggeration(500, 0.8, 84), 1);
  assert.equal(exaggeration(0, 0.8, 84), 50);
});

test("a sock stands straight out at 15 kt (FAA AC 150/5345-27) and never fuller", () => {
  near(sockFullness((15 * 1852) / 3600), 1);
  near(sockFullness((7.5 * 1852) / 3600), 0.5);
  assert.equal(sockFullness(40), 1);
  assert.equal(sockFullness(-1), 0);
});

test("angles come back to one turn around ahead", () => {
  near(aroundZero((350 * Math.PI) / 180), (-10 * Math.PI) / 180);
  near(aroundZero((-190 * Math.PI) / 180), (170 * Math.PI) / 180);
});

test("times are told on one clock", () => {
  assert.equal(clock("2026-06-01T09:10:00+02:00"), "09:10");
  assert.equal(clock("2026-06-01T18:32:00Z", 120), "20:32");
  assert.equal(clock("2026-06-01T23:50:00-03:30", 0), "03:20");
  assert.equal(clock("soon"), null);
  assert.equal(clock(null), null);
  assert.equal(offsetOf("2026-06-01T23:50:00-03:30"), -210);
});

test("hatching and dots stay inside their rectangle", () => {
  for (const d of [hatch(10, 20, 37, 23), hatch(0, 0, 3, 90), dots(10, 20, 37, 23)]) {
    for (const [, x, y] of d.matchAll(/[ML](-?[\d.]+) (-?[\d.]+)/g)) {
      assert.ok(Number(x) >= 0 && Number(x) <= 47.01 && Number(y) >= 0 && Number(y) <= 90.01, d);
    }
  }
  for (const [, x, y] of hatch(10, 20, 37, 23).matchAll(/[ML](-?[\d.]+) (-?[\d.]+)/g)) {
    assert.ok(Number(x) >= 9.99 && Number(x) <= 47.01 && Number(y) >= 19.99 && Number(y) <= 43.01);
  }
});

test("lines keep to their width, and a figure keeps its unit", () => {
  const lines = wrap("abort by 57 m unless 32 kt shows", 110, 18, true);
  assert.ok(
    lines.every((l) => widthOf(l, 18, true) <= 110),
    lines.join("|"),
  );
  assert.ok(lines.some((l) => l.includes("57 m")) && lines.some((l) => l.includes("32 kt")), lines.join("|"));
  assert.equal(
    wrap("Wind 12 345 m", 100, 18).find((l) => l.includes("12")),
    "12 345 m",
  );
  assert.deepEqual(wrap("12 345 m", 70, 18), ["12 345", "m"]);
  assert.deepEqual(wrap("one\ntwo", 200, 18), ["one", "two"]);
});

test("a word without end is broken, and no letter is lost", () => {
  const word = "x".repeat(60);
  const lines = wrap(word, 100, 18);
  assert.equal(lines.join(""), word);
  assert.ok(lines.every((l) => widthOf(l, 18) <= 100));
  assert.deepEqual(wrap("", 100, 18), [""]);
});

test("what is cut says so", () => {
  const lines = wrap("a very long name of a place that nobody would type", 100, 18, false, 2);
  assert.equal(lines.length, 2);
  assert.ok(lines[1].endsWith("…") && widthOf(lines[1], 18) <= 100);
});

test("a bay aslant: upright stays upright, and three faces at most are seen", () => {
  const from = view(30, 30);
  near(dot([0, 0, 1], from.right), 0);
  assert.ok(dot([0, 0, 1], from.up) > 0.8);
  near(dot(from.right, from.towards), 0);
  near(dot(from.up, from.towards), 0);
  const block = { low: [0, 0, 0], high: [1, 2, 3] };
  assert.equal(corners(block).length, 8);
  assert.equal(faces(block, from).length, 3);
  assert.equal(faces(block, view(90, 0)).length, 1);
  // from the rear: the face at the high end of x, from the left: that at the low end of y
  assert.ok(faces(block, view(0, 5)).some(({ axis, corners: c }) => axis === 0 && c.every((p) => p[0] === 1)));
  assert.ok(faces(block, view(-90, 5)).some(({ axis, corners: c }) => axis === 1 && c.every((p) => p[1] === 0)));
});

test("what is nearer is drawn later, along every line of sight", () => {
  const random = randomNumbers(7);
  for (let round = 0; round < 40; round++) {
    const from = view(random() * 360 - 180, random() * 80 + 5);
    // one block in each cell of a grid: none cuts another
    const blocks = [];
    for (let x = 0; x < 3; x++)
      for (let y = 0; y < 3; y++)
        for (let z = 0; z < 2; z++) {
          const low = [x, y, z].map((at) => at + random() * 0.4);
          blocks.push({ low, high: low.map((at, i) => at + (1 - (at - [x, y, z][i])) * (0.4 + random() * 0.6)) });
        }
    const order = fromAfar(blocks, from);
    assert.deepEqual(new Set(order), new Set(blocks));
    for (let ray = 0; ray < 60; ray++) {
      const start = [random() * 3, random() * 3, random() * 2];
      const hits = order.map((block, drawn) => ({ drawn, at: crossing(block, start, from.towards) })).filter(({ at }) => at !== null);
      hits.sort((a, b) => a.at - b.at);
      hits.slice(1).forEach((hit, i) => assert.ok(hit.drawn > hits[i].drawn));
    }
  }
});

/** Where a line through `start` leaves a block, towards the eye; null where it misses it. */
function crossing({ low, high }, start, along) {
  let [into, out] = [-Infinity, Infinity];
  for (let i = 0; i < 3; i++) {
    const ends = [(low[i] - start[i]) / along[i], (high[i] - start[i]) / along[i]].sort((a, b) => a - b);
    [into, out] = [Math.max(into, ends[0]), Math.min(out, ends[1])];
  }
  return out - into > 1e-6 ? out : null;
}
