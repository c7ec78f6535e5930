// State without a browser: places in documents, stamps, units, times, and the edits of air, load and aeroplane.
import assert from "node:assert/strict";
import { test } from "node:test";

import { readTyped, stepped } from "../src/parts/typed.js";
import { airChanges, setAt } from "../src/state/air.js";
import { bayFor, fuelChanges, placeChanges, seatChanges, suits, uncounted, wholeChanges } from "../src/state/load.js";
import { stationsOf } from "../src/state/plan.js";
import { isElement, namedPointer, valueAt, withValue } from "../src/state/pointer.js";
import { doubt, standing } from "../src/state/runup.js";
import { created, edited } from "../src/state/stamps.js";
import { swapped } from "../src/state/swap.js";
import { legOf, moveChanges, removeChanges, stripChanges } from "../src/state/trips.js";
import { age, briefly, iso, later, offsetOf } from "../src/state/time.js";
import { draftPage } from "../src/state/drafts.js";
import { chosenUnits } from "../src/state/units.js";

const trip = {
  id: "week",
  loads: [
    {
      id: "out",
      name: "Out",
      seats: [{ seat: "left", person: "ann" }, { seat: "right", person: "bob" }],
      placed: [{ item: "pot", bay: "hold" }, { item: "tent", bay: null }],
    },
  ],
  legs: [{ id: "a", load: "out", fuel: [{ tank: "main", volume: { value: 0.04, origin: "measured" } }] }],
};
const stamp = (at, by = "me") => ({ at: `2026-11-25T10:00:0${at}Z`, count: 0, by });
const shelf = (documents) => {
  const by = new Map(documents.map((one) => [one.id, one]));
  return { get: (id) => by.get(id), all: (kind) => documents.filter((one) => one.kind === kind) };
};

test("an element is found by its name, else by its number", () => {
  assert.equal(valueAt(trip, "/loads/out/placed/pot/bay"), "hold");
  assert.equal(valueAt(trip, "/loads/0/placed/1/item"), "tent");
  assert.equal(valueAt(trip, "/loads/none/placed"), undefined);
  assert.equal(namedPointer(trip, "/loads/0/seats/1/seat"), "/loads/out/seats/bob/seat");
  assert.ok(isElement(trip, "/loads/out/placed/pot"));
  assert.ok(!isElement(trip, "/loads/out/placed/pot/bay"));
});

test("an edit copies what it touches and shares the rest", () => {
  const after = withValue(trip, "/loads/out/placed/pot/bay", "locker");
  assert.equal(valueAt(after, "/loads/out/placed/pot/bay"), "locker");
  assert.equal(valueAt(trip, "/loads/out/placed/pot/bay"), "hold");
  assert.equal(after.legs, trip.legs);
});

test("the first element of a list that is not there makes the list", () => {
  const after = withValue({ loads: [{ id: "x" }] }, "/loads/x/placed/pot", { item: "pot", bay: null });
  assert.deepEqual(after.loads[0].placed, [{ item: "pot", bay: null }]);
});

test("a whole in another's place drops the stamps inside it and says what it replaced", () => {
  const before = { id: "air", wind: { by: "calm" }, stamps: { "/wind/speed": stamp(1, "you"), "/temperature": stamp(2) } };
  const after = edited(before, "/wind", { by: "sock", fullness: 1 }, stamp(5));
  assert.deepEqual(Object.keys(after.stamps).sort(), ["/temperature", "/wind"]);
  assert.equal(after.stamps["/wind"].over, stamp(1).at);
});

test("however long a finger drags, the edit is over what others made", () => {
  let document = { id: "air", temperature: 280, stamps: { "/temperature": stamp(1, "you") }, typed: { "/temperature": "7 degC" } };
  for (const second of [2, 3, 4]) document = edited(document, "/temperature", 280 + second, stamp(second));
  assert.equal(document.stamps["/temperature"].at, stamp(4).at);
  assert.equal(document.stamps["/temperature"].over, stamp(1).at);
  assert.equal(document.typed, undefined, "what was typed before says another number");
});

