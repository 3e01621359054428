// The last searches: kept on this device alone, offered again, forgotten when asked.

import { button, element } from "./search-list.mjs";

/** Where they are kept, how many, and how long one may be. */
const KEPT = "loomleaf.searches";
const MOST = 6;
const LONGEST = 80;

/** @returns {string[]} */
function kept() {
  try {
    const kept = JSON.parse(localStorage.getItem(KEPT) ?? "[]");
    return Array.isArray(kept) ? kept.filter((one) => typeof one === "string").slice(0, MOST) : [];
  } catch {
    return [];
  }
}

/** @param {string[]} searches */
function write(searches) {
  try {
    localStorage.setItem(KEPT, JSON.stringify(searches));
  } catch {
    // A browser that keeps nothing only forgets.
  }
}

/** Remembers words that led somewhere. @param {string} query */
export function keep(query) {
  const words = query.trim().slice(0, LONGEST);
  if (words) write([words, ...kept().filter((one) => one !== words)].slice(0, MOST));
}

/** Shows them in a place. @param {HTMLElement} place @param {(words: string) => void} ask */
export function recall(place, ask) {
  const searches = kept();
  const forget = button("Forget these", () => {
    write([]);
    // The button is gone with the list: back to the field, or keys would begin at the top of the page.
    ask("");
  });
  place.replaceChildren(
    element("span", {}, "Last searches, kept on this device alone:"),
    ...searches.map((one) => button(one, () => ask(one))),
    forget,
  );
  place.hidden = searches.length === 0;
}
