// What bench mode shows: the screen that the address names, the keys or what a reading means, as the run stands.

import { bare, good, meaning } from "./bench-ask.mjs";
import { Entry } from "./bench-entry.mjs";
import { Record } from "./bench-record.mjs";
import { RunKeeper } from "./bench-run.mjs";
import { choose, goodAt, hasOwn, isOwn, overview, place, places, testOf, tick, typed, untick } from "./bench-screens.mjs";
import { showFailed, showTold } from "./bench-told.mjs";
import { all, one } from "./made.mjs";

/** How long nothing more is typed of a point before it is worked out. */
const RESTS = 500;

export class Shown {
  /** @type {import("./bench-told.mjs").Diagnosis | undefined} */
  told;
  asked = 0;
  /** Whether the engine was heard, be it that it can't be asked. */
  answered = false;
  /** The place whose reading is being corrected. @type {string | undefined} */
  instead;

  /** The test whose point is to be chosen anew, whatever was read there. @type {HTMLElement | undefined} */
  asks;

  /** @param {HTMLElement} root */
  constructor(root) {
    this.root = root;
    this.screens = all(root, ".screen");
    this.panel = one(root, "[data-told]");
    this.keeper = new RunKeeper(root);
    this.record = new Record(one(root, "[data-verdict]"), this.keeper, {
      change: (at) => this.screens.forEach((screen) => screen.dataset.test === testOf(at) && choose(screen, at)),
      remove: (at) => this.remove(at),
    });
    this.entry = new Entry(/** @type {HTMLFormElement} */ (one(root, "[data-entry]")), {
      read: (text) => this.read(text),
      skip: () => this.skip(),
      remove: () => this.remove(this.at),
    });
  }

  /** What the keys tell is answered by who shows. @param {string} _text @returns {unknown} */
  read(_text) {}

  /** @returns {unknown} */
  skip() {}

  /** @param {string | undefined} _at @returns {unknown} */
  remove(_at) {}

  get current() {
    return this.screens.find(({ id }) => `#${id}` === location.hash) ?? this.screens[0];
  }

  get at() {
    return place(this.current);
  }

  /** Shows the screen that the address names; answers where the focus goes. */
  show() {
    const current = this.current;
    const { readings, skip } = this.keeper.run;
    for (const screen of this.screens) screen.hidden = screen !== current;
    this.entry.close();
    this.panel.hidden = true;
    this.instead = undefined;
    overview(this.root, readings, skip);
    if (current.dataset.test) this.openTest(current);
    if (current.id === "verdict" && this.answered) this.record.show(this.told ?? bare(this.keeper));
    return this.panel.hidden ? current : this.panel;
  }

  /** @param {HTMLElement} part */
  focus(part) {
    scrollTo(0, 0);
    one(part, "[tabindex]").focus({ preventScroll: true });
  }

  /** A test's screen: what was read there with what it means, else the keys. @param {HTMLElement} screen */
  openTest(screen) {
    if (this.asks === screen && hasOwn(screen)) untick(screen);
    else tick(screen, this.keeper.run.readings);
    this.asks = undefined;
    const at = place(screen);
    if (typed(this.keeper.run.readings, at)) this.meaning(screen, at ?? "");
    else this.type(screen);
  }

  /** @param {HTMLElement} screen */
  type(screen) {
    screen.classList.remove("read");
    this.panel.hidden = true;
    const at = place(screen);
    this.entry.open(screen, at, this.keeper.run.readings);
    clearTimeout(this.rests);
    if (at && isOwn(screen, at)) this.rests = setTimeout(() => this.workOut(at), RESTS);
  }

  /** What is good at a point of one's own, above the keys. @param {string} at */
  async workOut(at) {
    const { good: band, wrong } = await good(this.keeper, at);
    if (at !== this.at || this.entry.form.hidden) return;
    this.entry.refuse(wrong ?? "");
    this.entry.good.replaceChildren(...(band ? goodAt(at.slice(testOf(at).length + 1), band) : []));
  }

  /** @param {HTMLElement} screen @param {string} at */
  meaning(screen, at) {
    this.entry.close();
    screen.classList.add("read");
    this.panel.hidden = false;
    one(this.panel, "[data-several]").hidden = places(screen).length < 2;
    if (this.told?.readings.some((each) => each.place === at)) showTold(this.panel, this.told, at);
    else showFailed(this.panel, typed(this.keeper.run.readings, at), this.answered);
  }

  /** Asks what all readings say; answers what is wrong with the last one, if anything. */
  async ask() {
    const asked = ++this.asked;
    const { told, wrong } = await meaning(this.keeper);
    if (asked === this.asked) {
      this.told = told;
      this.answered = true;
    }
    return wrong;
  }
}
