// Reads what it is given on standard input, so that a test can hold it against the core's own reading.
import { readFileSync } from "node:fs";

import { parse } from "../src/forms/reading.js";

const read = ([text, si]) => {
  try {
    return parse(text, si);
  } catch {
    return null;
  }
};
console.log(JSON.stringify(JSON.parse(readFileSync(0, "utf8")).map(read)));
