// A file may be dropped anywhere on the page; it is sent as if it had been chosen.

const form = document.querySelector("form.give");
const field = document.getElementById("file");
const holdsFile = (event) => event.dataTransfer && [...event.dataTransfer.types].includes("Files");

for (const hint of document.querySelectorAll(".with-script")) hint.hidden = false;

document.addEventListener("dragover", (event) => {
  if (!holdsFile(event)) return;
  event.preventDefault();
  document.body.classList.add("dropping");
});

document.addEventListener("dragleave", (event) => {
  if (!event.relatedTarget) document.body.classList.remove("dropping");
});

document.addEventListener("drop", (event) => {
  document.body.classList.remove("dropping");
  if (!holdsFile(event) || event.dataTransfer.files.length === 0) return;
  event.preventDefault();
  const one = new DataTransfer();
  one.items.add(event.dataTransfer.files[0]);
  field.files = one.files;
  form.requestSubmit();
});
