// The screens of bench mode as they stand in the page: which places a test is read at, what was read so far.

import { made, one } from "./made.mjs";

/** @typedef {[string, string][]} Readings */

/** The places at which a test can be read. @param {HTMLElement} screen @returns {string[]} */
export function places(screen) {
  const all = [...screen.querySelectorAll("[data-place], [type=radio]")];
  return all.map((each) => (each instanceof HTMLInputElement ? each.value : (/** @type {HTMLElement} */ (each).dataset.place ?? "")));
}

/** The point of one's own on a test's screen, with its unit. @param {HTMLElement} screen */
function own(screen) {
  const field = /** @type {HTMLInputElement | null} */ (screen.querySelector("[data-own]"));
  const unit = /** @type {HTMLSelectElement | null} */ (screen.querySelector("[data-own-unit]"));
  return field && unit ? { field, unit } : undefined;
}

/** The place that is read: the only one, the one chosen, or a point of one's own. @param {HTMLElement} screen @returns {string | undefined} */
export function place(screen) {
  const all = places(screen);
  const chosen = /** @type {HTMLInputElement | null} */ (screen.querySelector("[type=radio]:checked"));
  const point = own(screen);
  const typed = point?.field.value.trim();
  if (typed && !chosen) return `${screen.dataset.test}@${typed} ${point?.unit.value}`;
  return all.length === 1 ? all[0] : chosen?.value;
}

/** A state as the page words it, in the units of its reader; one's own point as it was typed. @param {string} place @param {string} state @returns {Node | string} */
export function worded(place, state) {
  const radio = document.querySelector(`[type=radio][value="${CSS.escape(place)}"]`);
  return radio?.parentElement?.querySelector("span")?.cloneNode(true) ?? state;
}

/** Chooses the place at which a test was read, where nothing is chosen yet. @param {HTMLElement} screen @param {Readings} readings */
export function tick(screen, readings) {
  if (place(screen) !== undefined) return;
  const radios = [...screen.querySelectorAll("[type=radio]")].map((each) => /** @type {HTMLInputElement} */ (each));
  const read = radios.find(({ value }) => readings.some(([at]) => at === value));
  if (read) read.checked = true;
  const point = own(screen);
  if (point && document.documentElement.dataset.units === "us") point.unit.selectedIndex = point.unit.length - 1;
  const [at] = readings.find(([known]) => known.startsWith(`${screen.dataset.test}@`)) ?? [];
  if (read || !point || !at) return;
  [point.field.value, point.unit.value] = at.slice(at.indexOf("@") + 1).split(" ");
}

/** Lets another place be chosen. @param {HTMLElement} screen */
export function untick(screen) {
  for (const radio of screen.querySelectorAll("[type=radio]")) /** @type {HTMLInputElement} */ (radio).checked = false;
  const point = own(screen);
  if (point) point.field.value = "";
  return screen;
}

/** What was typed at a place. @param {Readings} readings @param {string | undefined} place */
export const typed = (readings, place) => readings.find(([at]) => at === place)?.[1] ?? "";

/** Every test with what was read at it. @param {HTMLElement} root @param {Readings} readings */
export function overview(root, readings) {
  for (const line of root.querySelectorAll("[data-overview]")) {
    const test = /** @type {HTMLElement} */ (line).dataset.overview ?? "";
    const own = readings.filter(([at]) => at === test || at.startsWith(`${test}@`));
    line.querySelector(".read")?.remove();
    if (own.length === 0) continue;
    const read = made("b", own.map(([at, text]) => `${at.slice(test.length + 1)} ${text}`.trim()).join(", "));
    read.className = "read";
    one(line, "a").append(read);
  }
  one(root, "[data-to-verdict]").hidden = readings.length === 0;
  one(root, "[data-begin]").textContent = readings.length ? "Go on" : "Begin";
}
