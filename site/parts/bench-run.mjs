// The run at hand: what was read and skipped, kept at every step; its record to take away.

import { all, made, one } from "./made.mjs";
import { alter, kept, kepts, moment } from "./runs-store.mjs";

/** @typedef {import("./runs-store.mjs").Run} Run */

/** Earlier runs of a card offered on its first screen. */
const OFFERED = 3;

export class RunKeeper {
  /** Whether this phone keeps the run. */
  kept = false;
  changes = 0;

  /** @param {HTMLElement} root */
  constructor(root) {
    this.root = root;
    const { card = "", title = "", codes = "", circuit = "" } = root.dataset;
    const now = new Date();
    /** @type {Run} */
    this.run = {
      id: `${now.getTime().toString(36)}-${Math.floor(Math.random() * 1e6).toString(36)}`,
      card, title, codes, circuit,
      path: location.pathname,
      vehicle: "",
      started: now.toISOString(),
      changed: now.toISOString(),
      readings: [],
      skip: [],
      verdict: "",
    };
  }

  /** Takes up the run that the address names, or offers the card's latest. */
  async open() {
    try {
      const id = new URLSearchParams(location.search).get("run");
      const known = id ? await kept(id) : undefined;
      for (const part of all(this.root, "[data-unknown]")) part.hidden = !id || known?.card === this.run.card;
      if (known?.card === this.run.card) {
        this.run = known;
        this.kept = true;
        one(this.root, "[data-renewed]").hidden = known.circuit === this.root.dataset.circuit;
      } else {
        this.offer((await kepts()).filter(({ card }) => card === this.run.card).slice(0, OFFERED));
      }
    } catch (error) {
      this.refused(error);
    }
    for (const field of all(this.root, "[data-vehicle]")) /** @type {HTMLInputElement} */ (field).value ||= this.run.vehicle;
  }

  /** @param {Run[]} runs */
  offer(runs) {
    const earlier = one(this.root, "[data-earlier]");
    earlier.replaceChildren(...runs.map(({ id, vehicle, changed, readings }) => {
      const link = made("a", made("b", `Go on with ${vehicle || "the run"}`), " ", made("span", `${moment(changed)}, ${readings.length} read`));
      link.setAttribute("href", `?run=${id}#start`);
      return made("li", link);
    }));
    earlier.hidden = runs.length === 0;
  }

  /** A reading at a place; the one that it corrects goes. @param {string} at @param {string} text @param {string} [instead] */
  async read(at, text, instead) {
    await this.keep(({ readings, skip }) => ({
      readings: [...readings.filter(([known]) => known !== at && known !== instead), [at, text]],
      skip: skip.filter((known) => known !== at),
    }));
  }

  /** @param {string} at */
  async remove(at) {
    await this.keep(({ readings }) => ({ readings: readings.filter(([known]) => known !== at) }));
  }

  /** Never a place that was read. @param {string[]} places */
  async skip(places) {
    await this.keep(({ readings, skip }) => ({
      skip: [...new Set([...skip, ...places.filter((at) => readings.every(([known]) => known !== at))])],
    }));
  }

  /** Whose vehicle it is. @param {string} vehicle */
  async name(vehicle) {
    await this.keep(() => ({ vehicle: vehicle.trim() }));
  }

  /** Changes the run, here and on the disk, where another tab may have changed it too. @param {(run: Run) => Partial<Run>} change */
  async keep(change) {
    const own = ++this.changes;
    const apply = (/** @type {Run} */ run) => ({ ...run, ...change(run), changed: new Date().toISOString() });
    this.run = apply(this.run);
    try {
      const now = await alter(this.run, apply, this.kept);
      if (own === this.changes) this.run = now;
      if (!this.kept) history.replaceState(null, "", `?run=${this.run.id}${location.hash}`);
      this.kept = true;
      for (const part of all(this.root, "[data-unkept], [data-unknown]")) part.hidden = true;
    } catch (error) {
      this.refused(error);
    }
  }

  /** Said on every screen. @param {unknown} error */
  refused(error) {
    console.info(error);
    for (const part of all(this.root, "[data-unkept]")) {
      part.hidden = false;
      if (error === "gone") part.textContent = part.dataset.gone ?? "";
    }
  }
}

