// Bench mode: one test a screen, what its reading means at once, the next test offered; nothing leaves the phone.
//
// The address names the screen after `#`, so that the phone's own way back works, and the run after `?`. What was read
// is kept at every step (`runs-store.mjs`); what it means is the engine's to say.

import { Entry } from "./bench-entry.mjs";
import { Record } from "./bench-record.mjs";
import { RunKeeper } from "./bench-run.mjs";
import { overview, place, places, tick, typed, untick } from "./bench-screens.mjs";
import { showFailed, showTold } from "./bench-told.mjs";
import { all, one } from "./made.mjs";

class BenchPart {
  /** @type {import("./bench-told.mjs").Diagnosis | undefined} */
  told;
  asked = 0;

  /** @param {HTMLElement} root */
  constructor(root) {
    this.root = root;
    this.screens = all(root, ".screen");
    this.panel = one(root, "[data-told]");
    this.keeper = new RunKeeper(root);
    this.record = new Record(one(root, "[data-verdict]"));
    this.entry = new Entry(/** @type {HTMLFormElement} */ (one(root, "[data-entry]")), {
      read: (text) => this.read(text),
      skip: () => this.skip(),
    });
    one(root, "[data-begin]").addEventListener("click", () => this.begin());
    one(root, "[data-change]").addEventListener("click", () => this.change());
    for (const other of all(root, "[data-other]")) other.addEventListener("click", () => this.type(untick(this.current)));
    root.addEventListener("input", ({ target }) => this.chosen(/** @type {HTMLInputElement} */ (target)));
    addEventListener("hashchange", () => this.focus(this.show()));
  }

  async start() {
    const opened = this.keeper.open();
    if (location.search) await opened;
    this.root.classList.add("live");
    for (const part of all(this.root, "[data-live]")) part.hidden = false;
    this.show();
    await opened;
    await this.ask();
    // Nobody's typing is taken away.
    if (this.entry.form.hidden || this.keeper.run.readings.length) this.show();
  }

  get current() {
    return this.screens.find(({ id }) => `#${id}` === location.hash) ?? this.screens[0];
  }

  /** Shows the screen that the address names; answers where the focus goes. */
  show() {
    const current = this.current;
    for (const screen of this.screens) screen.hidden = screen !== current;
    this.entry.close();
    this.panel.hidden = true;
    overview(this.root, this.keeper.run.readings);
    if (current.dataset.test) this.openTest(current);
    if (current.id === "verdict" && this.told) this.record.show(this.keeper.run, this.told);
    return this.panel.hidden ? current : this.panel;
  }

  /** @param {HTMLElement} part */
  focus(part) {
    scrollTo(0, 0);
    one(part, "[tabindex]").focus({ preventScroll: true });
  }

  /** A test's screen: what was read there with what it means, else the keys. @param {HTMLElement} screen */
  openTest(screen) {
    tick(screen, this.keeper.run.readings);
    const at = place(screen);
    if (this.told?.readings.some((one) => one.place === at)) this.meaning(screen, at ?? "");
    else this.type(screen);
  }

  /** @param {HTMLElement} screen */
  type(screen) {
    screen.classList.remove("read");
    this.panel.hidden = true;
    this.entry.open(screen, place(screen), this.keeper.run.readings);
  }

  /** @param {HTMLElement} screen @param {string} at */
  meaning(screen, at) {
    this.entry.close();
    screen.classList.add("read");
    this.panel.hidden = false;
    if (this.told) showTold(this.panel, this.told, at);
    else showFailed(this.panel, typed(this.keeper.run.readings, at));
  }

  /** @param {HTMLInputElement} target */
  chosen(target) {
    if (target.type === "radio" || target.closest(".own")) this.openTest(this.current);
    if ("vehicle" in target.dataset) this.keeper.keep({ vehicle: target.value });
  }

  /** Back to the keys of this screen. */
  change() {
    this.type(this.current);
    this.focus(this.current);
  }

  /** @param {string} text */
  async read(text) {
    const screen = this.current;
    const at = place(screen);
    if (at === undefined) return;
    const before = this.keeper.run.readings;
    const kept = this.keeper.read(at, text); // The disk works beside the engine.
    const wrong = await this.ask();
    await kept;
    if (wrong) {
      await this.keeper.keep({ readings: before });
      return this.entry.refuse(wrong);
    }
    this.meaning(screen, at);
    this.focus(this.panel);
  }

  async skip() {
    const at = place(this.current);
    await this.keeper.skip(at === undefined ? places(this.current) : [at]);
    await this.ask();
    location.hash = this.onward();
  }

  onward() {
    if (!this.told) return this.screens[1].id;
    const test = this.told.in_turn?.test ?? this.told.next?.test;
    return test ? `test-${test}` : "verdict";
  }

  begin() {
    this.keeper.begin();
    location.hash = this.onward();
  }

  /** Asks what all readings say; answers what is wrong with the last one, if anything. */
  async ask() {
    const asked = ++this.asked;
    const { told, wrong } = await this.keeper.ask();
    if (asked === this.asked) this.told = told;
    return wrong;
  }
}

for (const root of all(document, '[data-part="bench"]')) new BenchPart(root).start().catch(console.error);