test("an element that is taken away is among the removed, and leaves them when it is put back", () => {
  const gone = edited(trip, "/loads/out/seats/bob", undefined, stamp(1));
  assert.deepEqual(Object.keys(gone.removed), ["/loads/out/seats/bob"]);
  assert.equal(gone.loads[0].seats.length, 1);
  const back = edited(gone, "/loads/out/seats/bob", { seat: "right", person: "bob" }, stamp(2));
  assert.equal(back.removed, undefined);
  assert.deepEqual(Object.keys(back.stamps), ["/loads/out/seats/bob"]);
});

test("a field that is emptied leaves its stamp, and a new document has one for every field", () => {
  assert.deepEqual(Object.keys(edited({ id: "air", dew_point: 280 }, "/dew_point", undefined, stamp(1)).stamps), ["/dew_point"]);
  assert.deepEqual(Object.keys(created({ version: 1, kind: "air", id: "x", name: "X", at: "…" }, stamp(1)).stamps), ["/name", "/at"]);
});

test("what is typed is read in the chosen unit, or not at all", () => {
  const chosen = chosenUnits({ temperature: "degF", height: "m" });
  assert.ok(Math.abs(readTyped("59", "temperature", chosen) - 288.15) < 1e-9);
  assert.equal(readTyped("1 450,5", "height", chosen), 1450.5);
  assert.equal(readTyped("−3", "height", chosen), -3);
  for (const typed of ["", "2o", "--1", "1.2.3", "NaN", "Infinity", "1e400", "0x10"]) assert.equal(readTyped(typed, "height", chosen), undefined);
  assert.equal(chosenUnits({ volume: "gal" }).flow, "gal/h");
});

test("a step goes to the next whole step of the chosen unit, never by less", () => {
  const chosen = chosenUnits({});
  assert.ok(Math.abs(stepped(0, 1, 20, "height", chosen) - 20 * 0.3048) < 1e-9);
  assert.ok(Math.abs(stepped(1 * 0.3048, 1, 20, "height", chosen) - 20 * 0.3048) < 1e-9);
  assert.ok(Math.abs(stepped(39 * 0.3048, -1, 20, "height", chosen) - 20 * 0.3048) < 1e-9);
});

test("times keep their offset", () => {
  assert.equal(later("2026-11-25T23:50:00+02:00", 20), "2026-11-26T00:10:00+02:00");
  assert.equal(offsetOf("2026-11-25T10:00:00-03:30"), -210);
  assert.equal(offsetOf("2026-11-25T10:00:00Z"), 0);
  assert.equal(iso(Date.parse("2026-11-25T10:00:00Z"), -210), "2026-11-25T06:30:00-03:30");
  const noon = Date.parse("2026-11-25T12:00:00+01:00");
  assert.equal(briefly("2026-11-25T07:52:00+01:00", noon), "07:52");
  assert.equal(briefly("2026-11-27T07:52:00+01:00", noon), "Fri 07:52");
  assert.deepEqual(age("2026-11-25T11:54:00+01:00", noon), { text: "shell.age.minutes", values: { n: 6 } });
});

test("a new figure does not make the old ones of a reading look new", () => {
  const old = iso(Date.now() - 3 * 3_600_000);
  const air = { kind: "air", id: "air", at: old, origin: "read", pressure: { by: "qnh" }, temperature: 280, wind: { by: "calm" } };
  const leg = { id: "a", air_from: "air", from_strip: "s" };
  const [only, ...more] = airChanges(shelf([air]), trip, leg, "from", "temperature", 281);
  assert.deepEqual(only, { document: "air", pointer: "/temperature", value: 281 });
  assert.deepEqual(more, [], "pressure and wind are as old as ever");
  const recent = new Date(Date.now() - 60_000).toISOString();
  const stamped = { ...air, stamps: { "/pressure": { at: recent }, "/wind": { at: recent } } };
  const changes = airChanges(shelf([stamped]), trip, leg, "from", "temperature", 281);
  assert.equal(Date.parse(changes[1].value), Math.floor(Date.parse(recent) / 1000) * 1000, "the oldest of the three");
  assert.equal(setAt(stamped, "pressure"), Date.parse(recent));
});

