// Corrects cells and settings in place: what is typed is sent at once and the list shown as it is read now.
// Everything here also works as a plain form; this only saves loading the page.

let busy = false;
let waiting = null;

const area = () => document.getElementById("draft");
const form = () => document.getElementById("draft-form");
const tables = () => [...document.querySelectorAll(".sheet.rows")];

function typed() {
  const values = new Map();
  for (const field of form().elements) if (field.name && field.type !== "radio") values.set(field.name, field.value);
  return values;
}

function focusOn(target) {
  if (target) target.focus({ preventScroll: false });
}

// Where typing goes on once the field it was in is settled and gone: the next question, else the start.
const nextToDo = () => document.querySelector("tr.said input.cell, .said-list input.cell, .verdict .main");

async function swap(address, options) {
  const before = typed();
  const focused = document.activeElement;
  const mark = focused && (focused.name || focused.id);
  const inCell = focused && focused.matches("input.cell");
  area().setAttribute("aria-busy", "true");
  const answer = await fetch(address, { ...options, headers: { Accept: "text/html" } });
  const page = new DOMParser().parseFromString(await answer.text(), "text/html");
  const fresh = page.getElementById("draft");
  if (!fresh) {
    location.assign(answer.url);
    return;
  }
  // What was typed while the answer was on its way stays typed.
  const meanwhile = [...typed()].filter(([name, value]) => before.get(name) !== value);
  const scrolled = tables().map((one) => one.scrollLeft);
  area().replaceWith(document.adoptNode(fresh));
  document.title = page.title;
  history.replaceState(null, "", answer.url);
  tables().forEach((one, at) => (one.scrollLeft = scrolled[at] || 0));
  for (const [name, value] of meanwhile) if (form().elements[name]) form().elements[name].value = value;
  const same = mark && (form().elements.namedItem(mark) || document.getElementById(mark));
  if (same && same.focus) same.focus({ preventScroll: true });
  else if (inCell) focusOn(nextToDo());
  document.getElementById("told").textContent = document.getElementById("verdict").textContent.trim();
}

async function send(extra) {
  if (busy) {
    waiting = extra || waiting || [];
    return;
  }
  busy = true;
  try {
    let also = extra || [];
    do {
      waiting = null;
      const body = new URLSearchParams(new FormData(form()));
      for (const [name, value] of also) body.append(name, value);
      await swap(form().action, { method: "POST", body });
      also = waiting;
    } while (also);
  } catch {
    form().submit(); // no connection for the quiet way: the browser says what is wrong
  } finally {
    busy = false;
  }
}

document.addEventListener("change", (event) => {
  if (event.target.form && event.target.form.id === "draft-form") send();
});

document.addEventListener("submit", (event) => {
  const button = event.submitter;
  if (event.target.id !== "draft-form" || (button && button.hasAttribute("formaction"))) return;
  event.preventDefault();
  send(button && button.name ? [[button.name, button.value]] : []);
});

document.addEventListener("click", async (event) => {
  const link = event.target.closest && event.target.closest("a[data-swap]");
  if (!link || event.ctrlKey || event.metaKey || event.shiftKey || event.button !== 0) return;
  event.preventDefault();
  try {
    await swap(link.href, {});
  } catch {
    location.assign(link.href);
    return;
  }
  const place = document.getElementById(decodeURIComponent(link.hash.slice(1)));
  if (place) focusOn(place.querySelector("input.cell") || place.querySelector("a.correct") || place);
});
