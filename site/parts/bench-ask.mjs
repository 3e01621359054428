// What a run's readings mean, asked of the engine; where it can't be asked, what was read and what a good circuit reads.

import { told } from "./bench-screens.mjs";
import { one } from "./made.mjs";

/** @typedef {import("./bench-run.mjs").RunKeeper} RunKeeper */
/** @typedef {import("./bench-told.mjs").Diagnosis} Diagnosis */

/** @param {RunKeeper} keeper @param {[string, string][]} readings */
async function question({ root, run }, readings) {
  const { ask } = await import("./engine.mjs");
  const circuit = new URL(root.dataset.circuit ?? "", location.href).href;
  const { diagnosis, wrong } = await ask("diagnose", { circuit, readings, skip: run.skip });
  const last = wrong.find((/** @type {{at: number}} */ { at }) => at === readings.length - 1);
  return { told: /** @type {Diagnosis} */ (diagnosis), wrong: /** @type {string | undefined} */ (last?.says) };
}

/**
 * What all readings say, none where the engine can't be asked; and what is wrong with the last one.
 * @param {RunKeeper} keeper
 * @returns {Promise<{told?: Diagnosis, wrong?: string}>}
 */
export async function meaning(keeper) {
  const { readings } = keeper.run;
  try {
    const answer = await question(keeper, readings);
    const verdict = readings.length ? answer.told.verdict : "";
    if (keeper.kept && verdict !== keeper.run.verdict) await keeper.keep(() => ({ verdict }));
    return answer;
  } catch (error) {
    console.info(error);
    return {};
  }
}

/** What a good circuit reads at a point of one's own, or why that is no point. @param {RunKeeper} keeper @param {string} at */
export async function good(keeper, at) {
  try {
    const { told, wrong } = await question(keeper, [...keeper.run.readings, [at, "cannot measure"]]);
    return { good: told.readings.find(({ place }) => place === at)?.expected, wrong };
  } catch (error) {
    console.info(error);
    return {};
  }
}

/** What was read, without what it means. @param {RunKeeper} keeper @returns {Diagnosis} */
export function bare({ root, run }) {
  const readings = told(root, run.readings).map((each) => ({ ...each, says: each.expected && `A good circuit: ${each.expected}.`, means: [] }));
  const verdict = one(root, "[data-failed]").dataset.bare ?? "";
  return { bare: true, fits: true, verdict, claim: verdict, suspects: [], ruled_out: [], next: null, in_turn: null, readings };
}

/** Titles and points of what was skipped. @param {RunKeeper} keeper */
export function skipped({ root, run }) {
  const each = told(root, run.skip.map((at) => [at, ""]));
  return each.map(({ title, state }) => (state ? `${title}, ${state}` : title));
}
