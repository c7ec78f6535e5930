// Forms without a browser: figures as they are typed, tables as they are pasted, what of a document is whole.
import assert from "node:assert/strict";
import { test } from "node:test";

import { freshId, shownAs } from "../src/forms/layout.js";
import { Odd, moved, rowsFrom, tableFrom } from "../src/forms/paste.js";
import { lineRead, understood, withBulk } from "../src/forms/quick.js";
import { display, parse, read, shortest } from "../src/forms/reading.js";
import { fieldOf, fieldsOf } from "../src/forms/schema.js";
import { Sketches } from "../src/forms/sketches.js";
import { applied, differences, lacking, wholePart } from "../src/forms/whole.js";
import { byArm } from "../src/forms/drawings/envelope.js";

const MASS = { si: "kg", low: 0, high: 20000, above: true };
const LENGTH = { si: "m", low: 0, high: 20000, above: true };
const figure = (value, typed) => ({ value, origin: "measured", ...(typed ? { typed } : {}) });

test("what was typed is kept to the letter, with its unit, and says the value exactly", () => {
  assert.deepEqual(read("138,60", MASS, "kg"), { value: 138.6, typed: "138,60 kg", unit: "kg" });
  assert.deepEqual(read("305.5 lb", MASS, "kg"), { value: parse("305.5 lb", "kg"), typed: "305.5 lb", unit: "lb" });
  assert.deepEqual(read("−880", { si: "m" }, "mm"), { value: parse("-880 mm", "m"), typed: "-880 mm", unit: "mm" });
  assert.deepEqual(read("0.90", { si: "1" }, "1"), { value: 0.9, typed: "0.90", unit: "1" });
  assert.equal(read("12 500", MASS, "kg").value, 12500);
});

test("a field shows the letters that were typed in their own unit, and the value in any other", () => {
  const { value, typed } = read("138,60", MASS, "kg");
  assert.equal(display(value, typed, "kg", "kg"), "138,60");
  const pounds = display(value, typed, "kg", "lb");
  assert.ok(Math.abs(Number(pounds) - 305.56) < 0.01);
  assert.equal(display(value, typed, "kg", "kg"), "138,60", "back again nothing is lost");
  assert.equal(display(139, typed, "kg", "kg"), "139", "letters that say another value don't count");
});

test("the shortest decimal of a value is that which was typed", () => {
  for (const [number, symbol, si] of [["31.7", "ft", "m"], ["84", "kt", "m/s"], ["22", "L/h", "m³/s"], ["-40", "degF", "K"], ["29.92", "inHg", "Pa"], ["12.25", "gal", "m³"]]) {
    assert.equal(shortest(parse(`${number} ${symbol}`, si), symbol), number);
  }
});

test("a comma before three digits is not guessed at", () => {
  for (const typed of ["1,200", "12,500 ft", "-1,200"]) assert.equal(read(typed, { si: "m" }, "m").problem.text, "form.wrong.comma");
  assert.equal(read("0,125", { si: "m" }, "m").value, 0.125);
  assert.equal(read("1,25", { si: "m" }, "m").value, 1.25);
});

test("what is impossible is refused in the unit that was typed", () => {
  assert.deepEqual(read("0", MASS, "lb").problem, { text: "form.wrong.above", values: { low: "0 lb" } });
  assert.equal(read("20001", MASS, "kg").problem.values.high, "20000 kg");
  for (const typed of ["", "2o", "1.2.3", "NaN", "Infinity", "1e999", "0x10", "12 furlong", "12 kt"]) assert.ok(read(typed, MASS, "kg").problem, typed);
});

test("fields are shown in the unit that suits them", () => {
  assert.equal(shownAs(fieldOf("Seat", "arm")), "arm");
  assert.equal(shownAs(fieldOf("Bay", "length")), "short");
  assert.equal(shownAs(fieldOf("Ground", "length")), "length");
  assert.equal(shownAs(fieldOf("FlapSetting", "lift_off_factor")), "factor");
  assert.equal(shownAs(fieldOf("Bay", "packing_fraction")), "ratio");
});

test("the schema's fields are read by their kinds", () => {
  const kinds = (cls) => Object.fromEntries(fieldsOf(cls).map(({ name, kind }) => [name, kind]));
  assert.deepEqual(kinds("Seat"), { name: "text", arm: "figure", mass_limit: "figure", height_sits_well: "figure", height_fits: "figure", width: "figure", bench: "text", controls: "yesno", takes: "ticks" });
  const { weighing, based_on, changes, bays_out } = kinds("Configuration");
  assert.deepEqual([weighing, based_on, changes, bays_out], ["union", "id", "list", "ids"]);
  const table = kinds("DistanceTable");
  assert.deepEqual([table.source, table.mass_axis, table.roll, table.phase], ["tag", "numbers", "grid", "choice"]);
});

