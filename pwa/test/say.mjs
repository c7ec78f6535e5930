// Renders what it is given on standard input, so that a test can hold it against the core's own rendering.
import { readFileSync } from "node:fs";

import { say, shown } from "../src/text.js";

const { figures, messages } = JSON.parse(readFileSync(0, "utf8"));
console.log(
  JSON.stringify({
    figures: figures.map(([value, dimension, chosen]) => shown(value, dimension, chosen)),
    messages: messages.map(([message, chosen]) => say(message, chosen)),
  }),
);
