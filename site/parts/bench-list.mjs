// The readings of a run at its verdict, each to be changed or taken back.

import { worded } from "./bench-screens.mjs";
import { all, one } from "./made.mjs";

/** @typedef {import("./bench-told.mjs").Diagnosis} Diagnosis */

/**
 * @param {HTMLElement} part
 * @param {Diagnosis} told
 * @param {{change: (place: string) => void, remove: (place: string) => void}} tells
 */
export function listReadings(part, { readings }, tells) {
  const pattern = /** @type {HTMLTemplateElement} */ (one(part, "template"));
  part.hidden = readings.length === 0;
  one(part, "ul").replaceChildren(...readings.map(({ place, title, state, reading, good }) => {
    const line = /** @type {HTMLElement} */ (/** @type {DocumentFragment} */ (pattern.content.cloneNode(true)).firstElementChild);
    const named = state ? `${title}, ${state}` : title;
    one(line, "[data-title]").replaceChildren(title, ...(state ? [", ", worded(place, state)] : []));
    one(line, "[data-value]").textContent = `${good === false ? "✕ " : good ? "✓ " : ""}${reading}`;
    const [change, remove] = all(line, "a, button");
    change.setAttribute("href", `#test-${place.split("@")[0]}`);
    change.addEventListener("click", () => tells.change(place));
    remove.setAttribute("aria-label", `Remove the reading ${named}: ${reading}`);
    remove.addEventListener("click", () => tells.remove(place));
    return line;
  }));
}
