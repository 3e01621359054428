// The keys of bench mode: digits, units and words for a reading, for a thumb and for a keyboard.
//
// A reading is a text such as `5.03 V`; whether it makes sense is the engine's to say. What a good circuit reads stands
// above the digits, so that it is in view while they are typed.

import { hasOwn, places, read, typed, unitsAt, watch } from "./bench-screens.mjs";
import { all, one } from "./made.mjs";

/** Digits alone, behind which a unit may stand. */
const BARE = /^[-\u2212]?\d*[.,]?\d*$/;

export class Entry {
  /** What stands in the field was read before: the first digit takes its place. */
  old = false;

  /**
   * @param {HTMLFormElement} form
   * @param {{read: (text: string) => void, skip: () => void, remove: () => void}} tells
   */
  constructor(form, tells) {
    this.form = form;
    this.tells = tells;
    this.field = /** @type {HTMLInputElement} */ (one(form, "[data-reading]"));
    this.wrong = one(form, "[data-wrong]");
    this.good = one(form, "[data-good]");
    form.addEventListener("submit", (event) => {
      event.preventDefault();
      this.enter();
    });
    // A key leaves the focus where it is, so that it types into a point of one's own, too.
    form.addEventListener("mousedown", (event) => {
      if (/** @type {Element} */ (event.target).closest("[data-key]")) event.preventDefault();
    });
    form.addEventListener("click", ({ target }) => this.press(/** @type {Element} */ (target).closest("button")));
    addEventListener("click", ({ target }) => {
      const shown = /** @type {Element} */ (target).closest(".screen [data-say]");
      if (shown) this.press(/** @type {HTMLButtonElement} */ (shown));
    });
    addEventListener("keydown", (event) => this.type(event));
  }

  /**
   * Shows what this test can be answered with. What was read before stands ready to be corrected.
   * @param {HTMLElement} screen
   * @param {string | undefined} at the place, none before one is chosen
   * @param {import("./bench-screens.mjs").Readings} readings
   */
  open(screen, at, readings) {
    const before = typed(readings, at);
    this.form.classList.toggle("waits", at === undefined);
    one(this.form, "[data-other]").hidden = at === undefined || (places(screen).length < 2 && !hasOwn(screen));
    one(this.form, "[data-skip]").hidden = before !== "";
    one(this.form, "[data-remove]").hidden = before === "";
    const units = unitsAt(screen, at);
    const [, digits = before, named = ""] = /^(\S+)\s+(.+)$/.exec(before) ?? [];
    this.unit = units.includes(named) ? named : (units[0] ?? "");
    for (const key of this.unitKeys()) key.hidden = !units.includes(key.dataset.unit ?? "");
    const own = [screen.dataset.says, "cannot measure"];
    for (const key of all(this.form, "[data-say]")) key.hidden = !own.includes(key.dataset.say ?? "");
    this.field.value = BARE.test(digits) ? digits : before;
    this.old = this.field.value !== "";
    this.good.replaceChildren(...read(screen, at));
    watch(screen, at);
    this.refuse("");
    this.mark();
    this.form.hidden = false;
  }

  close() {
    this.form.hidden = true;
  }

  /** @param {string} says */
  refuse(says) {
    this.wrong.textContent = says;
    this.wrong.hidden = says === "";
  }

  /** @param {HTMLButtonElement | null} button */
  press(button) {
    const { key, unit, say } = button?.dataset ?? {};
    if (key) this.put(key);
    if (unit !== undefined) this.unit = unit;
    if (say) this.tells.read(say);
    if (button && "skip" in button.dataset) this.tells.skip();
    if (button && "remove" in button.dataset) this.tells.remove();
    this.mark();
  }

  /** Into the field that has the focus: a point of one's own, else the reading. @param {string} key */
  put(key) {
    this.refuse("");
    const at = document.activeElement;
    const into = at instanceof HTMLInputElement && "own" in at.dataset ? at : this.field;
    const digit = key !== "back" && key !== "minus";
    const value = digit && into === this.field && this.old ? "" : into.value;
    if (into === this.field) this.old = false;
    if (key === "back") into.value = value.slice(0, -1);
    else if (key === "minus") into.value = value.startsWith("-") ? value.slice(1) : `-${value}`;
    else if (value.length < into.maxLength && (key !== "." || !value.includes("."))) into.value = value + key;
    if (into !== this.field) into.dispatchEvent(new Event("input", { bubbles: true }));
  }

  /** A keyboard beside the phone types into the field from anywhere on the screen. @param {KeyboardEvent} event */
  type(event) {
    const target = /** @type {Element} */ (event.target);
    const free = !this.form.hidden && !event.ctrlKey && !event.metaKey && !event.altKey && !target.matches("input:not([type=radio], [data-reading]), textarea, select");
    if (!free || !/^[\d.,-]$/.test(event.key) || (target === this.field && !this.old)) return;
    event.preventDefault();
    this.put(event.key === "-" ? "minus" : event.key.replace(",", "."));
    this.field.focus();
  }

  enter() {
    const at = document.activeElement;
    if (at instanceof HTMLElement && "own" in at.dataset) return this.field.focus();
    const typed = this.field.value.trim();
    if (BARE.test(typed) && !/\d/.test(typed)) {
      this.refuse("Type what you read first, in digits; or tap a word above the keys.");
      return;
    }
    this.tells.read(BARE.test(typed) ? `${typed} ${this.unit}`.trim() : typed);
  }

  mark() {
    for (const key of this.unitKeys()) key.setAttribute("aria-pressed", String(key.dataset.unit === this.unit));
  }

  unitKeys() {
    return all(this.form, "[data-unit]");
  }
}
