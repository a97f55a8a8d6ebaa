// One bar on the page: which step is shown, what is ticked, what became of it.

const STEP = "saw step ";

/** The bar that is shown, or undefined on the list of bars. */
export function shownBar() {
  return document.querySelector("main > article.bench") ?? undefined;
}

/** Give the bars of a page that was fetched, by their numbers. */
export function barsOf(html) {
  const page = new DOMParser().parseFromString(html, "text/html");
  return new Map([...page.querySelectorAll("article.bench")].map((bar) => [numberOf(bar), document.adoptNode(bar)]));
}

export function numberOf(bar) {
  return Number(bar.dataset.number);
}

/** Show another bar in the place of the one that is shown. */
export function swap(bar) {
  shownBar()?.remove();
  const name = bar.querySelector(".bar-name");
  if (name.localName !== "h1") {
    // Among all sheets a bar is a part of the page; alone it is what the page is about.
    const heading = Object.assign(document.createElement("h1"), { className: name.className, tabIndex: -1 });
    heading.append(...name.childNodes);
    name.replaceWith(heading);
  }
  document.querySelector("#content").append(bar);
  document.title = document.title.replace(/^.*?(?=, plan)/, `Bar ${bar.dataset.number}`);
}

/** Show a step of a bar and tick what lies before it; kept on this tablet, so that a reload goes on there. */
export function setStep(bar, wanted, storage) {
  const last = Number(bar.dataset.last) + 1;
  const step = Math.min(Math.max(wanted, Number(bar.dataset.first)), last);
  bar.dataset.step = step;
  bar.toggleAttribute("data-begun", step > Number(bar.dataset.first));
  for (const section of bar.querySelectorAll(".step")) section.hidden = Number(section.dataset.step) !== step;
  for (const part of bar.querySelectorAll("[data-cut]")) {
    const cut = Number(part.dataset.cut);
    part.dataset.is = cut < step ? "done" : cut === step ? "now" : "later";
  }
  const made = bar.querySelector("select[name=made]");
  if (made) made.value = step === last ? "" : String(Math.max(step - 1, 0));
  try {
    storage.setItem(STEP + address(bar), step);
  } catch {
    // Only a reload forgets how far the bar is.
  }
  return step;
}

/** Give the step at which a bar was left on this tablet. */
export function keptStep(bar, storage) {
  return Number(storage.getItem(STEP + address(bar)) ?? bar.dataset.step);
}

export function forgetStep(bar, storage) {
  storage.removeItem(STEP + address(bar));
}

/** Put the finger or the keys on what comes next, and say it. */
export function point(bar, byKeys) {
  const step = bar.querySelector(".step:not([hidden])");
  const field = step.querySelector("input[name=tail]");
  // A field that is focused brings the tablet's keyboard up over half the page.
  const target = field ? (byKeys ? field : step) : step.querySelector("button");
  if (target === step) step.tabIndex = -1;
  target?.focus();
  const said = [...step.querySelectorAll(".eyebrow, .stop, .shout:not([hidden])")].map((part) => part.textContent);
  document.querySelector("#said").textContent = said.join(". ").replace(/\s+/g, " ");
}

/** Show a bar as reported from here, or again as to be cut. */
export function showKept(bar, entry, following) {
  const kept = bar.querySelector(".kept");
  if (!kept) return;
  for (const part of bar.querySelectorAll(".work, .trouble, .bench > .shout")) part.hidden = Boolean(entry);
  kept.hidden = !entry;
  if (!entry) return;
  fill(kept, "words", entry.words);
  fill(kept, "tail", entry.tail);
  fill(kept, "state", entry.refused ? `NOT TAKEN: ${entry.refused}` : "Kept on this tablet, not sent yet. Cut on: nothing is lost.");
  kept.querySelector("[data-fill=state]").classList.toggle("shout", Boolean(entry.refused));
  kept.querySelector("[data-act=change]").hidden = entry.tried && !entry.refused;
  const next = kept.querySelector(".next");
  next.href = following ? `/plans/${entry.plan}/saw/${following}` : `/plans/${entry.plan}/saw`;
  next.textContent = following ? `Next: bar ${following}` : "No bar is left to cut";
}

/** Put the fields of a report back into its form. */
export function refill(bar, entry) {
  const form = bar.querySelector(`form.report[data-outcome=${entry.outcome}]`);
  const came = entry.fields.filter(([name]) => name === "came");
  form.querySelectorAll("[name=came]").forEach((field, i) => { field.value = came[i]?.[1] ?? ""; });
  for (const [name, value] of entry.fields) {
    for (const field of form.querySelectorAll(`[name=${name}]:not([type=hidden]):not(button):not([name=came])`)) {
      if (field.type !== "checkbox") field.value = value;
      else if (field.value === value) field.checked = true;
    }
  }
  const folded = form.closest("details") ?? form.querySelector(":checked")?.closest("details");
  if (folded) folded.open = true;
}

function fill(section, name, text) {
  section.querySelector(`[data-fill=${name}]`).textContent = text;
}

function address(bar) {
  return `${document.body.dataset.plan} ${bar.dataset.number}`;
}
