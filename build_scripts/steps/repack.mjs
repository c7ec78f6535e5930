// Starts Pyodide in Node and lets repack.py rewrite archives: `node repack.mjs JOBS`, JOBS being JSON
// [[source, target], ...] with absolute paths.
import { mkdirSync, readFileSync, renameSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { basename, dirname } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";

const here = dirname(fileURLToPath(import.meta.url));
const require = createRequire(new URL("../../pwa/package.json", import.meta.url));
const { loadPyodide } = await import(pathToFileURL(require.resolve("pyodide/pyodide.mjs")).href);

/** @type {[string, string][]} */
const jobs = JSON.parse(process.argv[2]);
const pyodide = await loadPyodide();
pyodide.FS.mkdirTree("/in");
pyodide.FS.mkdirTree("/out");
pyodide.FS.writeFile("/in/repack.py", readFileSync(`${here}/repack.py`));
pyodide.runPython("import sys; sys.path.insert(0, '/in')");
const repack = pyodide.pyimport("repack");
for (const [source, target] of jobs) {
  const name = basename(source);
  pyodide.FS.writeFile(`/in/${name}`, readFileSync(source));
  repack.repack(`/in/${name}`, `/out/${name}`);
  const members = repack.check(`/out/${name}`);
  mkdirSync(dirname(target), { recursive: true });
  // Under another name first: what stands in the cache under its own is whole.
  writeFileSync(`${target}.${process.pid}`, pyodide.FS.readFile(`/out/${name}`));
  renameSync(`${target}.${process.pid}`, target);
  pyodide.FS.unlink(`/in/${name}`);
  pyodide.FS.unlink(`/out/${name}`);
  console.log(`${name}: ${members} files`);
}
process.exit(0);
