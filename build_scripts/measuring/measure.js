// Runs in the page, given to it by bench.py: `(job) => Promise`. Times are of performance.now(). [ms]
async ([job, { params, edits, remediesEvery, rounds }]) => {
  const { CoreClient } = window.tussock;

  /** From `new Worker` to its first message. */
  const bare = () =>
    new Promise((resolve, reject) => {
      const begin = performance.now();
      const worker = new Worker("bare.js", { type: "module" });
      worker.onerror = (event) => reject(new Error(event.message));
      worker.onmessage = () => {
        worker.terminate();
        resolve(performance.now() - begin);
      };
    });

  /** From `new Worker` to the six answers of the open leg. */
  const ours = async () => {
    const begin = performance.now();
    /** @type {Worker[]} */
    const made = [];
    const client = new CoreClient(() => {
      made.push(new Worker("worker.js", { type: "module" }));
      return made[0];
    });
    client.start();
    const { legs } = await client.ask("answer", params);
    const taken = performance.now() - begin;
    made[0].terminate();
    if (legs[0].answers.length !== 6) throw new Error("not six answers");
    return taken;
  };

  const startup = async () => {
    /** @type {{ bare: number[], ours: number[] }} */
    const taken = { bare: [], ours: [] };
    // The first of each warms what a second visit finds warm, and does not count.
    await bare();
    await ours();
    for (let round = 0; round < rounds; round++) {
      taken.bare.push(await bare());
      taken.ours.push(await ours());
    }
    return taken;
  };

  /** Each edit is another temperature of the air here or another mass of a person, as the finger would move them. */
  const answer = async () => {
    const client = new CoreClient(() => new Worker("worker.js", { type: "module" }));
    client.start();
    await client.ask("answer", params);
    const documents = params.documents.map((/** @type {string} */ text) => JSON.parse(text));
    const trip = documents.find((/** @type {any} */ one) => one.kind === "trip" && one.id === params.trip);
    const leg = trip.legs.find((/** @type {any} */ one) => one.id === params.leg);
    const air = documents.findIndex((/** @type {any} */ one) => one.kind === "air" && one.id === leg.air_from);
    const person = documents.findIndex((/** @type {any} */ one) => one.kind === "person");
    const [temperature, mass] = [documents[air].temperature, documents[person].mass.value];
    if (typeof temperature !== "number" || typeof mass !== "number") throw new Error("the demo has changed");
    const texts = [...params.documents];
    /** @type {{ answer: number[], remedies: number[] }} */
    const taken = { answer: [], remedies: [] };
    for (let edit = 0; edit < edits; edit++) {
      const step = ((edit * 7) % 40) - 20;
      if (edit % 2) documents[air].temperature = temperature + step / 2;
      else documents[person].mass.value = mass + step / 4;
      texts[air] = JSON.stringify(documents[air]);
      texts[person] = JSON.stringify(documents[person]);
      const asked = { ...params, documents: [...texts] };
      const begin = performance.now();
      await client.ask("answer", asked);
      taken.answer.push(performance.now() - begin);
      if (edit % remediesEvery === 0) {
        const from = performance.now();
        await client.ask("remedies", asked);
        taken.remedies.push(performance.now() - from);
      }
    }
    return taken;
  };

  await window.tussock.core.ready;
  return job === "startup" ? startup() : answer();
};
