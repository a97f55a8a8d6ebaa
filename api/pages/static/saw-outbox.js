// Reports that wait on this tablet until the service has answered for them. Each has a place of its own in
// the browser's storage, named by plan and bar, so that two tabs cannot overwrite each other's; each carries
// the key under which the service does it once, however often it is sent.

const NAME = "saw report ";
const PATIENCE = 15_000;

export class Outbox {
  /**
   * storage: localStorage, or what behaves like it. post: sends (address, body) and gives a Response.
   * told: called with what happened: {kept|sent|refused: entry, answer}, or {state}. online: whether the
   * browser knows of any connection; without one nothing is tried, so that everything can be taken back.
   */
  constructor(storage, post = postForm, told = () => {}, online = () => navigator.onLine) {
    this.storage = storage;
    this.post = post;
    this.told = told;
    this.online = online;
    this.state = "";
    this.busy = null;
  }

  /** Whether this browser keeps anything. */
  get works() {
    try {
      this.storage.setItem("saw probe", "1");
      this.storage.removeItem("saw probe");
      return true;
    } catch {
      return false;
    }
  }

  /** Give all reports, the oldest first. */
  entries() {
    const names = Array.from({ length: this.storage.length }, (_, i) => this.storage.key(i));
    const found = names.filter((name) => name.startsWith(NAME)).map((name) => this.#read(name));
    return found.filter(Boolean).sort((a, b) => a.at - b.at || a.bar - b.bar);
  }

  /** Give the report on a bar; undefined when there is none. */
  of(plan, bar) {
    return this.#read(nameOf({ plan, bar })) ?? undefined;
  }

  /** Keep a report; a full or forbidden storage throws. */
  keep(entry) {
    this.storage.setItem(nameOf(entry), JSON.stringify({ ...entry, tried: false, refused: "" }));
    this.told({ kept: entry });
  }

  /** Take a report back that the service has not, or has refused; gives it, or undefined when it is too late. */
  takeBack(plan, bar) {
    const entry = this.of(plan, bar);
    if (!entry || (entry.tried && !entry.refused)) return undefined;
    this.storage.removeItem(nameOf(entry));
    this.told({ state: this.state });
    return entry;
  }

  /** Let go of a report on a bar whose report was taken back, however far it has come: it is not sent again. */
  forget(plan, bar) {
    this.storage.removeItem(nameOf({ plan, bar }));
    this.told({ state: this.state });
  }

  /** Send what waits, one tab and one report at a time; true when nothing waits any more. */
  async flush() {
    this.busy ??= alone(() => this.#sendAll()).finally(() => { this.busy = null; });
    await this.busy;
    return !this.entries().some((entry) => !entry.refused);
  }

  async #sendAll() {
    for (const waiting of this.entries()) {
      // Another tab may have sent it, or taken it back, meanwhile.
      const entry = this.of(waiting.plan, waiting.bar);
      if (!entry || entry.refused) continue;
      if (!this.online()) {
        this.state = "away";
        break;
      }
      this.#write({ ...entry, tried: true });
      const fate = await this.#send(entry);
      this.state = fate.state ?? "";
      if (fate.answer) {
        this.storage.removeItem(nameOf(entry));
        this.told({ sent: entry, answer: fate.answer });
      } else if (fate.refused) {
        this.#write({ ...entry, tried: true, refused: fate.refused });
        this.told({ refused: entry });
      } else {
        break;
      }
    }
    this.told({ state: this.state });
  }

  /** Send one report: {answer}, {refused: why}, or {state} when nobody can know yet. */
  async #send(entry) {
    let response, answer;
    try {
      response = await this.post(`/plans/${entry.plan}/saw/${entry.bar}`, new URLSearchParams(entry.fields));
      answer = await response.json();
    } catch {
      return { state: "away" };
    }
    // Whatever answers in between, a sign-in page of the network or a proxy, is not the service.
    if (response.ok) return answer.bar === entry.bar && answer.plan === entry.plan ? { answer } : { state: "away" };
    if (response.status === 401) return { state: "sign-in" };
    if (!String(answer.type).startsWith("urn:nesting:problem:")) return { state: "away" };
    if (response.status >= 500 || response.status === 408 || response.status === 429) return { state: "busy" };
    return { refused: answer.detail };
  }

  #read(name) {
    try {
      return JSON.parse(this.storage.getItem(name));
    } catch {
      return null;
    }
  }

  #write(entry) {
    this.storage.setItem(nameOf(entry), JSON.stringify(entry));
  }
}

function nameOf({ plan, bar }) {
  return `${NAME}${plan} ${bar}`;
}

/** Do something while no other tab does; where browsers have no locks the keys alone keep reports single. */
async function alone(act) {
  if (!navigator.locks) return act();
  return navigator.locks.request("saw outbox", act);
}

function postForm(address, body) {
  const headers = { Accept: "application/json" };
  return fetch(address, { method: "POST", body, headers, signal: AbortSignal.timeout(PATIENCE) });
}
