// The keys of bench mode: digits, units and words for a reading, for a thumb and for a keyboard.
//
// A reading is a text such as `5.03 V`; whether it makes sense is the engine's to say.

import { typed } from "./bench-screens.mjs";
import { all, one } from "./made.mjs";

/** Digits alone, behind which a unit may stand. */
const BARE = /^[-\u2212]?\d*[.,]?\d*$/;

export class Entry {
  /**
   * @param {HTMLFormElement} form
   * @param {{read: (text: string) => void, skip: () => void}} tells
   */
  constructor(form, tells) {
    this.form = form;
    this.tells = tells;
    this.field = /** @type {HTMLInputElement} */ (one(form, "[data-reading]"));
    this.wrong = one(form, "[data-wrong]");
    form.addEventListener("submit", (event) => {
      event.preventDefault();
      this.enter();
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
    for (const other of all(screen, "[data-other]")) other.hidden = at === undefined;
    const units = (screen.dataset.units ?? "").split(" ").filter(Boolean);
    const [, digits = "", named = ""] = /^(\S+)\s+(\S+)$/.exec(before) ?? [];
    this.unit = units.includes(named) ? named : (units[0] ?? "");
    for (const key of this.unitKeys()) key.hidden = !units.includes(key.dataset.unit ?? "");
    const own = [screen.dataset.says, "cannot measure"];
    for (const key of all(this.form, "[data-say]")) key.hidden = !own.includes(key.dataset.say ?? "");
    this.field.value = BARE.test(digits) ? digits : before;
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
    if (unit) this.unit = unit;
    if (say) this.tells.read(say);
    if (button && "skip" in button.dataset) this.tells.skip();
    this.mark();
  }

  /** @param {string} key */
  put(key) {
    this.refuse("");
    const value = this.field.value;
    if (key === "back") this.field.value = value.slice(0, -1);
    else if (key === "minus") this.field.value = value.startsWith("-") ? value.slice(1) : `-${value}`;
    else if (key !== "." || !value.includes(".")) this.field.value = value + key;
  }

  /** A keyboard beside the phone types into the field from anywhere on the screen. @param {KeyboardEvent} event */
  type(event) {
    const target = /** @type {Element} */ (event.target);
    const free = !this.form.hidden && !event.ctrlKey && !event.metaKey && !event.altKey && !target.matches("input, textarea, select");
    if (free && /^[\d.,-]$/.test(event.key)) {
      event.preventDefault();
      this.put(event.key === "-" ? "minus" : event.key.replace(",", "."));
      this.field.focus();
    }
  }

  enter() {
    const typed = this.field.value.trim();
    if (typed === "") {
      this.refuse("Type what you read first.");
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
