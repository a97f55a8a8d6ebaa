// A form at the saw as a report that can wait: checked here as far as a tablet alone can.

import { numberOf } from "./saw-bench.js";
import { readTail, tailDoubt } from "./saw-tail.js";

const WORDS = { cut: "cut", defect: "set aside: defect", missing: "not found" };

/** Give the report a form makes, or undefined when something in it must be looked at first; it is pointed at. */
export function reportOf(bar, form, button) {
  const fields = [...new FormData(form, button)].map(([name, value]) => [name, String(value).trim()]);
  const outcome = button.value;
  const told = { cut: tailOf, defect: restOf }[outcome];
  const tail = told ? told(bar, form) : "";
  if (tail === undefined) return undefined;
  const plan = document.body.dataset.plan;
  return { plan, bar: numberOf(bar), outcome, fields, words: WORDS[outcome], tail, tag: bar.dataset.tag, at: Date.now() };
}

/** Say what to do with the tail; undefined when its measure must be looked at. */
function tailOf(bar, form) {
  const field = form.querySelector("[name=tail]");
  const place = form.querySelector("[name=place]").value.trim();
  const typed = field.value.trim();
  const measured = typed ? readTail(typed, form.querySelector("[name=unit]").value) : undefined;
  show(field, measured === null);
  const wrong = cameOut(form);
  if (measured === null || wrong === undefined) return undefined;
  const sure = form.querySelector("[name=sure]").checked || wrong || measured === undefined;
  const doubt = sure ? "" : tailDoubt(measured, Number(bar.dataset.least), Number(bar.dataset.most));
  ask(form, doubt);
  if (doubt) return undefined;
  const kept = measured === undefined ? bar.dataset.kept === "yes" : measured > 0 && measured >= Number(bar.dataset.keep);
  if (!kept) return "Its tail is scrap.";
  const unit = form.querySelector("[name=unit]").value;
  const length = /[a-z"]$/i.test(typed) ? typed : typed ? `${typed} ${unit}` : bar.querySelector(".stop.tail strong").textContent;
  const tag = bar.dataset.tag ? `Write its tag on it: ${bar.dataset.tag}.` : "Its tag comes with the answer.";
  return `Its tail, ${length}, is kept${place ? `, rack ${place}` : ""}. ${tag}`;
}

/** Say what to do with what is good of a damaged bar; undefined when its measure must be looked at. */
function restOf(bar, form) {
  const field = form.querySelector("[name=rest]");
  const typed = field.value.trim();
  const unit = form.querySelector("[name=unit]").value;
  const measured = typed ? readTail(typed, unit) : 0;
  show(field, measured === null);
  if (measured === null) return undefined;
  if (!measured || measured < Number(bar.dataset.keep)) return "Nothing of its rest is kept.";
  const length = /[a-z"]$/i.test(typed) ? typed : `${typed} ${unit}`;
  return `Its good rest, ${length}, is kept. Its tag comes with the answer.`;
}

/** Whether any piece came out wrong; undefined when what came out of one must be looked at. */
function cameOut(form) {
  const unit = form.querySelector("[name=unit]").value;
  let known = true;
  let wrong = Boolean(form.querySelector("[name=spoiled]:checked"));
  for (const field of form.querySelectorAll("[name=came]")) {
    const text = field.value.trim();
    const bad = text !== "" && !readTail(text, unit);
    show(field, bad);
    known &&= !bad;
    wrong ||= text !== "";
  }
  return known ? wrong : undefined;
}

function show(field, wrong) {
  const said = field.parentElement.querySelector(".fault");
  if (!wrong) {
    said?.remove();
    field.removeAttribute("aria-invalid");
    field.removeAttribute("aria-describedby");
    return;
  }
  const fault = said ?? faultAt(field);
  field.setAttribute("aria-invalid", "true");
  field.setAttribute("aria-describedby", fault.id);
  field.focus();
}

function faultAt(field) {
  const fault = document.createElement("span");
  fault.className = "fault";
  fault.id = `${field.id}-fault`;
  fault.textContent = "Not understood. Like 396.5 or 396,5 in millimetres, like 15 5/8 in inches.";
  field.after(fault);
  return fault;
}

function ask(form, doubt) {
  const asked = form.querySelector(".doubts");
  asked.hidden = !doubt;
  for (const words of asked.querySelectorAll("[data-doubt]")) words.hidden = words.dataset.doubt !== doubt;
  if (doubt) asked.querySelector("[name=sure]").focus();
}
