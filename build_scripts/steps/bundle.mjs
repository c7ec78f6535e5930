// Bundles the shell: `node bundle.mjs SETTINGS`, SETTINGS being JSON {dist, policy, header, built}.
// Prints JSON [package folder, ...]: the npm packages of which something was shipped.
import { copyFileSync, mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { join, relative } from "node:path";
import { fileURLToPath } from "node:url";

const pwa = fileURLToPath(new URL("../../pwa/", import.meta.url));
const require = createRequire(join(pwa, "package.json"));
const esbuild = require("esbuild");
const { dist, policy, header, built } = JSON.parse(process.argv[2]);
const pyodide = require("pyodide/package.json").version;

const common = {
  absWorkingDir: pwa,
  bundle: true,
  minify: true,
  charset: "utf8",
  target: ["es2022"],
  outdir: dist,
  legalComments: "none", // gathered in licences.txt instead
  metafile: true,
  logLevel: "silent",
  loader: { ".woff2": "file" },
  assetNames: "fonts/[name]",
  define: { TUSSOCK_POLICY: JSON.stringify(header), TUSSOCK_BUILT: JSON.stringify(built), TUSSOCK_PYODIDE: JSON.stringify(pyodide) },
};

const results = [
  await esbuild.build({
    ...common,
    format: "esm",
    splitting: true,
    chunkNames: "chunks/[name]-[hash]",
    entryPoints: [
      { in: "src/app.js", out: "app" },
      { in: "src/styles/app.css", out: "app" },
    ],
  }),
  // The workers stand alone: a chunk shared with the page would have to be there before they start.
  await esbuild.build({
    ...common,
    format: "esm",
    entryPoints: [
      { in: "src/worker/worker.js", out: "worker" },
      { in: "src/worker/solver.js", out: "solver" },
    ],
  }),
  // A classic script, since not every engine starts a service worker that is a module.
  await esbuild.build({ ...common, format: "iife", entryPoints: [{ in: "src/sw.js", out: "sw.plain" }] }),
];

const warnings = results.flatMap((result) => result.warnings);
if (warnings.length) {
  console.error(await esbuild.formatMessages(warnings, { kind: "warning" }).then((lines) => lines.join("\n")));
  process.exit(1);
}

const html = readFileSync(join(pwa, "index.html"), "utf8");
if (!html.includes("%POLICY%")) throw new Error("index.html has no place for the policy");
mkdirSync(dist, { recursive: true });
writeFileSync(join(dist, "index.html"), html.replace("%POLICY%", policy));
writeFileSync(join(dist, "manifest.webmanifest"), readFileSync(join(pwa, "manifest.webmanifest")));

// The packing solver as it is published: its worker loads it when something is to be packed.
mkdirSync(join(dist, "solver"), { recursive: true });
for (const name of ["highs.mjs", "highs.wasm"]) copyFileSync(join(pwa, "node_modules", "highs", "build", name), join(dist, "solver", name));

const shipped = new Set(["highs"]);
for (const { metafile } of results) {
  for (const [name, output] of Object.entries(metafile.outputs)) {
    for (const input of Object.keys(output.inputs)) {
      const match = /node_modules\/((?:@[^/]+\/)?[^/]+)\//.exec(input);
      if (match) shipped.add(match[1]);
    }
    if (!name) throw new Error("an output without a name");
  }
}
console.log(JSON.stringify([...shipped].sort().map((name) => relative(pwa, join(pwa, "node_modules", name)))));
