// The search field: results while somebody types, chosen by keys, touch or voice; a combobox with a list.
//
// The last searches stay on this phone. Words go to the engine and come back as pages; nothing is ranked here.

import { Asker } from "./search-ask.mjs";
import { keep, recall } from "./search-last.mjs";
import { groups, lost, said } from "./search-list.mjs";

class SearchPart {
  /** Place of the option chosen by keys; -1 for none. */
  at = -1;
  /** Enter was pressed before the answer came. */
  hurry = false;

  /** @param {HTMLElement} root */
  constructor(root) {
    this.root = root;
    this.field = /** @type {HTMLInputElement} */ (root.querySelector("input"));
    this.list = this.one("[role=listbox]");
    this.told = this.one("[role=status]");
    this.last = this.one("[data-last]");
    this.asker = new Asker(root.dataset.pack ?? "", (query, found) => this.show(query, found), (why) => this.fail(why));
    root.hidden = false;
    // Keyboards on glass may send the form without a key.
    root.addEventListener("submit", (event) => {
      event.preventDefault();
      this.enter();
    });
    this.field.addEventListener("focus", () => this.asker.start());
    this.field.addEventListener("input", () => this.typed());
    this.field.addEventListener("keydown", (event) => this.key(event));
    this.list.addEventListener("click", () => keep(this.field.value));
    this.recall();
    if (this.field.value.trim()) this.typed();
    if (location.hash === "#search") this.field.focus();
    idle(() => this.asker.start());
  }

  /** @param {string} selector @returns {HTMLElement} */
  one(selector) {
    const found = this.root.querySelector(selector);
    if (found instanceof HTMLElement) return found;
    throw new Error(`no ${selector} in the search`);
  }

  typed() {
    this.hurry = false;
    // What was chosen stands in a list of other words.
    this.choose(-1);
    const query = this.field.value.trim();
    if (query) return this.asker.ask(this.field.value);
    this.close();
    this.told.replaceChildren();
    this.recall();
  }

  recall() {
    recall(this.last, (words) => this.ask(words));
  }

  /** @param {string} words */
  ask(words) {
    this.field.value = words;
    this.field.focus();
    this.typed();
  }

  /** @param {string} query @param {import("./search-ask.mjs").Found} found */
  show(query, found) {
    if (query !== this.field.value) return;
    this.last.hidden = true;
    this.list.replaceChildren(...groups(found, this.root.dataset.root ?? ""));
    this.list.hidden = this.options().length === 0;
    this.field.setAttribute("aria-expanded", String(!this.list.hidden));
    this.told.replaceChildren(said(found), ...lost(found, query, (words) => this.ask(words)));
    this.choose(-1);
    if (this.hurry) this.enter();
  }

  /** @param {string} why */
  fail(why) {
    this.hurry = false;
    this.close();
    this.told.replaceChildren(`Search could not be loaded (${why}). The lists below have every circuit; type again to try once more.`);
  }

  close() {
    this.list.hidden = true;
    this.list.replaceChildren();
    this.field.setAttribute("aria-expanded", "false");
    this.choose(-1);
  }

  /** @returns {HTMLAnchorElement[]} */
  options() {
    return [...this.list.querySelectorAll("a")];
  }

  /** @param {number} at */
  choose(at) {
    const options = this.options();
    options[this.at]?.setAttribute("aria-selected", "false");
    this.at = at;
    const own = options[at];
    own?.setAttribute("aria-selected", "true");
    own?.scrollIntoView({ block: "nearest" });
    if (own) this.field.setAttribute("aria-activedescendant", own.id);
    else this.field.removeAttribute("aria-activedescendant");
  }

  /** @param {KeyboardEvent} event */
  key(event) {
    // Enter that ends a word of a keyboard which composes it is that keyboard's.
    if (event.isComposing) return;
    const count = this.options().length;
    // Beyond either end of the list lies the field itself, at -1.
    if (event.key === "ArrowDown" && count) this.choose(this.at + 1 < count ? this.at + 1 : -1);
    else if (event.key === "ArrowUp" && count) this.choose(this.at < 0 ? count - 1 : this.at - 1);
    else if (event.key === "Enter") this.enter();
    else if (event.key === "Escape" && this.field.value) this.ask("");
    else return;
    event.preventDefault();
  }

  /** Opens the page chosen, else the first; while an answer is on its way, the first of that. */
  enter() {
    const own = this.options()[this.at];
    this.hurry = !own && this.asker.busy;
    if (!this.hurry) (own ?? this.options()[0])?.click();
  }
}

/** @param {() => void} work */
function idle(work) {
  if ("requestIdleCallback" in globalThis) requestIdleCallback(work, { timeout: 4000 });
  else setTimeout(work, 1500);
}

for (const root of document.querySelectorAll("[data-part=search]")) {
  try {
    new SearchPart(/** @type {HTMLElement} */ (root));
  } catch (error) {
    console.error(error);
  }
}
