// Bench mode: one test a screen, what its reading means at once, the next test offered; nothing leaves the phone.
//
// The address names the screen after `#`, so that the phone's own way back works, and the run after `?`. What was read
// is kept at every step (`runs-store.mjs`); what it means is the engine's to say.

import { choose, places, untick } from "./bench-screens.mjs";
import { Shown } from "./bench-shown.mjs";
import { all, one, tap } from "./made.mjs";

/** @param {EventTarget | null} target */
const isOwnField = (target) => target instanceof HTMLElement && "own" in target.dataset;

/**
 * Arrows go from point to point, and choose none: what is chosen takes the list away. Enter chooses as Space does.
 * @param {KeyboardEvent} event
 */
function step(event) {
  const at = event.target;
  if (!(at instanceof HTMLInputElement) || at.type !== "radio") return;
  const points = all(/** @type {HTMLElement} */ (at.closest("fieldset")), "[type=radio]");
  const way = { ArrowDown: 1, ArrowRight: 1, ArrowUp: -1, ArrowLeft: -1 }[event.key];
  if (way) points[(points.indexOf(at) + way + points.length) % points.length].focus();
  else if (event.key === "Enter") at.click();
  else return;
  event.preventDefault();
}

class BenchPart extends Shown {
  /** @param {HTMLElement} root */
  constructor(root) {
    super(root);
    tap(root, "[data-begin]", () => this.begin());
    tap(root, "[data-change]", () => this.change());
    tap(root, "[data-told] [data-remove]", () => this.remove(this.at));
    tap(root, "[data-other]", () => this.other());
    // A test is led to at a place, which its address does not name.
    tap(root, "[data-go-next], [data-go-turn], [data-again]", ({ dataset: { test = "", place } }, event) => {
      event.preventDefault();
      this.go({ test, place });
    });
    root.addEventListener("input", ({ target }) => this.chosen(/** @type {HTMLInputElement} */ (target)));
    root.addEventListener("focusin", ({ target }) => this.entry.form.classList.toggle("own", isOwnField(target)));
    root.addEventListener("keydown", (event) => step(event));
    root.addEventListener("keydown", ({ key, target }) => key === "Enter" && isOwnField(target) && this.entry.field.focus());
    addEventListener("hashchange", () => this.focus(this.show()));
  }

  async start() {
    await this.keeper.open();
    this.root.classList.add("live");
    for (const part of all(this.root, "[data-live]")) part.hidden = false;
    this.show();
    await this.ask();
    // Nobody's typing is taken away.
    if (this.entry.form.hidden || this.keeper.run.readings.length) this.show();
  }

  /** @param {HTMLInputElement} target */
  chosen(target) {
    if (target.closest(".own")) this.type(this.current);
    if (target.type === "radio") {
      if (this.instead) this.type(this.current);
      else this.openTest(this.current);
      scrollTo(0, 0);
      if (!this.entry.form.hidden) this.entry.field.focus({ preventScroll: true });
    }
    if ("vehicle" in target.dataset) this.keeper.name(target.value);
  }

  /** Back to the keys: what is typed takes the place of what was read here. */
  change() {
    this.instead = this.at;
    this.type(this.current);
    this.focus(this.current);
  }

  /** Back to the keys for another point. */
  other() {
    this.type(untick(this.current));
    this.focus(this.current);
  }

  /** @param {string} text */
  async read(text) {
    const screen = this.current;
    const at = this.at;
    if (at === undefined) return this.entry.refuse(`Choose first. ${one(screen, "legend").textContent}`);
    const { readings } = this.keeper.run;
    const kept = this.keeper.read(at, text, this.instead); // The disk works beside the engine.
    const wrong = await this.ask();
    await kept;
    // What another tab read meanwhile counts, too.
    if (this.told && this.told.readings.length < this.keeper.run.readings.length) await this.ask();
    if (wrong) {
      await this.keeper.keep(() => ({ readings }));
      await this.ask();
      return this.entry.refuse(wrong);
    }
    this.instead = undefined;
    this.meaning(screen, at);
    this.focus(this.panel);
  }

  /** @param {string | undefined} at */
  async remove(at) {
    if (at === undefined) return;
    await this.keeper.remove(at);
    await this.ask();
    this.focus(this.show());
  }

  async skip() {
    await this.keeper.skip(this.at === undefined ? places(this.current) : [this.at]);
    await this.ask();
    this.onward();
  }

  onward() {
    if (this.told) this.go(this.told.in_turn ?? this.told.next);
    else location.hash = this.screens[1].id;
  }

  begin() {
    this.keeper.name(this.keeper.run.vehicle);
    this.onward();
  }

  /** To a test, at the place that is asked for, else to the verdict. @param {{test: string, place?: string} | null} to */
  go(to) {
    const id = to ? `test-${to.test}` : "verdict";
    const screen = this.screens.find((each) => each.id === id);
    if (screen && to?.place) choose(screen, to.place);
    else if (screen && to) this.asks = screen;
    // The same address tells nobody that there is another place.
    if (location.hash === `#${id}`) this.focus(this.show());
    else location.hash = id;
  }
}

for (const root of all(document, '[data-part="bench"]')) new BenchPart(root).start().catch(console.error);
