// Drives an outbox through steps with answers laid out beforehand, and tells what came of each.
async steps => {
  const { Outbox } = await import("/static/saw-outbox.js");
  const kept = new Map();
  const storage = {
    get length() { return kept.size; },
    key: i => [...kept.keys()][i],
    getItem: name => kept.get(name) ?? null,
    setItem: (name, value) => { kept.set(name, value); },
    removeItem: name => { kept.delete(name); },
  };
  const sent = [], answers = [];
  const post = async (address, body) => {
    sent.push(`${address}?${body}`);
    const next = answers.shift();
    if (!next) throw new TypeError("no connection");
    return new Response(JSON.stringify(next.body), { status: next.status });
  };
  const outbox = new Outbox(storage, post, () => {}, () => true);
  const problem = (status, detail) => ({ status, body: { type: "urn:nesting:problem:some", detail } });
  const run = async step => {
    if (step === "flush") return outbox.flush();
    if (step === "back") return outbox.takeBack("p", 1) ? "taken" : "too late";
    if (step.keep) {
      const fields = [["key", `k${step.keep}`], ["outcome", "cut"]];
      outbox.keep({ plan: "p", bar: step.keep, at: step.at ?? step.keep, fields, words: "cut" });
    } else if (step.answer === "refused") {
      answers.push(problem(409, "cut already"));
    } else if (step.answer === "busy") {
      answers.push(problem(503, "try again"));
    } else {
      answers.push({ status: 200, body: { plan: "p", bar: step.answer, state: "cut", born: "" } });
    }
    return undefined;
  };
  const out = [];
  for (const step of steps) out.push(await run(step));
  return {
    out: out.filter(one => one !== undefined),
    sent,
    left: outbox.entries().map(one => [one.bar, one.refused]),
    state: outbox.state,
  };
}