// --- pasting ---------------------------------------------------------------------------------------------

const columns = {
  mass: { quantity: MASS, unit: "kg" },
  altitude: { quantity: { si: "m" }, unit: "ft" },
  temperature: { quantity: { si: "K" }, unit: "degC" },
  value: { quantity: LENGTH, unit: "m" },
};

test("a table is read whatever parts its cells, its axes with it", () => {
  const ways = ["600\t0\t20\n0\t300\t330\n2000\t350\t\n", "600;0;20\r\n0;300;330\r\n2000;350;-\r\n", '"600",0,20\n0,300,330\n2000,350,\n'];
  for (const text of ways) {
    const { mass_axis, altitude_axis, temperature_axis, grid } = tableFrom(text, columns, undefined);
    assert.deepEqual(mass_axis, [600]);
    assert.deepEqual(altitude_axis, [0, 2000 * 0.3048]);
    assert.deepEqual(temperature_axis, [273.15, 293.15]);
    assert.deepEqual(grid, [[[300, 330], [350, null]]]);
  }
});

test("a decimal comma counts where cells are parted by tabs or semicolons", () => {
  assert.deepEqual(tableFrom("600;0\n0;312,5\n", columns, undefined).grid, [[[312.5]]]);
});

test("tables of several masses come in rising order, also when they were given falling", () => {
  const text = "600\t20\t0\n2000\t4\t3\n0\t2\t1\n\n500\t20\t0\n2000\t40\t30\n0\t20\t10\n";
  const { mass_axis, altitude_axis, temperature_axis, grid } = tableFrom(text, columns, undefined);
  assert.deepEqual([mass_axis, altitude_axis[0], temperature_axis], [[500, 600], 0, [273.15, 293.15]]);
  assert.deepEqual(grid, [[[10, 20], [30, 40]], [[1, 2], [3, 4]]]);
});

test("a table that can't be meant is refused with its place", () => {
  const told = (text, mass) => {
    try {
      tableFrom(text, columns, mass);
    } catch (odd) {
      assert.ok(odd instanceof Odd);
      return [odd.said.values.row, odd.said.values.column, odd.said.values.why.text];
    }
    return undefined;
  };
  assert.deepEqual(told("600\t0\n0\too\n"), ["2", "2", "form.wrong.number"]);
  assert.deepEqual(told("600\t0\n0\t1,200\n"), ["2", "2", "form.wrong.comma"]);
  assert.deepEqual(told("600\t0\n0\t1.200\n"), ["2", "2", "form.wrong.comma"]);
  assert.deepEqual(told("h\t0\n0\t300\n"), ["1", "1", "form.paste.no_mass"]);
  assert.deepEqual(told("600\t0\t0\n0\t3\t4\n"), ["1", "2", "form.paste.twice"]);
  assert.deepEqual(told("600\t0\n0\t3\n\n500\t10\n0\t2\n"), ["4", "1", "form.paste.unlike"]);
  assert.deepEqual(told("600\n"), ["1", "1", "form.paste.no_axes"]);
  assert.equal(told("h\t0\n0\t300\n", 550), undefined);
});

test("rows of figures may have headings", () => {
  const two = [{ quantity: MASS, unit: "kg" }, { quantity: { si: "m" }, unit: "mm" }];
  assert.deepEqual(rowsFrom("mass\tarm\n340\t225\n600\t450\n", two), [[340, parse("225 mm", "m")], [600, 0.45]]);
  assert.throws(() => rowsFrom("340\n", two), Odd);
});

test("on other axes figures stay where they were, and the rest is not known", () => {
  assert.deepEqual(moved([[[1, 2]]], [[600], [0], [10, 20]], [[500, 600], [0], [20, 30]]), [[[null, null]], [[2, null]]]);
});

// --- lines and ids ---------------------------------------------------------------------------------------

test("a line is a name, a mass and a bulk", () => {
  assert.deepEqual(lineRead("Tent, 3.2, 12", {}, "measured"), { name: "Tent", mass: figure(3.2, "3.2 kg"), volume: { value: parse("12 L", "m³"), origin: "measured", typed: "12 L" } });
  assert.deepEqual(lineRead("Stove; 1,5 lb", {}, "measured").mass.typed, "1,5 lb");
  assert.deepEqual(lineRead("Rope", {}, "measured"), { name: "Rope" });
  assert.ok(lineRead("Pan, many", {}, "measured").problem);
  assert.ok(lineRead(", 3", {}, "measured").problem);
});

