// Looks every two seconds whether the comparison is there, and shows the page anew when it is.
const EVERY = 2000;

async function look() {
  try {
    const answer = await fetch(location.href, { headers: { Accept: "text/html" }, cache: "no-store" });
    if (answer.ok && !(await answer.text()).includes("data-comparing")) {
      location.reload();
      return;
    }
  } catch {
    // The connection is away for a moment; look again.
  }
  setTimeout(look, EVERY);
}

setTimeout(look, EVERY);
