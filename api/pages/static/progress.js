// Shows how the search for a plan comes on, and the plan itself as soon as there is one.

const section = document.getElementById("progress");
const part = (name) => section.querySelector(`[data-say="${name}"]`);
const grouped = (number) => (number >= 10000 ? String(number).replace(/\B(?=(\d{3})+$)/g, "\u202f") : String(number));

function amount(now, value) {
  if (value === null || value === undefined) return "–";
  if (!now.priced) return `${grouped(value)}\u00a0${value === 1 ? "new bar" : "new bars"}`;
  return (value / 10000).toFixed(value % 100 === 0 ? 2 : 4);
}

function say(name, text) {
  const place = part(name);
  if (place.textContent !== text) place.textContent = text; // a screen reader hears what has changed only
}

/** Name the state in the page's heading and title, which were written when the page was asked for. */
function head(state) {
  const place = document.querySelector(".plan-head .state");
  if (place.textContent === state) return;
  document.title = document.title.replace(`: ${place.textContent}`, `: ${state}`);
  place.textContent = state;
}

function show(plan) {
  const now = plan.progress;
  head(plan.state);
  if (plan.cut_short) say("words", "Stopping; the best plan so far is kept");
  if (plan.state === "queued" || !now) return;
  if (!plan.cut_short) say("words", `${now.done} of ${now.groups}\u00a0${now.groups === 1 ? "material" : "materials"} done`);
  say("group", now.group || "–");
  say("best", amount(now, now.best));
  say("bound", amount(now, now.bound));
  say("gap", now.gap === null || now.gap === undefined ? "–" : `${(100 * now.gap).toFixed(2)} %`);
  if (now.groups) part("materials").querySelector(".done").setAttribute("width", `${(100 * now.done) / now.groups}%`);
}

function follow() {
  const stream = new EventSource(`/v1/plans/${section.dataset.plan}/progress`);
  stream.addEventListener("plan", (event) => {
    const plan = JSON.parse(event.data);
    show(plan);
    if (plan.state !== "queued" && plan.state !== "solving") {
      stream.close();
      location.reload();
    }
  });
  stream.addEventListener("error", () => {
    // The browser comes back by itself, unless the service refused for good: then look again later.
    if (stream.readyState === EventSource.CLOSED) setTimeout(() => location.reload(), 5000);
  });
}

if (section) follow();
