// Answers as the core gives them (SI), wholly made up, for the tests of the pictures.
const KNOT = 1852 / 3600;
const DEGREE = Math.PI / 180;

const HOSTILE = "<b>barn</b> & <script>alert(1)</script>";
const LONG = "A line of old poplars by the irrigation ditch, left of the way";

const takeOff = {
  designator: "06",
  bearing: 62 * DEGREE,
  length: 400,
  roll: 115,
  over_50ft: 272,
  factor: 1.33,
  factored: 362,
  abort: { distance: 57, indicated: 32 * KNOT, rule: "speed" },
  obstacles_stated: "listed",
  obstacles: [
    { name: "trees", distance: 60, height: 9, above_start: 12 },
    { name: "Quern Ridge", distance: 1800, height: 120, above_start: 123 },
  ],
  segments: [
    { length: 150, slope: 0.01 },
    { length: 150, slope: 0.035 },
    { length: 100, slope: -0.01 },
  ],
  surface: "grass_short_dry",
  lift_off_indicated: 41 * KNOT,
  wind: {
    by: "sock",
    low: 3 * KNOT,
    high: 13 * KNOT,
    from: 22 * DEGREE,
    headwind: 2.3 * KNOT,
    crosswind: -8 * KNOT,
    fullness: 0.53,
  },
  sources: [
    { name: "Book table", kind: "book_distance", over_50ft: 262, roll: 110, factored: 348 },
    { name: "Own constants", kind: "constants", over_50ft: 272, roll: 115, factored: 362 },
  ],
};
const landing = {
  ...takeOff,
  length: 520,
  air_distance: 130,
  roll: 121,
  over_50ft: 251,
  factor: 1.43,
  factored: 359,
  abort: undefined,
  sources: [],
  segments: [{ length: 520, slope: 0.02 }],
  go_around: { gradient: 0.041, needed: 0.033 },
  approach_indicated: 52 * KNOT,
};
const ten = Array.from({ length: 10 }, (_, i) => ({
  name: ["pylon", LONG, HOSTILE, "hill"][i % 4],
  distance: 20 + i * 14,
  height: 4 + 5 * i,
  clearance: 18 - i * 3,
}));
const states = [
  { state: "loading", mass: 520, arm: 2.05, verdict: "yes", spread: 0 },
  { state: "ramp", mass: 552, arm: 2.012, verdict: "yes", spread: 0.006 },
  { state: "takeoff", mass: 548, arm: 2.011, verdict: "yes", spread: 0.006 },
  { state: "tank_empty", values: { tank: "left wing" }, mass: 532, arm: 2.03, verdict: "yes", spread: 0.006 },
  { state: "landing", mass: 520, arm: 2.06, verdict: "tight", spread: 0.008 },
  { state: "zero_fuel", mass: 500, arm: 2.09, verdict: "no", spread: 0.007 },
  { state: "without", values: { person: HOSTILE }, mass: 430, arm: 1.93, verdict: "can't say", spread: 0.005 },
];
const balances = {
  vertices: [
    [380, 1.85],
    [540, 1.85],
    [600, 1.9],
    [600, 2.08],
    [380, 2.08],
  ].map(([mass, arm]) => ({ mass, arm })),
  states,
  cap: 550,
  takeoff_limit: 600,
};
const bays = {
  bays: [
    {
      id: "a",
      name: "Behind the seats",
      volume_used: 0.118,
      volume: 0.14,
      mass: 31,
      mass_limit: 45,
      longest: 1.1,
      verdict: "yes",
      items: [
        ["Tent", 0.04],
        ["Two sleeping bags", 0.045],
        ["Stove", 0.012],
        ["Iron pot", 0.01],
        ["Kettle", 0.011],
      ].map(([name, volume], i) => ({ id: String(i), name, volume, mass: 2 })),
    },
    {
      id: "b",
      name: "Tail locker",
      volume_used: 0.052,
      volume: 0.03,
      mass: 9,
      mass_limit: 8,
      longest: 0.7,
      verdict: "no",
      items: [
        { id: "1", name: LONG, volume: 0.03, mass: 4 },
        { id: "2", name: "Boots", volume: 0.022, mass: 5 },
      ],
    },
    {
      id: "c",
      name: "Wing locker",
      volume_used: null,
      volume: null,
      mass: null,
      mass_limit: null,
      longest: null,
      verdict: "can't say",
      items: [{ id: "1", name: "Rope", volume: null, mass: null }],
    },
    {
      id: "d",
      name: "Shelf",
      volume_used: 0,
      volume: 0.06,
      mass: 0,
      mass_limit: 12,
      longest: null,
      verdict: "yes",
      items: [],
    },
  ],
  seats: [
    { id: "1", name: "Left front", person: "Mara Quill", verdict: "yes" },
    { id: "2", name: "Right front", person: "Tobin Ashdown", verdict: "no" },
    { id: "3", name: "Rear", person: null, verdict: "yes" },
    { id: "4", name: "Rear right", person: "Ana", verdict: "can't say" },
  ],
};
const climb = {
  gradient: 0.051,
  needed: 0.033,
  strip_length: 400,
  obstacles_stated: "listed",
  points: [
    { distance: 0, height: 0 },
    { distance: 272, height: 15.24 },
    { distance: 2400, height: 124 },
  ],
  obstacles: [
    { name: "trees", distance: 60, height: 9, needed_height: 24, clearance: 9 },
    { name: "Quern Ridge", distance: 1800, height: 60, needed_height: 75, clearance: 48 },
  ],
  valley: { width: 600, needed: 420 },
};
const stack = (parts) => parts.map(([part, litres]) => ({ part, volume: litres === null ? null : litres / 1000 }));
const fuel = {
  fuel: stack([
    ["taxi", 2],
    ["climb", 5],
    ["cruise", 31],
    ["descent", 2],
    ["contingency", 4],
    ["alternate", 0],
    ["reserve", 12],
    ["dip_error", 1],
    ["spare", 11],
  ]),
  usable: 0.08,
  aboard: 0.068,
  distance: 210 * 1852,
  bearing: 62 * DEGREE,
  daylight: {
    departure: "2026-06-01T09:10:00+02:00",
    arrival: "2026-06-01T11:25:00+02:00",
    latest: "2026-06-01T20:02:00+02:00",
    sunset: "2026-06-01T18:32:00Z",
  },
};

