// What waits on this tablet and what was not taken, in words at the top of every page of the saw.

/** Show the reports; acts: {look, drop} for the buttons of a report that was not taken. */
export function showPanel(entries, state, notices, acts) {
  const waiting = entries.filter((entry) => !entry.refused).length;
  const refused = entries.length - waiting;
  const said = [];
  if (waiting) said.push(`Kept here, not sent yet (${waiting})`);
  if (refused) said.push(`Not taken (${refused})`);
  document.querySelector("#sending").textContent = said.join(" · ") || away(state) || "All reports are sent";
  document.body.classList.toggle("waits", waiting > 0);
  document.body.classList.toggle("refused", refused > 0);
  // What only waits is no reason to push the bar off the screen: then the list stands below it.
  document.body.classList.toggle("urgent", refused > 0 || notices.length > 0 || state === "sign-in");
  document.querySelector("[data-act=try]").hidden = !waiting;

  const panel = document.querySelector("#outbox");
  panel.hidden = !entries.length && !notices.length && state !== "sign-in";
  panel.querySelector("#outbox-name").textContent = title(waiting, refused, state);
  const items = [...notices.map((words) => item(words)), ...entries.map((entry) => itemOf(entry, acts))];
  if (state === "sign-in") items.unshift(signIn());
  panel.querySelector("ul").replaceChildren(...items);
}

function title(waiting, refused, state) {
  if (refused) return "The service did not take this";
  if (!waiting) return "Mind";
  return away(state) ? `${away(state)}: cut on, nothing is lost` : "Kept on this tablet until it is sent";
}

function away(state) {
  return { away: "No connection", busy: "The service is busy", "sign-in": "Signed out" }[state] ?? "";
}

function itemOf(entry, acts) {
  const made = item(`Bar ${entry.bar}: ${entry.words}. ${entry.refused ? `NOT TAKEN: ${entry.refused}` : "Not sent yet."}`);
  made.dataset.bar = entry.bar;
  if (entry.refused) {
    made.append(button("Look at it", () => acts.look(entry)), button("Drop this report", () => acts.drop(entry)));
  }
  return made;
}

function item(words) {
  const made = document.createElement("li");
  const said = document.createElement("span");
  said.textContent = words;
  made.append(said);
  return made;
}

function button(words, act) {
  const made = document.createElement("button");
  made.type = "button";
  made.textContent = words;
  made.addEventListener("click", act);
  return made;
}

function signIn() {
  const made = item("Reports are kept until somebody signs in. ");
  const link = document.createElement("a");
  link.href = `/sign-in?next=${encodeURIComponent(location.pathname)}`;
  link.textContent = "Sign in";
  made.append(link);
  return made;
}