test("nobody sits twice, and who is displaced takes the free seat", () => {
  const plan = { trip, load: trip.loads[0] };
  const apply = (changes) => changes.reduce((document, { pointer, value }) => withValue(document, pointer, value), trip).loads[0].seats;
  const seats = (list) => Object.fromEntries(list.map(({ seat, person }) => [person, seat]));
  assert.deepEqual(seats(apply(seatChanges(plan, "left", "ann", "bob"))), { ann: "right", bob: "left" });
  assert.deepEqual(seats(apply(seatChanges(plan, "left", "ann", "cy"))), { cy: "left", bob: "right" });
  assert.deepEqual(seats(apply(seatChanges(plan, "left", "ann", ""))), { bob: "right" });
  assert.deepEqual(seats(apply(seatChanges(plan, "rear", "", "bob"))), { ann: "left", bob: "rear" });
  assert.deepEqual(seats(apply(seatChanges(plan, "left", "", "baby"))), { ann: "left", bob: "right", baby: "left" });
});

test("a configuration lends no outs to what is based on it", () => {
  const plane = { seats: [], bays: [{ id: "hold" }, { id: "shelf" }], tanks: [{ id: "main" }, { id: "ferry" }] };
  const { bays, tanks } = stationsOf(plane, { id: "b", based_on: "a", bays_out: ["shelf"], tanks_out: ["ferry"] });
  assert.deepEqual([bays, tanks], [[{ id: "hold" }], [{ id: "main" }]]);
});

test("an item goes where it must, never where it must not", () => {
  const kit = { kind: "kit", id: "k", items: [{ id: "pot" }, { id: "axe", not_bays: ["hold"] }, { id: "gas", must_bays: ["shelf"] }] };
  const plan = { trip: { ...trip, kits: ["k"] }, load: trip.loads[0], aeroplane: { bays: [{ id: "hold" }, { id: "shelf" }] }, configuration: {} };
  assert.equal(bayFor(shelf([kit]), plan, kit.items[0]), "hold");
  assert.equal(bayFor(shelf([kit]), plan, kit.items[1]), "shelf");
  assert.equal(bayFor(shelf([kit]), plan, kit.items[2]), "shelf");
  assert.deepEqual(placeChanges(plan, "axe", "shelf")[0].value, { item: "axe", bay: "shelf" });
  assert.equal(fuelChanges({ ...plan, leg: trip.legs[0] }, "main", 0.03)[0].value.origin, "measured");
});

test("another aeroplane carries people, kit and fuel over as far as they go, and gives them back", () => {
  const one = { kind: "aeroplane", id: "one", bays: [{ id: "hold" }], seats: [{ id: "left" }, { id: "right" }], tanks: [{ id: "main", usable: { value: 0.1 } }], configurations: [{ id: "plain" }] };
  const other = { kind: "aeroplane", id: "other", bays: [{ id: "locker" }], seats: [{ id: "front" }], tanks: [{ id: "l", usable: { value: 0.01 } }, { id: "r", usable: { value: 0.01 } }], configurations: [{ id: "c" }] };
  const flown = { ...trip, aeroplane: "one", configuration: "plain" };
  const rest = [{ kind: "person", id: "ann" }, { kind: "person", id: "bob" }, { kind: "kit", id: "k", items: [{ id: "pot" }, { id: "tent" }] }];
  const { changes, memory } = swapped(shelf([one, other, ...rest]), flown, flown.legs[0], "other");
  const after = changes.reduce((document, { pointer, value }) => withValue(document, pointer, value), flown);
  assert.equal(after.aeroplane, "other");
  const load = after.loads.find(({ id }) => id === after.legs[0].load);
  assert.deepEqual(load.seats, [{ seat: "front", person: "ann" }]);
  assert.deepEqual(load.placed.map(({ bay }) => bay), ["locker", null]);
  assert.deepEqual(after.legs[0].fuel.map(({ volume }) => volume.value), [0.01, 0.01], "never more than goes in");
  const back = swapped(shelf([one, other, ...rest]), after, after.legs[0], "one", memory).changes;
  const again = back.reduce((document, { pointer, value }) => withValue(document, pointer, value), after);
  assert.deepEqual({ ...again.legs[0], takeoff_flap: 0, landing_flap: 0, cruise: 0 }, { ...flown.legs[0], takeoff_flap: 0, landing_flap: 0, cruise: 0 });
  assert.equal(again.configuration, "plain");
  // Edited since: the bay that the load of then names is gone, so it is carried over anew.
  const edited = { ...one, bays: [{ id: "shelf" }] };
  const anew = swapped(shelf([edited, other, ...rest]), after, after.legs[0], "one", memory).changes.reduce((document, { pointer, value }) => withValue(document, pointer, value), after);
  assert.deepEqual(anew.loads.find(({ id }) => id === anew.legs[0].load).placed.map(({ bay }) => bay), ["shelf", null]);
});

