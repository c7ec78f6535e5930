// Runs in the page, given to it by bench.py: `(programs) => Promise`. Times are of performance.now(). [ms]
async (programs) => {
  const { solver } = window.tussock;
  const gapOf = (objective, bound) => Math.max(0, Math.floor(bound + 1e-6) - objective) / Math.max(objective, 1);
  const taken = [];
  await solver.solve(programs[0], { gap: 0.2 }); // loaded and compiled, as it is while the core looks for the limits
  for (const text of programs) {
    const begin = performance.now();
    let first;
    let best = -Infinity;
    const hear = ({ columns, objective, bound }) => {
      if (columns) best = Math.max(best, objective);
      const gap = gapOf(best, bound);
      if (!first && gap <= 0.01) first = { ms: performance.now() - begin, gap };
    };
    const done = await solver.solve(text, { seconds: 60, hear });
    const proof = performance.now() - begin;
    const gap = gapOf(Math.round(done.objective), done.bound);
    taken.push({ first: first ?? { ms: proof, gap }, proof, gap, worth: Math.round(done.objective) });
  }
  return taken;
};