test("a figure with its unit is read at the end of a name too", () => {
  const said = (line) => {
    const { name, mass, volume } = lineRead(line, {}, "estimated");
    return [name, mass?.value, volume?.typed];
  };
  assert.deepEqual(said("Wren's camera bag 3 kg"), ["Wren's camera bag", 3, undefined]);
  assert.deepEqual(said("Tent 3kg"), ["Tent", 3, undefined]);
  assert.deepEqual(said("Tent 3.2 kg 20 L"), ["Tent", 3.2, "20 L"]);
  assert.deepEqual(said("Tent 20 L 3.2 kg"), ["Tent", 3.2, "20 L"]);
  assert.deepEqual(said("Tent 3 kg, 20"), ["Tent", 3, "20 L"]);
  assert.deepEqual(said("Tent 3 kg, 20 L"), ["Tent", 3, "20 L"]);
  assert.deepEqual(said("Tent 20 L, 3"), ["Tent", 3, "20 L"]);
  assert.deepEqual(said("Tent, 20 L"), ["Tent", undefined, "20 L"]);
  assert.deepEqual(said("Tent (3 kg)"), ["Tent", 3, undefined]);
  assert.deepEqual(said("Rope 20 m"), ["Rope 20 m", undefined, undefined]);
  assert.deepEqual(said("Type 2 radio"), ["Type 2 radio", undefined, undefined]);
  assert.deepEqual(said("Battery B12"), ["Battery B12", undefined, undefined]);
  assert.deepEqual(said("3 kg"), ["3 kg", undefined, undefined]);
  assert.equal(lineRead("Tent 3,2 kg", {}, "measured").problem.text, "form.quick.comma");
  assert.deepEqual(said("Radio 2, 3"), ["Radio 2", 3, undefined]);
  assert.deepEqual(said("Tent 3,2 kg; 20"), ["Tent", 3.2, "20 L"]);
  assert.ok(lineRead("Tent -3 kg", {}, "measured").problem);
  assert.ok(lineRead("Tent 3 kg, 20 L, 4", {}, "measured").problem);
});

test("what was understood of a line is said again", () => {
  const what = (line, origin, bulky = true) => understood(lineRead(line, {}, origin), {}, bulky).values.what.replaceAll("\u00a0", " ");
  assert.equal(what("Bag 3 kg 20 L", "measured"), "3.0 kg, 20 L");
  assert.equal(what("Bag 3 kg 20 L", "estimated"), "3.0 kg guessed, 20 L guessed");
  assert.equal(what("Bag", "measured"), "no weight given, no bulk given");
  assert.equal(what("Wren", "measured", false), "no weight given");
});

test("a name and a guess of the weight will do: the bulk is guessed, as such, and never where it was given", () => {
  const { mass, volume } = withBulk(lineRead("Waders 3 kg", {}, "measured"));
  assert.equal(mass.origin, "measured");
  assert.equal(volume.origin, "estimated");
  assert.ok(volume.value > 0.01 && volume.value < 0.03 && volume.sd > 0.2 * volume.value, "litres, and wide");
  assert.equal(withBulk(lineRead("Waders 3 kg 7 L", {}, "measured")).volume.value, parse("7 L", "m³"));
  assert.equal(withBulk(lineRead("Waders", {}, "measured")).volume, undefined, "of a name alone nothing is guessed");
  assert.equal(understood(withBulk(lineRead("Waders 3 kg", {}, "measured")), {}, true).values.what.replaceAll("\u00a0", " "), "3.0 kg, 18 L guessed");
});

test("an id is made of the name, and is never there twice", () => {
  assert.equal(freshId("Führer’s Seat", []), "fuhrer-s-seat");
  assert.equal(freshId("Left", ["left", "left-2"]), "left-3");
  assert.match(freshId("§§", []), /^[A-Za-z0-9]/);
});

// --- whole and half --------------------------------------------------------------------------------------

const strip = {
  version: 1,
  kind: "strip",
  id: "s",
  name: "S",
  ground: { length: figure(600) },
  directions: [{ id: "06", designator: "06", bearing: 1, along: "forward", use: "both", departure: { state: "listed", obstacles: [{ id: "tree", name: "Tree", distance: figure(90), height: figure(9) }] } }],
};
const put = (document, pointer, value, typed) => applied(document, { document: "s", pointer, value, typed });

