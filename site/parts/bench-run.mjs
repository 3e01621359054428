// The run at hand: what was read and skipped, kept at every step; its record to take away.

import { made, one } from "./made.mjs";
import { keep, kept, kepts, moment } from "./runs-store.mjs";

/** @typedef {import("./runs-store.mjs").Run} Run */
/** @typedef {import("./bench-told.mjs").Diagnosis} Diagnosis */

/** Earlier runs of a card offered on its first screen. */
const OFFERED = 3;

export class RunKeeper {
  /** Whether this phone keeps the run. */
  kept = false;

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
    this.vehicle = /** @type {HTMLInputElement} */ (one(root, "[data-vehicle]"));
  }

  /** Takes up the run that the address names, or offers the card's latest. */
  async open() {
    try {
      const id = new URLSearchParams(location.search).get("run");
      const known = id ? await kept(id) : undefined;
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
    this.vehicle.value ||= this.run.vehicle;
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

  async begin() {
    await this.keep({ vehicle: this.vehicle.value.trim() });
  }

  /** @param {string} place @param {string} text */
  async read(place, text) {
    const readings = this.run.readings.filter(([at]) => at !== place);
    await this.keep({ readings: [...readings, [place, text]], skip: this.run.skip.filter((at) => at !== place) });
  }

  /** @param {string[]} places */
  async skip(places) {
    await this.keep({
      readings: this.run.readings.filter(([at]) => !places.includes(at)),
      skip: [...new Set([...this.run.skip, ...places])],
    });
  }

  /**
   * What all readings say, none where the engine can't be asked; and what is wrong with the last one.
   * @returns {Promise<{told?: Diagnosis, wrong?: string}>}
   */
  async ask() {
    const { readings, skip } = this.run;
    try {
      const { ask } = await import("./engine.mjs");
      const circuit = new URL(this.root.dataset.circuit ?? "", location.href).href;
      const { diagnosis, wrong } = await ask("diagnose", { circuit, readings, skip });
      const verdict = readings.length ? diagnosis.verdict : "";
      if (this.kept && verdict !== this.run.verdict) await this.keep({ verdict });
      const last = wrong.find((/** @type {{at: number}} */ { at }) => at === readings.length - 1);
      return { told: diagnosis, wrong: last?.says };
    } catch (error) {
      console.info(error);
      return {};
    }
  }

  /** @param {Partial<Run>} change */
  async keep(change) {
    this.run = { ...this.run, ...change, changed: new Date().toISOString() };
    try {
      await keep(this.run);
      if (!this.kept) history.replaceState(null, "", `?run=${this.run.id}${location.hash}`);
      this.kept = true;
      one(this.root, "[data-unkept]").hidden = true;
    } catch (error) {
      this.refused(error);
    }
  }

  /** @param {unknown} error */
  refused(error) {
    console.info(error);
    one(this.root, "[data-unkept]").hidden = false;
  }
}
