// The bare start, for comparison: Pyodide as it is published, NumPy and pydantic loaded and imported, nothing of ours.
const engine = new URL("./bare/", self.location.href).href;
const { loadPyodide } = await import(`${engine}pyodide.mjs`);
const pyodide = await loadPyodide({
  indexURL: engine,
  lockFileURL: `${engine}pyodide-lock.json`,
  packageBaseUrl: engine,
  packages: ["numpy", "pydantic"],
});
self.postMessage(pyodide.runPython("import numpy, pydantic; numpy.__version__"));
