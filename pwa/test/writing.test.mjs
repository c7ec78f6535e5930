// Edits of fields put once more on a document that somebody else has changed meanwhile.
import assert from "node:assert/strict";
import { test } from "node:test";

import { edited } from "../src/state/stamps.js";
import { rebased } from "../src/state/writing.js";

const stamp = (second, by = "me", count = 0) => ({ at: `2026-11-25T10:00:0${second}Z`, count, by });
const plane = { kind: "aeroplane", id: "p", name: "P", bays: [{ id: "hold", name: "Hold" }, { id: "shelf", name: "Shelf" }] };
const named = (pointer, value, second, by, count) => ({ pointer, value, stamp: stamp(second, by, count) });

test("edits of other fields stand beside theirs", () => {
  const theirs = edited(plane, "/name", "Theirs", stamp(1, "you"));
  const joined = rebased(theirs, [named("/bays/hold/name", "Mine", 2)]);
  assert.equal(joined.name, "Theirs");
  assert.equal(joined.bays[0].name, "Mine");
  assert.deepEqual(Object.keys(joined.stamps).sort(), ["/bays/hold/name", "/name"]);
});

test("of one field the later edit stays, whoever writes last", () => {
  const theirs = edited(plane, "/name", "Theirs", stamp(5, "you"));
  assert.equal(rebased(theirs, [named("/name", "Mine", 4)]).name, "Theirs");
  assert.equal(rebased(theirs, [named("/name", "Mine", 6)]).name, "Mine");
  assert.equal(rebased(theirs, [named("/name", "Mine", 5, "me", 1)]).name, "Mine");
});

test("put on twice it is the same as once", () => {
  const edits = [named("/name", "A", 1), named("/bays/shelf/name", "B", 2), named("/name", "C", 3)];
  const once = rebased(plane, edits);
  assert.deepEqual(rebased(once, edits), once);
  assert.equal(once.name, "C");
});

test("a field of a thing that they took away is not made up again", () => {
  const theirs = edited(plane, "/bays/shelf", undefined, stamp(1, "you"));
  assert.deepEqual(rebased(theirs, [named("/bays/shelf/name", "Mine", 2)]), theirs);
});

test("a whole that was put later stands over an earlier edit of its field, not under a later one", () => {
  const theirs = edited(plane, "/bays/hold", { id: "hold", name: "Theirs" }, stamp(5, "you"));
  assert.equal(rebased(theirs, [named("/bays/hold/name", "Mine", 4)]).bays[0].name, "Theirs");
  assert.equal(rebased(theirs, [named("/bays/hold/name", "Mine", 6)]).bays[0].name, "Mine");
});

test("edits of one step, of a whole and of its field, both count", () => {
  const step = [named("/bays/hold", { id: "hold", name: "Whole" }, 2), named("/bays/hold/name", "Field", 2)];
  assert.equal(rebased(plane, step).bays[0].name, "Field");
});
