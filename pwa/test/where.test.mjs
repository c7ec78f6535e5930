// Nothing that is missing is a dead end: for every such text there is a place where the figure is entered.
import assert from "node:assert/strict";
import { test } from "node:test";

import catalogue from "../generated/text.json";
import { whereOf } from "../src/screens/where.js";

/** Follow from something else that is missing and told too. */
const FOLLOW = ["missing.mass", "missing.density_altitude", "missing.burn", "missing.arrival"];

/** Told on an aeroplane's own form alone (`questions/readiness.py`), which leads to its fields by pointers. */
const READINESS = ["missing.seats", "missing.controls", "missing.own_crosswind", "missing.own_tailwind", "missing.own_gust_spread"];

const all = {
  person: [{ id: "ann", name: "Ann" }],
  kit: [{ id: "camp", items: [{ id: "pot", name: "Pot" }] }],
};
const context = {
  plan: { from: { id: "a", name: "A" }, to: { id: "b", name: "B" }, aeroplane: { id: "p" } },
  store: { all: (kind) => all[kind] ?? [] },
};
const values = { strip: "B", person: "Ann", item: "Pot" };
const missing = Object.keys(catalogue).filter((id) => id.startsWith("missing."));

test("what is missing leads to where it is entered", () => {
  assert.ok(missing.length > 60);
  const lost = missing.filter((text) => ![...FOLLOW, ...READINESS].includes(text) && !whereOf(context, { text, values }));
  assert.deepEqual(lost, []);
});

test("to the thing itself, at the right end", () => {
  const to = (text, given = values) => whereOf(context, { text, values: given });
  assert.deepEqual(to("missing.temperature"), { href: "#/air", end: "to" });
  assert.deepEqual(to("missing.temperature", { strip: "A" }), { href: "#/air", end: "from" });
  assert.equal(to("missing.surface").href, "#/edit/b");
  assert.equal(to("missing.item_mass").href, "#/edit/camp%2Fitems%2Fpot");
  assert.equal(to("missing.bag").href, "#/load");
  assert.equal(to("missing.person_mass").href, "#/edit/ann");
  assert.equal(to("reason.no_such_text"), undefined);
});