test("a new element counts when it is whole, and what was there counts until then", () => {
  const half = put(strip, "/directions/24", { id: "24", designator: "24" });
  assert.deepEqual(wholePart(half, strip), { ...strip });
  assert.deepEqual(lacking(half), ["/directions/24/bearing", "/directions/24/along", "/directions/24/use"]);
  let done = half;
  for (const [name, value] of [["bearing", 4], ["along", "reverse"], ["use", "landing"]]) done = put(done, `/directions/24/${name}`, value);
  assert.deepEqual(differences(strip, wholePart(done, strip)).map(({ pointer }) => pointer), ["/directions/24"]);
});

test("obstacles that are being said to be none stay listed until somebody says it", () => {
  const half = put(strip, "/directions/06/departure", { state: "none", at: "2026-11-25T08:00:00+00:00" });
  assert.deepEqual(wholePart(half, strip).directions, strip.directions);
  const said = put(half, "/directions/06/departure/said_by", "Wren");
  assert.deepEqual(differences(strip, wholePart(said, strip)), [{ document: "s", pointer: "/directions/06/departure", value: { state: "none", at: "2026-11-25T08:00:00+00:00", said_by: "Wren" } }]);
});

test("a needed field that is emptied keeps what was stored", () => {
  const emptied = put(strip, "/ground/length", undefined);
  assert.deepEqual(wholePart(emptied, strip).ground, strip.ground);
  assert.deepEqual(lacking(emptied), ["/ground/length"]);
});

test("a list without names waits as a whole for its half row", () => {
  const half = put(strip, "/ground/segments", [{ length: 600, slope: 0.01 }, { length: 10 }]);
  assert.equal(wholePart(half, strip).ground.segments, undefined);
  const changed = put({ ...strip, ground: { ...strip.ground, segments: [{ length: 600, slope: 0 }] } }, "/ground/segments", [{}]);
  assert.equal(wholePart(changed, strip).ground.segments, undefined);
});

test("a new document counts when it is whole", () => {
  const begun = { version: 1, kind: "strip", id: "s", name: "S", ground: {}, directions: [] };
  assert.equal(wholePart(begun, undefined), undefined);
  assert.deepEqual(lacking(begun), ["/ground/length", "/directions"]);
  assert.deepEqual(differences(undefined, strip), [{ document: "s", pointer: "", value: strip }]);
});

test("what was typed for a plain number goes with it, while it says it", () => {
  const turned = put(strip, "/directions/06/bearing", parse("76 deg", "rad"), { "": "76 deg" });
  assert.deepEqual(differences(strip, turned), [{ document: "s", pointer: "/directions/06/bearing", value: parse("76 deg", "rad"), typed: { "": "76 deg" } }]);
  const other = { ...turned, directions: [{ ...turned.directions[0], bearing: 2 }] };
  assert.equal(differences(strip, other)[0].typed, undefined);
});

test("an edit of what is no longer there changes nothing", () => {
  assert.equal(put(strip, "/directions/24/bearing", 2), strip);
  assert.equal(put(strip, "/directions/06/departure/said_by", "x"), strip);
});

// --- on their way into the store -------------------------------------------------------------------------

class FakeStore {
  sketches = {};
  drafts = {};
  version = 0;
  edits = [];
  constructor(...documents) {
    this.documents = new Map(documents.map((one) => [one.id, one]));
  }
  get(id) {
    return this.documents.get(id);
  }
  texts() {
    return [...this.documents.values()].map((one) => JSON.stringify(one));
  }
  sketch(id, changes) {
    this.sketches = { ...this.sketches, [id]: changes };
    if (!changes.length) delete this.sketches[id];
  }
  draft() {}
  edit(changes) {
    this.edits.push(changes.map(({ pointer }) => pointer));
    for (const change of changes) this.documents.set(change.document, applied(this.documents.get(change.document), change));
    this.version += 1;
  }
}
/** A core that refuses what `wrong` finds a path and words for. */
const coreThat = (wrong) => ({
  ready: Promise.resolve(),
  asked: 0,
  async ask(_, { documents }) {
    this.asked += 1;
    const refusal = wrong(documents.map((text) => JSON.parse(text)));
    if (refusal) throw refusal;
    return { ok: true };
  },
});
const settled = async (sketches) => {
  for (let i = 0; i < 50; i++) await Promise.resolve();
  await sketches.settle();
};

