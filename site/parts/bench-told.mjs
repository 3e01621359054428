// What a reading means, as the engine says it: put into the page after each reading, and as the verdict.

import { hasOwn, stateOf, worded } from "./bench-screens.mjs";
import { all, list, made, one, whole } from "./made.mjs";

/**
 * @typedef {{repair: string, percent: string, faint: boolean}} Suspect
 * @typedef {{place: string, title: string, state: string, reading: string, expected: string, good?: boolean | null, says: string, means: {repair: string}[]}} Meaning
 * @typedef {{repair: string, by: string, together_with: string[]}} Cleared
 * @typedef {{place: string, test: string, state: string, title: string, why: string, minutes: number}} Next
 * @typedef {{fits: boolean, bare?: boolean, verdict: string, claim: string, suspects: Suspect[], readings: Meaning[], ruled_out: Cleared[], next: Next | null,
 *   in_turn: {test: string, title: string} | null, [key: string]: unknown}} Diagnosis
 */

/** Suspects shown before the rest folds away. */
const SHOWN = 6;

/** @param {Suspect} suspect */
const suspect = ({ repair, percent, faint }) => {
  const line = made("span", repair);
  if (faint) line.append(" ", made("small", "only where these readings do not show it"));
  const row = document.createDocumentFragment();
  row.append(made("b", percent), line);
  return row;
};

/** Each repair a thread, always at its own place: whole while the repair is left, cut by a reading. @param {HTMLElement} part @param {Diagnosis} told @param {string} [place] */
function showThreads(part, { suspects, ruled_out }, place) {
  const left = new Set(suspects.map(({ repair }) => repair));
  const now = new Set(ruled_out.filter((cut) => isBy(cut, place)).map(({ repair }) => repair));
  const each = [...new Set([...left, ...ruled_out.map(({ repair }) => repair)])].sort();
  one(part, "[data-left]").textContent = `${left.size} of ${each.length}`;
  one(part, "[data-threads]").replaceChildren(...each.map((repair) => {
    const thread = made("i");
    if (!left.has(repair)) thread.className = now.has(repair) ? "cut now" : "cut";
    return thread;
  }));
  part.hidden = each.length === 0;
}

/** Whether all that was read is good: what is left then is no list of suspects. @param {Diagnosis} told */
export const isFine = ({ fits, readings }) => fits && readings.some(({ good }) => good) && readings.every(({ good }) => good !== false);

/** What is claimed, before the list of it. @param {Diagnosis} told */
export const before = ({ claim }) => `${claim.replace(/\.$/, "")}:`;

/** @param {Cleared} cut @param {string | undefined} place */
const isBy = ({ by, together_with }, place) => by === place || together_with.includes(place ?? "");

/** The panel after a reading. @param {HTMLElement} panel @param {Diagnosis} told @param {string} place */
export function showTold(panel, told, place) {
  const meaning = told.readings.find((one) => one.place === place);
  const text = (/** @type {string} */ selector, /** @type {string} */ words) => {
    one(panel, selector).textContent = whole(words);
  };
  panel.classList.toggle("fine", isFine(told));
  panel.classList.toggle("bad", meaning?.good === false);
  panel.classList.toggle("sound", meaning?.good === true);
  one(panel, "[data-read]").textContent = meaning?.reading ?? ""; // As it was typed.
  one(panel, "[data-expected]").replaceChildren(worded(place, meaning?.state ?? ""));
  text("[data-meaning]", meaning?.says ?? "");
  text("[data-says]", told.suspects.length ? before(told) : told.verdict);
  for (const part of all(panel, ".bar")) part.hidden = false;
  one(panel, "[data-failed]").hidden = true;
  showSuspects(one(panel, "[data-suspected]"), told.suspects);
  one(panel, "[data-suspected]").hidden = false;
  one(panel, "[data-shares]").hidden = told.suspects.length < 2;
  showThreads(one(panel, "[data-left-part]"), told, place);
  const cleared = told.ruled_out.filter((cut) => isBy(cut, place));
  text("[data-cleared-count]", String(cleared.length));
  list(one(panel, "[data-cleared-part]"), cleared.map(({ repair }) => made("del", repair)));
  const alone = meaning?.good === false && told.readings.length > 1 ? meaning.means : [];
  list(one(panel, "[data-alone-part]"), alone.map(({ repair }) => repair));
  showNext(panel, told);
}

