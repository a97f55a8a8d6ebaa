// Corrects cells and settings in place: what is typed is sent at once and the list shown as it is read now.
// Everything here also works as a plain form; this only saves loading the page.

let busy = false;
let again = false;

const area = () => document.getElementById("draft");
const form = () => document.getElementById("draft-form");

function typed() {
  const values = new Map();
  for (const field of form().elements) if (field.name && field.type !== "radio") values.set(field.name, field.value);
  return values;
}

async function swap(address, options) {
  const before = typed();
  const focused = document.activeElement;
  const mark = focused && (focused.name || focused.id);
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
  const scrolled = new Map([...document.querySelectorAll(".sheet.rows")].map((one, at) => [at, one.scrollLeft]));
  area().replaceWith(document.adoptNode(fresh));
  document.title = page.title;
  history.replaceState(null, "", answer.url);
  [...document.querySelectorAll(".sheet.rows")].forEach((one, at) => (one.scrollLeft = scrolled.get(at) || 0));
  for (const [name, value] of meanwhile) if (form().elements[name]) form().elements[name].value = value;
  const next = mark && (form().elements[mark] || document.getElementById(mark));
  if (next && next.focus) next.focus({ preventScroll: true });
}

async function send(submitter) {
  if (busy) {
    again = true;
    return;
  }
  busy = true;
  try {
    do {
      again = false;
      await swap(form().action, { method: "POST", body: new URLSearchParams(new FormData(form(), submitter)) });
      submitter = undefined;
    } while (again);
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
  send(button || undefined);
});

document.addEventListener("click", async (event) => {
  const link = event.target.closest && event.target.closest("a[data-swap]");
  if (!link || event.ctrlKey || event.metaKey || event.shiftKey || event.button !== 0) return;
  event.preventDefault();
  try {
    await swap(link.href, {});
    const place = document.getElementById(link.hash.slice(1));
    const field = place && place.querySelector("input.cell");
    if (field) field.focus();
    else if (place) place.scrollIntoView({ block: "nearest" });
  } catch {
    location.assign(link.href);
  }
});
