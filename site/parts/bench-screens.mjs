// The screens of bench mode as they stand in the page: which places a test is read at, what was read so far.

import { all, made, one } from "./made.mjs";

/** @typedef {[string, string][]} Readings */

/** The points of a test that can be chosen. @param {ParentNode} screen */
const radios = (screen) => all(screen, "[type=radio]").map((each) => /** @type {HTMLInputElement} */ (each));

/** The places at which a test can be read. @param {HTMLElement} screen @returns {string[]} */
export function places(screen) {
  const only = all(screen, "[data-place]").map((each) => each.dataset.place ?? "");
  return [...only, ...radios(screen).map(({ value }) => value)];
}

/** The point of one's own on a test's screen, with its unit. @param {HTMLElement} screen */
function own(screen) {
  const field = /** @type {HTMLInputElement | null} */ (screen.querySelector("[data-own]"));
  const unit = /** @type {HTMLSelectElement | null} */ (screen.querySelector("[data-own-unit]"));
  return field && unit ? { field, unit } : undefined;
}

/** Whether a test takes a point that the card does not name. @param {HTMLElement} screen */
export const hasOwn = (screen) => own(screen) !== undefined;

/** Whether a place is such a point. @param {HTMLElement} screen @param {string | undefined} at */
export const isOwn = (screen, at) => at !== undefined && hasOwn(screen) && !places(screen).includes(at);

/** The place that is read: the only one, the one chosen, or a point of one's own. @param {HTMLElement} screen @returns {string | undefined} */
export function place(screen) {
  const all = places(screen);
  const chosen = radios(screen).find(({ checked }) => checked);
  const point = own(screen);
  const typed = point?.field.value.trim();
  if (typed && !chosen) return `${screen.dataset.test}@${typed} ${point?.unit.value}`;
  return all.length === 1 && !point ? all[0] : chosen?.value;
}

/** A state as the page words it, in the units of its reader; one's own point as it was typed. @param {string} place @param {string} state @returns {Node | string} */
export function worded(place, state) {
  const label = document.querySelector(`label:has([value="${CSS.escape(place)}"]) span, [data-place="${CSS.escape(place)}"] > span`);
  return label?.cloneNode(true) ?? state;
}

/** The one state in which a test is read, empty where there is none or more than one. @param {string} test @returns {Node | string} */
export function stateOf(test) {
  const only = document.querySelector(`#test-${CSS.escape(test)} [data-place] > span`);
  return only?.cloneNode(true) ?? "";
}

/** Units that a reading at a place can be typed in, the usual one first; an empty one is what the tool shows without any. @param {HTMLElement} screen @param {string | undefined} at */
export function unitsAt(screen, at) {
  const own = all(screen, "[data-units]").find((each) => (each.dataset.place ?? each.getAttribute("value")) === at);
  return (own ?? screen).dataset.units?.split("|") ?? [];
}

/** The test that a place belongs to. @param {string} place */
export const testOf = (place) => place.split("@")[0];

/** What a good circuit reads at a place, as the page has it. @param {HTMLElement} screen @param {string | undefined} at @returns {Node[]} */
export function read(screen, at) {
  const only = screen.querySelector("[data-place]");
  if (only) return [...only.cloneNode(true).childNodes];
  const label = radios(screen).find(({ value }) => value === at)?.closest("label");
  if (!label) return [];
  const [state, ...rest] = [...label.querySelectorAll(":scope > :not(input)")].map((part) => part.cloneNode(true));
  return goodAt(state, ...rest.flatMap((part) => [part, document.createTextNode(" ")]));
}

/** `20 C, a good circuit: 2.8 to 3.1 V`. @param {Node | string} state @param {...(Node | string)} band @returns {Node[]} */
export function goodAt(state, ...band) {
  const [first, ...rest] = band;
  return [...made("p", state, ", a good circuit: ", typeof first === "string" ? made("b", first) : first, ...rest).childNodes];
}

/** What was read at each place, with the test's title, the point and what a good circuit reads, in the page's words. @param {HTMLElement} root @param {Readings} readings */
export function told(root, readings) {
  return readings.map(([at, text]) => {
    const screen = all(root, "[data-test]").find(({ dataset }) => dataset.test === testOf(at));
    const state = at.slice(testOf(at).length + 1);
    const band = read(screen ?? root, at).find((part) => part.nodeName === "B");
    return { place: at, title: screen ? (one(screen, "h2").textContent ?? "") : at, state: saying(worded(at, state)), reading: text, expected: band?.textContent ?? "" };
  });
}

/** The text of what a page shows of both systems of units. @param {Node | string} what */
export function saying(what) {
  if (!(what instanceof Element)) return typeof what === "string" ? what : (what.textContent ?? "");
  const us = document.documentElement.dataset.units === "us";
  return (what.querySelector(us ? ".us" : ".si") ?? what).textContent ?? "";
}

/** Names the scan value that is read at a place, every one before one is chosen. @param {HTMLElement} screen @param {string | undefined} at */
export function watch(screen, at) {
  const line = screen.querySelector("[data-watch]");
  if (!(line instanceof HTMLElement)) return;
  line.dataset.watch ||= line.textContent ?? "";
  const label = radios(screen).find(({ value }) => value === at)?.closest("label");
  line.textContent = label ? `\u201c${saying(one(label, "span")).replaceAll("\u00a0", " ")}\u201d` : line.dataset.watch;
}

/** Lets a place be the one that is read. @param {HTMLElement} screen @param {string} at */
export function choose(screen, at) {
  untick(screen);
  const radio = radios(screen).find(({ value }) => value === at);
  const point = own(screen);
  if (radio) radio.checked = true;
  else if (point && at.includes("@")) [point.field.value, point.unit.value] = at.slice(at.indexOf("@") + 1).split(" ");
}

/** Chooses the place at which a test was read, where nothing is chosen yet. @param {HTMLElement} screen @param {Readings} readings */
export function tick(screen, readings) {
  if (place(screen) !== undefined) return;
  const point = own(screen);
  if (point && document.documentElement.dataset.units === "us") point.unit.selectedIndex = point.unit.length - 1;
  const [at] = readings.findLast(([known]) => testOf(known) === screen.dataset.test) ?? [];
  if (at !== undefined) choose(screen, at);
}

/** Lets another place be chosen. @param {HTMLElement} screen */
export function untick(screen) {
  for (const radio of radios(screen)) radio.checked = false;
  const point = own(screen);
  if (point) point.field.value = "";
  return screen;
}

/** What was typed at a place. @param {Readings} readings @param {string | undefined} place */
export const typed = (readings, place) => readings.find(([at]) => at === place)?.[1] ?? "";

/** Every test with what was read at it, or that it was skipped. @param {HTMLElement} root @param {Readings} readings @param {string[]} skipped */
export function overview(root, readings, skipped) {
  for (const line of all(root, "[data-overview]")) {
    const test = line.dataset.overview ?? "";
    const own = readings.filter(([at]) => testOf(at) === test);
    line.querySelector(".read, .skipped")?.remove();
    const words = own.map(([at, text]) => `${at.slice(test.length + 1)} ${text}`.trim()).join(", ");
    const left = own.length === 0 && skipped.some((at) => testOf(at) === test);
    if (!words && !left) continue;
    const read = made("b", left ? "skipped" : words);
    read.className = left ? "skipped" : "read";
    one(line, "a").append(read);
  }
  one(root, "[data-to-verdict]").hidden = readings.length === 0;
  one(root, "[data-begin]").textContent = readings.length ? "Go on" : "Begin";
}