/** The panel before the engine answers, and where it can't be asked. @param {HTMLElement} panel @param {string} reading @param {boolean} failed */
export function showFailed(panel, reading, failed) {
  one(panel, "[data-read]").textContent = reading;
  panel.classList.remove("sound", "bad");
  for (const part of all(panel, "[data-expected], [data-meaning], [data-says]")) part.textContent = "";
  for (const part of all(panel, "[data-engine]")) part.hidden = true;
  one(panel, "[data-failed]").hidden = !failed;
  one(panel, ".bar").hidden = !failed;
}

/** @param {HTMLElement} part @param {Suspect[]} suspects */
function showSuspects(part, suspects) {
  list(part, suspects.slice(0, SHOWN).map(suspect));
  if (suspects.length <= SHOWN) return;
  const rest = made("ul", ...suspects.slice(SHOWN).map((each) => made("li", suspect(each))));
  rest.className = "suspects";
  one(part, "ul").append(made("li", made("details", made("summary", `and ${suspects.length - SHOWN} more`), rest)));
}

/** The engine's next test beside the card's. @param {HTMLElement} panel @param {Diagnosis} told */
function showNext(panel, { next, in_turn, fits }) {
  const same = next !== null && next.test === in_turn?.test;
  one(panel, "[data-next]").hidden = !next;
  one(panel, "[data-next-why]").textContent = next ? whole(`${next.why}.`) : "";
  one(panel, "[data-no-next]").hidden = Boolean(next) || !fits;
  one(panel, "[data-lead]").textContent = same ? "Tells most, and next in the card’s order" : "Tells most";
  lead(one(panel, "[data-go-next]"), next ?? undefined);
  lead(one(panel, "[data-go-turn]"), same ? undefined : (in_turn ?? undefined));
  one(panel, "[data-go-verdict]").classList.toggle("go", !next);
}

/** A link to a test, with the state in which it is to be read. At a point that nobody can choose, as a temperature, it asks
 * for the one there is. @param {HTMLElement} link @param {{test: string, title: string, place?: string, state?: string} | undefined} to */
function lead(link, to) {
  const { test = "", title = "", place = "", state = "" } = to ?? {};
  const screen = document.getElementById(`test-${test}`);
  const open = screen !== null && hasOwn(screen);
  const at = state ? worded(place, state) : stateOf(test);
  link.hidden = to === undefined;
  link.setAttribute("href", `#test-${test}`);
  Object.assign(link.dataset, { test, place: open ? "" : place });
  one(link, "[data-name]").replaceChildren(title, ...(at ? [open ? ", best at " : ", ", at] : []));
}

/** The verdict's own screen. @param {HTMLElement} screen @param {Diagnosis} told */
export function showVerdict(screen, told) {
  screen.classList.add("told");
  screen.classList.toggle("fine", isFine(told));
  lead(one(screen, "[data-again]"), told.next ?? undefined);
  const read = told.readings.length > 0;
  const several = read && told.suspects.length > 1;
  const says = several ? before(told) : told.verdict;
  one(screen, '[data-text="verdict"]').textContent = read ? whole(says) : "Nothing was read, so nothing is ruled out.";
  const left = one(screen, "[data-left-part]");
  if (read) showThreads(left, told);
  else left.hidden = true;
  for (const part of all(screen, "[data-list]")) {
    const key = part.dataset.list ?? "";
    const values = /** @type {(string | {says: string})[]} */ (read ? (told[key] ?? []) : []);
    if (key === "suspects") showSuspects(part, several ? told.suspects : []);
    else list(part, values.map((value) => whole(typeof value === "string" ? value : value.says)));
  }
}
