// Corrects cells and settings in place: what is typed is sent at once and the list shown as it is read now.
// Everything here also works as a plain form; this only saves loading the page.

let turns = Promise.resolve(); // of two answers on their way the slower one must not undo the quicker
let waiting = 0;
let toSend = null;
let unsent = false; // typed while an answer was on its way

const area = () => document.getElementById("draft");
const form = () => document.getElementById("draft-form");
const tables = () => [...document.querySelectorAll(".sheet.rows")];
const typed = () => new Map(new FormData(form()));

function focusOn(target) {
  if (target) target.focus({ preventScroll: false });
}

// Where typing goes on once the field it was in is settled and gone: the next question, else the start.
const nextToDo = () => document.querySelector("tr.said input.cell, .said-list input.cell, .verdict .main");

function focusAgain(focused) {
  const mark = focused && (focused.name || focused.id);
  const same = mark && (form().elements.namedItem(mark) || document.getElementById(mark));
  if (same && same.focus) {
    same.focus({ preventScroll: true });
    if (focused.matches("input.cell")) same.setSelectionRange(focused.selectionStart, focused.selectionEnd);
  } else if (focused && focused.matches("input.cell")) focusOn(nextToDo());
}

async function swap(address, options) {
  const before = typed();
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
  const focused = document.activeElement;
  area().replaceWith(document.adoptNode(fresh));
  document.title = page.title;
  history.replaceState(null, "", answer.url);
  tables().forEach((one, at) => (one.scrollLeft = scrolled[at] || 0));
  for (const [name, value] of meanwhile) if (form().elements[name]) form().elements[name].value = value;
  focusAgain(focused);
  document.getElementById("told").textContent = document.getElementById("verdict").textContent.trim();
  unsent ||= meanwhile.length > 0;
}

function inTurn(task, otherwise) {
  waiting += 1;
  turns = turns.then(async () => {
    try {
      await task();
    } catch {
      otherwise(); // no connection for the quiet way: the browser says what is wrong
    }
    waiting -= 1;
  });
}

// Enter in a cell is a change and a submit: the second says nothing new, and must not close what is opened next.
function send(also) {
  if (toSend) {
    toSend.push(...also);
    return;
  }
  const behind = waiting > 0;
  toSend = also;
  inTurn(
    async () => {
      const extra = toSend;
      toSend = null;
      if (behind && !unsent && extra.length === 0) return;
      unsent = false;
      const body = new URLSearchParams(new FormData(form()));
      for (const [name, value] of extra) body.append(name, value);
      await swap(form().action, { method: "POST", body });
    },
    () => form().submit(),
  );
}

document.addEventListener("change", (event) => {
  if (event.target.form && event.target.form.id === "draft-form") send([]);
});

document.addEventListener("submit", (event) => {
  const button = event.submitter;
  if (event.target.id !== "draft-form" || (button && button.hasAttribute("formaction"))) return;
  event.preventDefault();
  send(button && button.name ? [[button.name, button.value]] : []);
});

document.addEventListener("click", (event) => {
  const link = event.target.closest && event.target.closest("a[data-swap]");
  if (!link || event.ctrlKey || event.metaKey || event.shiftKey || event.button !== 0) return;
  event.preventDefault();
  inTurn(
    async () => {
      await swap(link.href, {});
      const place = document.getElementById(decodeURIComponent(link.hash.slice(1)));
      if (place) focusOn(place.querySelector("input.cell") || place.querySelector("a.correct") || place);
    },
    () => location.assign(link.href),
  );
});