test("a change of aeroplane chooses nothing that was not chosen before", () => {
  const flaps = [{ id: "up", used_for: ["takeoff", "landing"] }];
  const one = { kind: "aeroplane", id: "one", seats: [], configurations: [{ id: "plain" }] };
  const other = { kind: "aeroplane", id: "other", seats: [], flaps, cruises: [{ id: "usual" }], tanks: [{ id: "l", usable: { value: 0.01 } }], configurations: [{ id: "c" }] };
  const bare = { id: "new", aeroplane: "one", configuration: "plain", loads: [{ id: "load", name: "Load" }], legs: [legOf({ aeroplane: "one", configuration: "plain", from: "s", to: "s" }, "a", "load")] };
  const { changes } = swapped(shelf([one, other]), bare, bare.legs[0], "other");
  const after = changes.reduce((document, { pointer, value }) => withValue(document, pointer, value), bare);
  for (const field of ["fuel", "takeoff_flap", "landing_flap", "cruise"]) assert.equal(after.legs[0][field], undefined, field);
});

test("a leg that is taken away finds its place again by undo", () => {
  const three = { id: "t", legs: [{ id: "a" }, { id: "b" }, { id: "c" }] };
  const changes = removeChanges(three, "legs", "a");
  let document = three;
  const back = [];
  for (const { pointer, value } of changes) {
    back.unshift({ pointer, value: valueAt(document, pointer) });
    document = withValue(document, pointer, value);
  }
  assert.deepEqual(document.legs, [{ id: "b" }, { id: "c" }]);
  assert.deepEqual(back.reduce((one, { pointer, value }) => withValue(one, pointer, value), document), three);
  assert.deepEqual(moveChanges(three, "a", -1), []);
  assert.deepEqual(moveChanges(three, "a", 1)[0].value.map(({ id }) => id), ["b", "a", "c"]);
});

test("another strip takes along nothing of the one before", () => {
  const leg = { id: "a", from_strip: "s", takeoff_direction: "09", to_strip: "s", landing_direction: "27", air_from: "read", air_to: "told", cruise_altitude: 900, wind_aloft: {}, waypoints: [{}] };
  const there = { id: "t", legs: [leg] };
  const after = stripChanges(there, leg, "to", "other").reduce((document, { pointer, value }) => withValue(document, pointer, value), there);
  assert.deepEqual(after.legs[0], { id: "a", from_strip: "s", takeoff_direction: "09", to_strip: "other", air_from: "read" });
});

test("a whole kit comes in one step, less what no bay may take, and stays in one", () => {
  const items = [{ id: "inner" }, { id: "box" }, { id: "pot" }, { id: "tent" }, { id: "gas", not_bays: ["hold", "locker"] }, { id: "axe", must_bays: ["nose"] }, { id: "rope", must_bays: ["locker"] }];
  const aeroplane = { bays: [{ id: "hold" }, { id: "locker" }], seats: [], tanks: [] };
  const load = { id: "out", seats: [], placed: [{ item: "pot", bay: "locker" }, { item: "box", bay: null }, { item: "inner", bay: null, inside: "box" }] };
  const of = (trip) => ({ trip, load: trip.loads[0], leg: {}, aeroplane });
  const plan = of({ id: "week", kits: ["k"], loads: [load], legs: [] });
  const store = shelf([{ kind: "kit", id: "k", items }]);
  const put = ({ trip }, changes) => of(changes.reduce((document, { pointer, value }) => withValue(document, pointer, value), trip));
  const all = wholeChanges(store, plan, items, true);
  assert.deepEqual(all.left.map(({ id }) => id), ["gas", "axe"]);
  const filled = put(plan, all.changes);
  const bays = Object.fromEntries(filled.load.placed.map(({ item, bay }) => [item, bay]));
  assert.deepEqual(bays, { pot: "locker", box: "locker", inner: null, tent: "locker", rope: "locker" });
  assert.equal(filled.load.placed.find(({ item }) => item === "inner").inside, "box", "it comes in its box");
  assert.deepEqual(wholeChanges(store, filled, items, true).changes, []);
  const none = put(filled, wholeChanges(store, filled, items, false).changes);
  assert.ok(none.load.placed.every(({ bay }) => bay === null));
  assert.equal(none.load.placed.find(({ item }) => item === "inner").inside, "box");
});

