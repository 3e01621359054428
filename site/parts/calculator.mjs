// A calculator's page: what is typed goes to the engine, its answer or refusals come back to the page.
//
// The texts in the fields are also kept in the address, so that a calculation can be sent. No number is
// read or written here.

import { isTyped, prefer, put, settle, text } from "./calculator-field.mjs";

/** @typedef {import("./calculator-field.mjs").Control} Control */
/** @typedef {{name: string | null, says: string, hint: string}} Refusal */
/** @typedef {{name: string, label: string, says: string, value: unknown}} Result */
/** @typedef {{results?: Result[], steps: string[], notes: string[], used: {name: string, text: string, by_default: boolean}[], refusals?: Refusal[]}} Report */

/** Milliseconds without a key before the engine is asked. */
const PAUSE = 120;
/** Texts longer than this stay out of the address. */
const LONGEST = 2000;

class CalculatorPart {
  asked = 0;
  /** @type {ReturnType<typeof setTimeout> | undefined} */
  timer;
  /** Keys of fields that somebody typed into. @type {Set<string>} */
  touched = new Set();

  /** @param {HTMLElement} root */
  constructor(root) {
    this.root = root;
    this.form = /** @type {HTMLFormElement} */ (root.querySelector("form"));
    this.told = this.one("[data-told]");
    /** @type {Control[]} */
    this.controls = [...this.form.querySelectorAll("[name]")];
    this.one("[data-still]").hidden = true;
    if (document.documentElement.dataset.units === "us") this.controls.forEach(prefer);
    const sent = new URLSearchParams(location.search);
    for (const control of this.controls.filter(({ name }) => sent.has(name))) put(control, sent.get(control.name) ?? "");
    this.form.addEventListener("submit", (event) => event.preventDefault());
    this.form.addEventListener("input", ({ target }) => this.typed(/** @type {Element} */ (target)));
    if (this.controls.some(isTyped)) this.answer();
  }

  /** @param {string} selector @returns {HTMLElement} */
  one(selector) {
    const found = this.root.querySelector(selector);
    if (found instanceof HTMLElement) return found;
    throw new Error(`no ${selector} on the page`);
  }

  /** @param {Element} target */
  typed(target) {
    const key = target.closest("[data-key]")?.getAttribute("data-key");
    if (key) this.touched.add(key);
    this.told.ariaBusy = "true";
    clearTimeout(this.timer);
    this.timer = setTimeout(() => this.answer(), PAUSE);
  }

  async answer() {
    const asked = ++this.asked;
    this.told.ariaBusy = "true";
    const given = Object.fromEntries(this.controls.filter(isTyped).map((control) => [control.name, text(control)]));
    keep(given);
    this.controls.forEach(settle);
    const calculator = this.root.dataset.calculator ?? "";
    try {
      const { ask } = await import("./engine.mjs");
      /** @type {Report} */
      const report = await ask("reckon", { calculator, given });
      if (asked === this.asked) this.show(report);
    } catch (error) {
      console.info(error);
      if (asked !== this.asked) return;
      this.refuse([]);
      this.tell("", "No answer: the part of this site that calculates could not be loaded. The worked example below still holds.");
    }
  }

  /** @param {Report} report */
  show({ results, steps, notes, used, refusals = [] }) {
    this.refuse(refusals);
    if (!results) {
      const general = refusals.filter(({ name }) => name === null).map(({ says, hint }) => `${says}; ${hint}`);
      const marked = refusals.length - general.length;
      if (marked) general.push(marked === 1 ? "one value is missing or can’t be used, see its field" : `${marked} values are missing or can’t be used, see their fields`);
      this.tell("", `No answer yet: ${general.join(". ")}.`);
      return;
    }
    const verdict = results.slice(1).find(({ value }) => typeof value === "string");
    this.tell(results[0].says, `${results[0].label}${verdict ? `. ${verdict.label}: ${verdict.says}` : ""}`);
    this.one("[data-results]").replaceChildren(...results.map(({ label, says }) => made("div", made("dt", label), made("dd", says))));
    this.one("[data-steps]").replaceChildren(...steps.map((step) => made("li", step)));
    this.one("[data-notes]").replaceChildren(...notes.map((note) => made("li", note)));
    const taken = used.filter((one) => one.by_default).map(({ name, text: typed }) => `${this.label(name)} ${typed}`);
    this.one("[data-used]").textContent = taken.length ? `Not typed, so taken: ${taken.join("; ")}.` : "";
    this.one("[data-answer]").hidden = false;
  }

  /** @param {string} key */
  label(key) {
    const control = this.controls.find(({ name }) => name === key);
    return control?.labels?.[0]?.firstChild?.textContent?.trim() ?? key;
  }

  /** Each refusal beside its field; a field still empty is told more quietly. @param {Refusal[]} refusals */
  refuse(refusals) {
    this.one("[data-answer]").hidden = true;
    for (const control of this.controls) {
      const own = refusals.filter(({ name }) => name === control.name);
      const beside = this.one(`[id="wrong-${control.name}"]`);
      beside.textContent = own.map(({ says, hint }) => `${says}; ${hint}`).join(". ");
      beside.hidden = own.length === 0;
      const lacks = text(control) === "" && !this.touched.has(control.name);
      beside.classList.toggle("lacks", lacks);
      control.setAttribute("aria-invalid", String(own.length > 0 && !lacks));
      const aside = control.closest("details");
      if (aside && own.length > 0) aside.open = true;
    }
  }

  /** @param {string} result @param {string} words */
  tell(result, words) {
    this.told.ariaBusy = "false";
    this.told.replaceChildren(...(result ? [made("b", result), " "] : []), words);
    this.told.hidden = false;
  }
}

/** Keeps what is typed in the address. @param {Record<string, string>} given */
function keep(given) {
  const search = `${new URLSearchParams(given)}`;
  if (search.length <= LONGEST) history.replaceState(null, "", search ? `?${search}` : location.pathname);
}

/** @param {string} name @param {...(string | Node)} content */
function made(name, ...content) {
  const element = document.createElement(name);
  element.append(...content);
  return element;
}

for (const root of document.querySelectorAll('[data-part="calculator"]')) {
  try {
    new CalculatorPart(/** @type {HTMLElement} */ (root));
  } catch (error) {
    console.error(error);
  }
}
