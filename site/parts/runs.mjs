// The list of runs on this phone: open one again, delete one for good.

import { all, one } from "./made.mjs";
import { forget, kepts, moment } from "./runs-store.mjs";

/** @typedef {import("./runs-store.mjs").Run} Run */

class RunsPart {
  /** @param {HTMLElement} root */
  constructor(root) {
    this.root = root;
    this.list = one(root, "[data-runs]");
    this.none = one(root, "[data-none]");
    this.pattern = /** @type {HTMLTemplateElement} */ (one(root, "template"));
  }

  async show() {
    try {
      const runs = await kepts();
      this.list.replaceChildren(...runs.map((run) => this.line(run)));
      this.none.textContent = runs.length ? "" : "No run is kept here yet.";
    } catch (error) {
      console.info(error);
      this.none.textContent = "This phone keeps nothing for this site: it refused, or is full.";
    }
  }

  /** @param {Run} run */
  line(run) {
    const line = /** @type {HTMLElement} */ (/** @type {DocumentFragment} */ (this.pattern.content.cloneNode(true)).firstElementChild);
    one(line, "[data-open]").setAttribute("href", `${run.path}?run=${run.id}#${run.readings.length ? "verdict" : "start"}`);
    one(line, "[data-title]").textContent = run.vehicle ? `${run.title}, ${run.vehicle}` : run.title;
    one(line, "[data-when]").textContent = `${run.vehicle ? "" : "No vehicle named, "}${moment(run.changed)}, ${run.readings.length} read${run.readings.length ? `, last ${run.readings.at(-1)?.[1]}` : ""}.`;
    one(line, "[data-verdict]").textContent = run.verdict;
    const button = one(line, "[data-delete]");
    button.setAttribute("aria-label", `Delete the run of ${moment(run.changed)}`);
    button.addEventListener("click", () => this.remove(run, line, button));
    return line;
  }

  /** Asks once more on the button itself. @param {Run} run @param {HTMLElement} line @param {HTMLElement} button */
  async remove(run, line, button) {
    if (!button.dataset.asked) {
      button.dataset.asked = "yes";
      button.textContent = "Delete for good";
      button.removeAttribute("aria-label");
      button.addEventListener("blur", () => this.show(), { once: true });
      return;
    }
    await forget(run.id);
    line.remove();
    await this.show();
    this.none.textContent = "The run is deleted.";
    this.none.focus();
  }
}

for (const root of all(document, '[data-part="runs"]')) new RunsPart(root).show().catch(console.error);
