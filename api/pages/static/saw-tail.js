// A measured tail as somebody typed it, in nanometres. Stricter than the service, never laxer: what is
// kept here while there is no connection must not be refused for its spelling an hour later.

const MM = 1_000_000;
const INCH = 25_400_000;
const MARK = INCH / 64;

/** Give the nanometres of a text; null when it is no length, or could be two. */
export function readTail(text, unit) {
  const plain = text.trim().replace(/\s+/g, " ").toLowerCase();
  const named = plain.match(/^(.*?) ?(mm|in|")$/);
  const amount = named ? named[1] : plain;
  const metric = named ? named[2] === "mm" : unit === "mm";
  return metric ? millimetres(amount) : inches(amount);
}

function millimetres(amount) {
  const found = amount.match(/^(\d{1,5})(?:[.,](\d{1,2}|\d{4,6}))?$/);
  return found && Number(found[1]) * MM + Number((found[2] ?? "").padEnd(6, "0"));
}

function inches(amount) {
  const decimal = amount.match(/^(\d{1,4})(?:[.,](\d{1,2}|\d{4,6}))?$/);
  if (decimal) {
    const tenths = 10 ** (decimal[2] ?? "").length;
    const nanometres = (Number(decimal[1] + (decimal[2] ?? "")) * INCH) / tenths;
    return nanometres % MARK === 0 ? nanometres : null;
  }
  const fraction = amount.match(/^(?:(\d{1,4})[ -])?(\d{1,2})\/(2|4|8|16|32|64)$/);
  if (!fraction || Number(fraction[2]) >= Number(fraction[3])) return null;
  return Number(fraction[1] ?? 0) * INCH + (Number(fraction[2]) * INCH) / Number(fraction[3]);
}

/** Say what a tail gives cause to look for: "short", "long", or nothing. */
export function tailDoubt(nanometres, least, most) {
  return nanometres < least ? "short" : nanometres > most ? "long" : "";
}
