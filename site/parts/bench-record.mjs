// The record of a run to take away: plain text for the repair order, and a file of known-good readings.
//
// Headings are those of the page, sentences those of the engine.

import { skipped } from "./bench-ask.mjs";
import { listReadings } from "./bench-list.mjs";
import { before, isFine, showVerdict } from "./bench-told.mjs";
import { all, one, tap } from "./made.mjs";
import { moment } from "./runs-store.mjs";

/** @typedef {import("./runs-store.mjs").Run} Run */
/** @typedef {import("./bench-run.mjs").RunKeeper} RunKeeper */
/** @typedef {import("./bench-told.mjs").Diagnosis} Diagnosis */

/** How long a button says that it is done. */
const SAID = 2500;

/** The run as plain text. @param {RunKeeper} keeper @param {Diagnosis} told @param {HTMLElement} screen */
export function recordText(keeper, told, screen) {
  const { run } = keeper;
  const read = told.readings.map((meaning, at) => {
    const state = meaning.state ? `, ${meaning.state}` : "";
    return `${at + 1}. ${meaning.title}${state}: ${meaning.reading}\n   ${meaning.says}`.trimEnd();
  });
  const several = told.suspects.length > 1;
  const fine = isFine(told);
  const left = told.suspects.map(({ percent, repair, faint }) => `- ${fine ? "" : `${percent} `}${repair}${faint ? " (only where these readings do not show it)" : ""}`);
  const lists = all(screen, "[data-list]").filter(({ dataset }) => dataset.list !== "suspects").map((part) => {
    const values = /** @type {(string | {says: string})[]} */ (told[part.dataset.list ?? ""] ?? []);
    const lines = values.map((value) => `- ${typeof value === "string" ? value : value.says}`);
    return lines.length ? [`${one(part, "h3").textContent}:`, ...lines, ""] : [];
  });
  const passed = skipped(keeper);
  return [
    `${run.title} (card ${run.card})${run.codes ? `, ${run.codes}` : ""}`,
    `${one(screen, "[data-for-vehicle]").textContent}: ${run.vehicle || "not named"}`,
    `${moment(run.started)} to ${moment(run.changed)}`,
    "",
    ...read,
    ...(passed.length ? [`Skipped: ${passed.join("; ")}`] : []),
    "",
    told.readings.length ? (several ? before(told) : told.verdict) : "Nothing was read, so nothing is ruled out.",
    ...(told.readings.length && several ? [...left, ...(fine ? [] : [one(screen, "[data-shares]").textContent ?? ""])] : []),
    "",
    ...lists.flat(),
    one(screen, "[data-last]").textContent ?? "",
  ].join("\n");
}

/** A field of a CSV file, quoted where it must be. @param {string} text */
const field = (text) => (/[",;\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text);

/** The readings as rows of the deck's `readings/CARD.csv`. @param {Run} run @param {Diagnosis} told @param {string} meter */
export function knownGood(run, told, meter) {
  const measured = told.readings.filter(({ good }) => good === true);
  const rows = measured.map(({ place, reading }) => {
    const [test, state = ""] = place.split("@");
    return [moment(run.changed).slice(0, 10), run.vehicle, test, state, reading, meter, ""];
  });
  const head = ["date", "vehicle", "test", "state", "reading", "meter", "note"];
  return [head, ...rows].map((row) => `${row.map(field).join(",")}\n`).join("");
}

/** The buttons below the verdict. */
export class Record {
  /** @type {Diagnosis | undefined} */
  told;

  /** @param {HTMLElement} screen @param {RunKeeper} keeper @param {Parameters<typeof listReadings>[2]} tells */
  constructor(screen, keeper, tells) {
    this.screen = screen;
    this.keeper = keeper;
    this.tells = tells;
    this.text = one(screen, "[data-record]");
    this.meter = /** @type {HTMLInputElement} */ (one(screen, "[data-meter]"));
    tap(screen, "[data-copy]", (button) => this.copy(button));
    tap(screen, "[data-print]", () => print());
    tap(screen, "[data-share]", () => this.share({ title: document.title, text: this.written }));
    tap(screen, "[data-file]", () => this.file());
    one(screen, "[data-share]").hidden = !navigator.share;
  }

  /** @param {Diagnosis} told */
  show(told) {
    this.told = told;
    showVerdict(this.screen, told);
    listReadings(one(this.screen, "[data-readings]"), told, this.tells);
    this.text.textContent = this.written;
    one(this.screen, "[data-known-good]").hidden = !isFine(told);
  }

  get written() {
    return this.told ? recordText(this.keeper, this.told, this.screen) : "";
  }

  /** @param {HTMLElement} button */
  async copy(button) {
    try {
      await navigator.clipboard.writeText(this.written);
      this.say(button, "Copied");
    } catch {
      const around = /** @type {HTMLDetailsElement} */ (this.text.closest("details"));
      around.open = true;
      this.text.scrollIntoView({ block: "start" });
      getSelection()?.selectAllChildren(this.text);
      this.say(button, "Marked: copy it now");
    }
  }

  /** @param {HTMLElement} button @param {string} words */
  say(button, words) {
    const before = button.dataset.words ?? button.textContent;
    button.dataset.words = before ?? "";
    button.textContent = words;
    setTimeout(() => (button.textContent = before), SAID);
  }

  /** @param {ShareData} what */
  async share(what) {
    try {
      await navigator.share(what);
    } catch (error) {
      // Turned away by the person, most often.
      console.info(error);
    }
  }

  /** The file goes to whom the person chooses, or among the phone's downloads. */
  async file() {
    const { run } = this.keeper;
    const meter = this.meter.value.trim();
    one(this.screen, "[data-unnamed]").hidden = Boolean(run.vehicle && meter);
    if (!this.told || !run.vehicle || !meter) return;
    const file = new File([knownGood(run, this.told, meter)], `${run.card}.csv`, { type: "text/csv" });
    if (navigator.canShare?.({ files: [file] })) return this.share({ files: [file] });
    const link = document.createElement("a");
    link.href = URL.createObjectURL(file);
    link.download = file.name;
    link.click();
    setTimeout(() => URL.revokeObjectURL(link.href), SAID);
  }
}