test("hours and minutes are read where hours are asked", () => {
  assert.equal(readTyped("1:50", "duration", {}), 6600);
  assert.equal(readTyped("0:05", "duration", {}), 300);
  for (const typed of ["1:5", "1:60", "1:", ":50", "1:50:00", "-1:50"]) assert.equal(readTyped(typed, "duration", {}), undefined, typed);
  assert.equal(readTyped("1:50", "time", {}), undefined, "of minutes nobody knows whether it is hours or seconds");
  assert.equal(readTyped("1:50", "length", {}), undefined);
});

test("what is half-typed has a way back to where it stands", () => {
  const there = shelf([{ kind: "trip", id: "week" }, { kind: "air", id: "air-1" }, { kind: "settings", id: "mine" }, { kind: "aeroplane", id: "plane" }]);
  const to = (place) => draftPage(there, place, "week");
  assert.equal(to("notebook/noting/roll"), "#/notebook/new");
  assert.equal(to("notebook/noting/run-2"), "#/notebook/track");
  assert.equal(to("week/legs/a/fuel/main"), "#/load");
  assert.equal(to("week/legs/a/cruise_altitude"), "#/trip/leg");
  assert.equal(to("air-1/qnh"), "#/air");
  assert.equal(to("from/qnh"), "#/air");
  assert.equal(to("mine/reserve/time"), "#/trip/rules");
  assert.equal(to("plane/limits/takeoff"), "#/edit/plane");
});

test("a load suits an aeroplane that has all its seats and bays", () => {
  const all = shelf([{ kind: "person", id: "ann" }, { kind: "kit", id: "k", items: [{ id: "pot" }] }]);
  const plane = { seats: [{ id: "left" }], bays: [{ id: "hold" }] };
  const load = { seats: [{ seat: "left", person: "ann" }], placed: [{ item: "pot", bay: "hold" }] };
  assert.ok(suits(all, load, plane));
  assert.ok(!suits(all, load, { ...plane, bays: [] }));
  assert.ok(!suits(all, load, { ...plane, seats: [] }));
  assert.ok(!suits(shelf([]), load, plane));
  assert.ok(!suits(all, load, undefined));
});

test("what is packed and rides in no bay is not counted", () => {
  const placed = [
    { item: "tent", bay: null, packed: true },
    { item: "pot", bay: "hold", packed: true },
    { item: "lid", bay: null, inside: "pot", packed: true },
    { item: "peg", bay: null, inside: "tent", packed: true },
    { item: "saw", bay: null, packed: false },
    { item: "axe", packed: true },
  ];
  assert.deepEqual(uncounted({ placed }), ["tent", "peg", "axe"]);
  assert.deepEqual(uncounted({}), []);
});

test("a run-up that speaks against going stands until its day is over", () => {
  const read = { at: "2026-11-25T08:05:00+02:00", verdict: "no", tells: true };
  const at = (time) => Date.parse(time);
  const on = (reading, time, leg = "week/a") => doubt({ "week/a": reading }, leg, at(time)) !== undefined;
  assert.ok(on(read, "2026-11-25T08:06:00+02:00"));
  assert.ok(on(read, "2026-11-25T21:00:00+02:00"));
  assert.ok(!on(read, "2026-11-26T00:01:00+02:00"), "another day");
  assert.ok(on({ ...read, at: "2026-11-25T23:50:00+02:00" }, "2026-11-26T00:10:00+02:00"), "midnight alone ends nothing");
  assert.ok(!on(read, "2026-11-25T08:06:00+02:00", "week/b"), "another leg");
  assert.ok(on({ ...read, verdict: "can't say" }, "2026-11-25T08:06:00+02:00"));
  assert.ok(!on({ ...read, verdict: "yes" }, "2026-11-25T08:06:00+02:00"));
  assert.ok(!on({ ...read, verdict: "can't say", tells: false }, "2026-11-25T08:06:00+02:00"), "nothing was told by it");
  assert.equal(doubt(undefined, "week/a"), undefined);
  assert.deepEqual(Object.keys(standing({ a: read, b: { ...read, at: "2026-11-24T08:05:00+02:00" } }, at(read.at))), ["a"]);
});
