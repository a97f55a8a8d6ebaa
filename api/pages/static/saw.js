// The page at the saw: one bar at a time, stroke by stroke, also while there is no connection.

import {
  forgetStep, keptStep, numberOf, point, refill, setStep, showKept, shownBar, swap,
} from "./saw-bench.js";
import { carryPages, fetchBars } from "./saw-carry.js";
import { Outbox } from "./saw-outbox.js";
import { showPanel } from "./saw-panel.js";
import { reportOf } from "./saw-report.js";

const RETRY_FIRST = 3_000;
const RETRY_LAST = 30_000;
const TAKEN_BACK = "saw taken back";

const plan = document.body.dataset.plan;
const here = `/plans/${plan}/saw`;
const outbox = new Outbox(localStorage, undefined, told);
const carried = new Map();
const notices = [];
let byKeys = false;
let retry = RETRY_FIRST;
let timer = 0;

// Bars and the way between them

function addressOf(number) {
  return `${here}/${number}`;
}

function reported(bar) {
  return bar.dataset.open !== "yes" || Boolean(outbox.of(plan, numberOf(bar)));
}

function nextOf(number) {
  const open = [...carried.values()].filter((bar) => numberOf(bar) !== number && !reported(bar)).map(numberOf);
  open.sort((a, b) => a - b);
  return open.find((one) => one > number) ?? open[0];
}

/** Show a bar, as the service has it now or as it was carried along. */
async function go(number, push = true) {
  const fresh = await fetchBars(addressOf(number));
  if (fresh?.has(number)) carried.set(number, fresh.get(number));
  const bar = carried.get(number);
  if (!bar) {
    location.href = addressOf(number);
    return;
  }
  if (push) history.pushState({ number }, "", addressOf(number));
  swap(bar);
  ready(bar);
  window.scrollTo(0, 0);
}

function ready(bar, pointed = true) {
  const entry = outbox.of(plan, numberOf(bar));
  showKept(bar, entry, nextOf(numberOf(bar)));
  if (!reported(bar)) {
    setStep(bar, keptStep(bar, localStorage), localStorage);
    if (pointed) point(bar, byKeys);
  } else if (pointed) {
    (bar.querySelector(".kept:not([hidden]) .next, .result .next") ?? bar.querySelector("h1")).focus();
  }
}

// Reports

function report(bar, form, button) {
  const entry = reportOf(bar, form, button);
  if (!entry) return;
  outbox.keep(entry);
  forgetStep(bar, localStorage);
  ready(bar);
  send();
}

async function send() {
  clearTimeout(timer);
  if (await outbox.flush()) {
    retry = RETRY_FIRST;
  } else {
    timer = setTimeout(send, retry);
    retry = Math.min(retry * 2, RETRY_LAST);
  }
}

function told({ sent, answer }) {
  if (sent && answer.born && answer.born !== sent.tag && sent.tag) {
    notices.push(`The tail of bar ${sent.bar} is ${answer.born}, not ${sent.tag}: write that on it.`);
  }
  if (sent?.plan === plan) refresh(sent.bar);
  show();
}

/** Take the bar's page from the service again: it knows what the tail became. */
async function refresh(number) {
  const fresh = (await fetchBars(addressOf(number)))?.get(number);
  if (!fresh) return;
  carried.set(number, fresh);
  const bar = shownBar();
  if (bar && numberOf(bar) === number) {
    swap(fresh);
    ready(fresh);
  }
}

function show() {
  const entries = outbox.entries();
  showPanel(entries, outbox.state, notices, { look, drop });
  for (const row of document.querySelectorAll("ol.bars > li")) {
    const entry = outbox.of(plan, Number(row.dataset.number));
    if (entry) row.querySelector(".state").textContent = `${entry.words}, ${entry.refused ? "not taken" : "not sent yet"}`;
  }
  const bar = shownBar();
  if (bar?.dataset.open === "yes") showKept(bar, outbox.of(plan, numberOf(bar)), nextOf(numberOf(bar)));
}

function look(entry) {
  if (entry.plan === plan && shownBar()) go(entry.bar);
  else location.href = `/plans/${entry.plan}/saw/${entry.bar}`;
}

function drop(entry) {
  if (!confirm(`Drop the report on bar ${entry.bar}? It is told to nobody.`)) return;
  outbox.takeBack(entry.plan, entry.bar);
  if (entry.plan === plan && shownBar()) go(numberOf(shownBar()), false);
}

function change(bar) {
  const entry = outbox.takeBack(plan, numberOf(bar));
  if (!entry) return;
  showKept(bar, undefined);
  refill(bar, entry);
  setStep(bar, stepOf(entry), localStorage);
  if (entry.outcome === "cut") point(bar, byKeys);
}