const emptied = (picture) => Object.fromEntries(Object.keys(picture).map((key) => [key, null]));
const asked = (question, picture, changes = {}) => ({
  question,
  verdict: "tight",
  measures: [{ name: "go_around" }],
  picture: { ...picture, ...changes },
});

/** By name. @type {Record<string, any>} */
export const CASES = {
  "take-off": asked("lifts_off", takeOff),
  "take-off, past the end": asked("lifts_off", takeOff, {
    length: 330,
    factored: 440,
    over_50ft: 331,
    roll: 160,
    abort: { distance: 80, indicated: null, rule: "tail_up" },
    wind: {
      by: "measured",
      low: 6 * KNOT,
      high: 12 * KNOT,
      from: 200 * DEGREE,
      headwind: -9 * KNOT,
      crosswind: 8 * KNOT,
      fullness: null,
    },
  }),
  "take-off, far past the end": asked("lifts_off", takeOff, {
    length: 200,
    factored: 1900,
    over_50ft: 1430,
    roll: 700,
    abort: { distance: 57, indicated: null, rule: "airborne_by" },
    obstacles: [],
    obstacles_stated: "none",
    wind: { by: "calm", low: 0, high: 0, from: null, headwind: 0, crosswind: 0, fullness: null },
  }),
  "take-off, full sock from behind": asked("lifts_off", takeOff, {
    wind: { by: "sock", low: 15 * KNOT, high: null, from: 222 * DEGREE, headwind: null, crosswind: null, fullness: 1 },
  }),
  "take-off, ten obstacles": asked("lifts_off", takeOff, {
    obstacles: ten,
    segments: Array.from({ length: 10 }, (_, i) => ({ length: 40, slope: (i - 4) / 100 })),
  }),
  "take-off, long strip": asked("lifts_off", takeOff, {
    length: 2000,
    segments: [{ length: 2000, slope: 0 }],
    obstacles: [],
  }),
  "take-off, nothing known": asked("lifts_off", emptied(takeOff)),
  "take-off, never": {
    ...asked("lifts_off", takeOff, { roll: null, over_50ft: null, factored: null, abort: null, sources: [] }),
    measures: [{ name: "takeoff_distance", needed: null, available: 400, verdict: "no" }],
  },
  landing: asked("stops", landing),
  "landing, past the end": asked("stops", landing, {
    length: 300,
    go_around: null,
    wind: { by: "assumed", low: 0, high: 2.57, from: null, headwind: -2.57, crosswind: 0 },
  }),
  "landing, nothing known": asked("stops", emptied(landing)),
  balance: asked("balances", balances),
  "balance, all in one place": asked("balances", balances, {
    states: states.map((s, i) => ({ ...s, mass: 540 + i / 10, arm: 2, spread: 0.03 })),
  }),
  "balance, nothing known": asked("balances", emptied(balances)),
  bays: asked("fits", bays),
  "names as bad as they come": asked("fits", bays, {
    bays: bays.bays.map((b) => ({
      ...b,
      name: HOSTILE,
      items: b.items.map((i) => ({ ...i, name: `<i onerror=x>${LONG}` })),
    })),
    seats: bays.seats.map((s) => ({ ...s, name: LONG, person: HOSTILE })),
  }),
  "bays, nothing known": asked("fits", emptied(bays)),
  climb: asked("climbs_out", climb),
  "climb, ten obstacles": asked("climbs_out", climb, {
    gradient: 0.021,
    obstacles: ten.map((o) => ({ ...o, distance: o.distance * 12, needed_height: o.height + 15 })),
    valley: { width: 300, needed: 520 },
  }),
  "climb, sinking": asked("climbs_out", climb, { gradient: -0.01, points: [], valley: null }),
  "climb, nothing known": asked("climbs_out", emptied(climb)),
  fuel: asked("reaches", fuel),
  "fuel, short": asked("reaches", fuel, {
    fuel: stack([
      ["taxi", 2],
      ["climb", 5],
      ["cruise", 51],
      ["descent", 2],
      ["contingency", 6],
      ["alternate", 9],
      ["reserve", 12],
      ["dip_error", 0],
      ["spare", -14],
    ]),
    aboard: 0.073,
    usable: 0.073,
    bearing: null,
    daylight: { ...fuel.daylight, departure: "2026-06-01T19:10:00+02:00", arrival: "2026-06-01T20:25:00+02:00" },
  }),
  "fuel, half known": asked("reaches", fuel, {
    fuel: stack([
      ["taxi", 2],
      ["climb", null],
      ["cruise", null],
      ["reserve", 12],
      ["spare", null],
    ]),
    daylight: { ...fuel.daylight, arrival: null },
  }),
  "fuel, nothing known": asked("reaches", emptied(fuel)),
};

/** Any of the pictures with figures between nothing and far too much, and some of them missing. */
export function anyAnswer(random) {
  const names = Object.keys(CASES).filter((name) => !/nothing|names/.test(name));
  const { question, picture } = CASES[names[Math.floor(random() * names.length)]];
  const factor = () => 10 ** (random() * 1.6 - 0.8);
  const stir = (value, key) => {
    if (typeof value === "number") return random() < 0.08 ? null : random() < 0.3 ? value : value * factor();
    if (Array.isArray(value)) return value.filter(() => random() < 0.9).map((v) => stir(v, key));
    if (value && typeof value === "object") {
      return Object.fromEntries(Object.entries(value).map(([k, v]) => [k, stir(v, k)]));
    }
    return key === "verdict" ? ["no", "can't say", "tight", "yes"][Math.floor(random() * 4)] : value;
  };
  return { question, verdict: "no", measures: [], picture: stir(picture, "") };
}
