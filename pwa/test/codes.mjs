// Texts in as JSON from standard input; each through its codes as a camera sees them: turned, in perspective, blurred,
// noisy. Out: for each text how many codes it took, how many were read, and whether the text that came out is the same.
import { readFileSync } from "node:fs";
import decode from "qr/decode.js";
import { squaresOf } from "../src/parts/code.js";
import { addressOf, partIn, partsOf, textOf } from "../src/state/wire.js";
import { randomNumbers } from "./random.mjs";

globalThis.location = /** @type {any} */ ({ origin: "https://tussock.example", pathname: "/" });
const { texts, seed } = JSON.parse(readFileSync(0, "utf8"));
const chance = randomNumbers(seed);

/** A picture of a code: `side` pixels wide, the code turned and seen aslant. @param {boolean[][]} rows */
function photograph(rows) {
  const size = rows.length;
  const side = Math.round(size * (6 + 2 * chance()));
  const angle = (chance() - 0.5) * 0.3;
  const [across, along] = [(chance() - 0.5) * 0.12, (chance() - 0.5) * 0.12];
  const [cos, sin] = [Math.cos(angle), Math.sin(angle)];
  const light = new Float64Array(side * side).fill(0.8);
  for (let y = 0; y < side; y++)
    for (let x = 0; x < side; x++) {
      const [u, v] = [x / side - 0.5, y / side - 0.5];
      const w = 1 + across * u + along * v;
      const [p, q] = [((cos * u - sin * v) * 1.25) / w + 0.5, ((sin * u + cos * v) * 1.25) / w + 0.5];
      const [i, j] = [Math.floor(p * size), Math.floor(q * size)];
      if (i >= 0 && j >= 0 && i < size && j < size) light[y * side + x] = rows[j][i] ? 0.15 : 0.85;
    }
  const data = new Uint8ClampedArray(side * side * 4).fill(255);
  for (let y = 0; y < side; y++)
    for (let x = 0; x < side; x++) {
      let sum = 0;
      let n = 0;
      for (let b = Math.max(0, y - 1); b <= Math.min(side - 1, y + 1); b++)
        for (let a = Math.max(0, x - 1); a <= Math.min(side - 1, x + 1); a++, n++) sum += light[b * side + a];
      const grain = (chance() + chance() - 1) * 0.16;
      const grey = 255 * (sum / n + grain) * (0.85 + (0.15 * x) / side);
      data.fill(grey, (y * side + x) * 4, (y * side + x) * 4 + 3);
    }
  return { width: side, height: side, data };
}

/** A camera takes many pictures: a few of them. @param {string} address */
function read(address) {
  const rows = squaresOf(address);
  for (let take = 0; take < 6; take++) {
    try {
      return decode(photograph(rows), { timeLimit: 2000 });
    } catch {
      // blurred too much: the next one
    }
  }
  return "";
}

const found = [];
for (const text of texts) {
  const parts = await partsOf(text);
  const seen = parts.map((part) => partIn(read(addressOf(part)))).filter((part) => part !== undefined);
  const whole = seen.length === parts.length ? await textOf(seen.reverse()).catch((problem) => problem.message) : "";
  const [first, ...rest] = seen;
  const spoilt = first && { ...first, data: first.data.slice(0, -2) + (first.data.endsWith("AA") ? "BB" : "AA") };
  const damaged = spoilt ? await textOf([spoilt, ...rest]).then(() => "taken", (problem) => problem.message) : "";
  found.push({ codes: parts.length, read: seen.length, same: whole === text, damaged });
}
console.log(JSON.stringify(found));