/** Give the step a report belongs to: a bar given up stands where its cuts end. */
function stepOf(entry) {
  const [, made = 0] = entry.fields.find(([name]) => name === "made") ?? [];
  return { cut: Infinity, defect: Number(made) + 1 }[entry.outcome] ?? 0;
}

// Fingers and keys

document.addEventListener("pointerdown", () => { byKeys = false; }, true);
document.addEventListener("keydown", (event) => {
  byKeys = true;
  const bar = shownBar();
  // A key that is held down must not run through a whole bar.
  if (event.repeat && event.key === "Enter" && event.target.matches("button, a")) event.preventDefault();
  if (!bar || event.ctrlKey || event.altKey || event.metaKey || event.target.matches("input, textarea")) return;
  const beside = { PageDown: "next", PageUp: "prev" }[event.key];
  if (beside) {
    event.preventDefault();
    bar.querySelector(`.beside [rel=${beside}]`)?.click();
  } else if (event.key === "ArrowLeft" && !reported(bar)) {
    event.preventDefault();
    setStep(bar, Number(bar.dataset.step) - 1, localStorage);
    point(bar, byKeys);
  }
});

document.addEventListener("click", (event) => {
  // The second half of a double tap is no second stroke.
  if (event.detail > 1 && event.target.closest("button.stroke")) event.preventDefault();
  const act = event.target.closest("[data-act]")?.dataset.act;
  if (act === "try") send();
  const bar = event.target.closest("main > article.bench");
  if (act === "change" && bar) change(bar);
  const link = event.target.closest("a[href]");
  if (!link || event.defaultPrevented || event.ctrlKey || event.metaKey || event.shiftKey) return;
  const url = new URL(link.href);
  const found = url.pathname.match(/^(\/plans\/[0-9a-f]+\/saw)\/(\d+)$/);
  if (!bar || !found || found[1] !== here || url.origin !== location.origin) return;
  event.preventDefault();
  if (Number(found[2]) !== numberOf(bar)) go(Number(found[2]));
  else {
    setStep(bar, Number(url.searchParams.get("cut") ?? 0), localStorage);
    point(bar, byKeys);
  }
});

document.addEventListener("submit", (event) => {
  const bar = event.target.closest("main > article.bench");
  if (!bar) return;
  // What this tablet keeps of the bar goes when the service has taken the report back, not before.
  if (event.target.matches("form.withdrawal")) sessionStorage.setItem(TAKEN_BACK, `${plan} ${numberOf(bar)}`);
  else if (event.target.matches("form.onward")) {
    event.preventDefault();
    setStep(bar, Number(event.submitter.value), localStorage);
    point(bar, byKeys);
  } else if (event.target.matches("form.report") && outbox.works) {
    event.preventDefault();
    report(bar, event.target, event.submitter);
  }
});

addEventListener("popstate", () => {
  const found = location.pathname.match(/\/saw\/(\d+)$/);
  if (found) go(Number(found[1]), false);
});
addEventListener("storage", show);
addEventListener("online", send);
document.addEventListener("visibilitychange", () => { if (!document.hidden) send(); });

// Beginning

/** Of the page of all open bars, shown because the page of one could not be had, only that one stays. */
function unfold() {
  const found = location.pathname.match(/\/saw\/(\d+)$/);
  const all = document.querySelector("#sheets");
  if (!found || !all) return;
  for (const bar of all.querySelectorAll("article.bench")) carried.set(numberOf(bar), bar);
  all.remove();
  const bar = carried.get(Number(found[1]));
  if (bar) swap(bar);
  else document.querySelector("#content").append("This bar is not among those that were to cut. All bars are above.");
}

/** Of a bar that is open again after its report was taken back, neither report nor step is kept. */
function forgetTakenBack(bar) {
  const asked = sessionStorage.getItem(TAKEN_BACK);
  sessionStorage.removeItem(TAKEN_BACK);
  if (asked !== `${plan} ${numberOf(bar)}` || bar.dataset.open !== "yes") return;
  outbox.forget(plan, numberOf(bar));
  forgetStep(bar, localStorage);
}

async function begin() {
  unfold();
  const bar = shownBar();
  if (bar) {
    if (outbox.works) forgetTakenBack(bar);
    carried.set(numberOf(bar), bar);
    ready(bar, !document.querySelector("[role=alert]"));
  }
  show();
  await send();
  const open = await fetchBars(`${here}/sheets`, RETRY_LAST);
  for (const [number, one] of open ?? []) if (!carried.has(number)) carried.set(number, one);
  show();
  document.body.dataset.carried = (await carryPages(plan)) ? "pages" : "bars";
}

begin();