test("what is whole is stored by its field, and nothing is left of the sketch", async () => {
  const store = new FakeStore(strip);
  const sketches = new Sketches(store, coreThat(() => undefined));
  sketches.put("s", [{ pointer: "/ground/width", value: figure(18, "18 m") }]);
  await settled(sketches);
  assert.deepEqual(store.edits, [["/ground/width"]]);
  assert.deepEqual(store.sketches, {});
});

test("what is not whole yet of a new document stays when the rest of it is stored", async () => {
  const store = new FakeStore();
  const sketches = new Sketches(store, coreThat(() => undefined));
  const [first] = strip.directions;
  sketches.put("s", [{ pointer: "", value: { ...strip, directions: [] } }]);
  await settled(sketches);
  for (const id of ["06", "24"]) {
    sketches.put("s", [{ pointer: `/directions/${id}`, value: { id, designator: id } }]);
    await settled(sketches);
  }
  assert.equal(store.get("s"), undefined, "it has no direction that is whole");
  sketches.put("s", [{ pointer: "/directions/06", value: { ...first, id: "06" } }]);
  await settled(sketches);
  assert.deepEqual(store.get("s").directions.map(({ id }) => id), ["06"]);
  assert.deepEqual(sketches.work("s").directions.map(({ id }) => id), ["06", "24"], "nothing typed is lost");
  assert.ok(sketches.open("s").some(({ pointer }) => pointer.startsWith("/directions/24/")));
});

test("what the core refuses is not stored, is said at its place, and the rest is stored", async () => {
  const store = new FakeStore(strip);
  const core = coreThat(([one]) => one.ground.width && { path: "/documents/0/ground/width", message: "width: no.", code: "impossible" });
  const sketches = new Sketches(store, core);
  sketches.put("s", [{ pointer: "/ground/width", value: figure(18) }]);
  sketches.put("s", [{ pointer: "/code", value: "SP" }]);
  await settled(sketches);
  assert.equal(store.get("s").code, "SP");
  assert.equal(store.get("s").ground.width, undefined);
  assert.equal(sketches.wrongAt("s", "/ground/width"), "width: no.");
  assert.deepEqual(sketches.work("s").ground.width, figure(18), "what was typed stays");
  const { asked } = core;
  await settled(sketches);
  assert.equal(core.asked, asked, "it is not asked about again as it stands");
});

test("what something else rests on comes back, with the reason", async () => {
  const other = { version: 1, kind: "person", id: "p", name: "P" };
  const store = new FakeStore(other, strip);
  const gone = ([, one]) => one && !one.directions.length && { path: "/documents/0/name", message: "There is no direction.", code: "inconsistent" };
  const sketches = new Sketches(store, coreThat(gone));
  const two = put(strip, "/directions/24", { ...strip.directions[0], id: "24" });
  store.documents.set("s", two);
  const used = ([, one]) => one && !one.directions.some(({ id }) => id === "06") && { path: "/documents/0/name", message: "There is no direction.", code: "inconsistent" };
  const picky = new Sketches(store, coreThat(used));
  picky.put("s", [{ pointer: "/directions/06", value: undefined }]);
  await settled(picky);
  assert.deepEqual(store.edits, []);
  assert.deepEqual(picky.work("s").directions.map(({ id }) => id).sort(), ["06", "24"]);
  assert.equal(picky.wrongAt("s", "/directions/06"), "There is no direction.");
  assert.ok(sketches);
});

test("a core that is not up leaves the sketch where it is", async () => {
  const store = new FakeStore(strip);
  const sketches = new Sketches(store, { ready: Promise.reject(new Error("no")), ask: async () => assert.fail("not asked") });
  sketches.put("s", [{ pointer: "/code", value: "SP" }]);
  await settled(sketches);
  assert.deepEqual(store.edits, []);
  assert.equal(sketches.work("s").code, "SP");
  assert.equal(sketches.waiting, "fault");
});

test("an envelope by moment is drawn as it lies in mass and arm", () => {
  const corners = [
    { mass: 400, across: 100 },
    { mass: 600, across: 240 },
    { mass: 600, across: 270 },
  ];
  const drawn = byArm(corners);
  for (const { mass, across } of corners) assert.ok(drawn.some((one) => one.mass === mass && one.arm === across / mass));
  // half way along the first edge: 170 kg m over 500 kg, where a straight line by arm would say 0.325 m
  assert.ok(drawn.some((one) => one.mass === 500 && Math.abs(one.arm - 0.34) < 1e-12));
  assert.deepEqual(byArm([{ mass: 0, across: 0 }, { mass: 0, across: 0 }]), []);
});
