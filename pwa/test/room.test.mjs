// What is left by mass, without a browser: no bay offers what the limits over it do not take.
import assert from "node:assert/strict";
import { test } from "node:test";

import { marginAmount, marginSigned, ruling } from "../src/parts/margin.js";
import { after, allUpOf, bayLimit, leastOf, sharedOf } from "../src/state/room.js";

const plane = { joint_limits: [{ id: "both", name: "Locker and hold together", stations: ["locker", "hold"], mass_limit: { value: 68 } }] };
const measures = (needed, ...more) => ({ measures: [{ name: "joint_mass", values: { limit: "Locker and hold together" }, needed, available: 68, margin: 68 - needed }, ...more] });
const bay = (id, mass, mass_limit) => ({ id, mass, mass_limit });
const mass = (name, needed, available) => ({ name, needed, available, margin: needed === null ? null : available - needed });

test("a bay offers what the limit that it shares leaves, and nothing where that is overstepped", () => {
  const within = sharedOf(plane, measures(67.8));
  assert.deepEqual(within.map(({ name, needed, available }) => [name, needed, available]), [["Locker and hold together", 67.8, 68]]);
  assert.equal(bayLimit(bay("hold", 40, 45.2), within, []).toFixed(1), "40.2");
  assert.equal(bayLimit(bay("nose", 40, 45.2), within, []), 45.2, "a bay outside the limit");
  assert.equal(bayLimit(bay("hold", 40, 45.2), sharedOf(plane, measures(70.4)), []), 40);
  assert.equal(bayLimit(bay("hold", 50, 45.2), within, []), 45.2, "its own excess stays its own");
  assert.equal(bayLimit(bay("hold", 40, 45.2), sharedOf(plane, { measures: [] }), []), null, "a shared limit that was not measured");
  assert.equal(bayLimit(bay("hold", 40, null), within, []), null);
});

test("the aeroplane's own limits, a strip's too, bind every bay, and one that can't be said leaves it open", () => {
  const strip = allUpOf({ measures: [mass("mass_takeoff", 550, 600), mass("strip_mass_to", 549, 550), mass("aft", 0.1, 0.2)] });
  assert.deepEqual(leastOf(strip), { needed: 549, available: 550 });
  assert.equal(bayLimit(bay("hold", 40, 45.2), [], strip), 41);
  const open = allUpOf({ measures: [mass("mass_takeoff", 598, 600), mass("mass_landing", null, 580)] });
  assert.deepEqual(leastOf(open), { needed: null, available: null });
  assert.equal(bayLimit(bay("hold", 40, 45.2), [], open), 42, "what is known of the aeroplane binds");
  assert.equal(leastOf([]), undefined);
});

test("what is packed anew moves the limits by its kilos, and by those of their own bays alone", () => {
  const [before, then] = [[bay("locker", 28), bay("hold", 40), bay("nose", 5)], [bay("locker", 20), bay("hold", 45), bay("nose", 9)]];
  assert.equal(after(sharedOf(plane, measures(68))[0], before, then).needed, 65);
  assert.equal(after({ needed: 550, available: 600 }, before, then).needed, 551);
  assert.equal(after({ needed: 550, available: 600 }, [bay("locker", null)], then).needed, null);
});

test("what is left rounds down, what is short rounds up, and neither is nought where it is not", () => {
  const said = (margin, dimension, chosen = {}) => marginAmount(margin, dimension, chosen).replaceAll("\u00a0", " ");
  assert.equal(said(-0.0002, "volume"), "less than 1 L");
  assert.equal(said(-0.0003, "gradient"), "less than 0.1 %");
  assert.equal(said(0.0004, "bulk"), "less than 1 L");
  assert.equal(said(0, "volume"), "0 L");
  assert.equal(said(62.9, "length"), "62 m");
  assert.equal(said(-62.1, "length"), "63 m");
  assert.equal(said(63 - 1e-9, "length"), "63 m", "a sum in floats");
  assert.equal(said(-63 - 1e-9, "length"), "63 m");
  assert.equal(said(0.1 + 0.2, "mass"), "0.3 kg");
  assert.equal(said(-2.34, "mass"), "2.4 kg");
  assert.deepEqual([-0.0002, 0.0002, 0.0031, -0.0031].map((one) => marginSigned(one, "bulk", {})), ["−1\u00a0L", "0\u00a0L", "3\u00a0L", "−4\u00a0L"]);
  assert.equal(said(10, "length", { length: "ft" }), "32 ft");
});

test("no margin stands for what is not decided by it", () => {
  const of = (verdict, ...measures) => ruling({ verdict, governing: 0, measures: measures.map((one) => ({ verdict: one })) })?.verdict;
  assert.equal(of("can't say", "yes"), undefined);
  assert.equal(of("no", "tight"), undefined);
  assert.equal(of("can't say", "can't say"), "can't say");
  assert.equal(of("no", "no"), "no");
  assert.equal(of("tight", "yes"), "yes", "capped, but answered");
  assert.equal(ruling(undefined), undefined);
});
