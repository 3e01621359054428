// The record of a run to take away: plain text for the repair order, and a file of known-good readings.
//
// Headings are those of the page, sentences those of the engine.

import { showVerdict } from "./bench-told.mjs";
import { all, one } from "./made.mjs";
import { moment } from "./runs-store.mjs";

/** @typedef {import("./runs-store.mjs").Run} Run */
/** @typedef {import("./bench-told.mjs").Diagnosis} Diagnosis */

/** How long a button says that it is done. */
const SAID = 2500;

/** The run as plain text. @param {Run} run @param {Diagnosis} told @param {HTMLElement} screen */
export function recordText(run, told, screen) {
  const read = told.readings.map((meaning, at) => {
    const state = meaning.state ? `, ${meaning.state}` : "";
    return `${at + 1}. ${meaning.title}${state}: ${meaning.reading}\n   ${meaning.says}`;
  });
  const lists = all(screen, "[data-list]").filter(({ dataset }) => dataset.list !== "suspects").map((part) => {
    const values = /** @type {(string | {says: string})[]} */ (told[part.dataset.list ?? ""] ?? []);
    const lines = values.map((value) => `- ${typeof value === "string" ? value : value.says}`);
    return lines.length ? [`${one(part, "h3").textContent}:`, ...lines, ""] : [];
  });
  return [
    `${run.title} (card ${run.card})${run.codes ? `, ${run.codes}` : ""}`,
    `${one(screen, "[data-for-vehicle]").textContent}: ${run.vehicle || "not named"}`,
    `${moment(run.started)} to ${moment(run.changed)}`,
    "",
    ...read,
    ...(run.skip.length ? [`Skipped: ${run.skip.join(", ")}`] : []),
    "",
    told.readings.length ? told.verdict : "Nothing was read, so nothing is ruled out.",
    "",
    ...lists.flat(),
    one(screen, "[data-last]").textContent ?? "",
  ].join("\n");
}

/** A field of a CSV file, quoted where it must be. @param {string} text */
const field = (text) => (/[",;\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text);

/** The readings as rows of the deck's `readings/CARD.csv`. @param {Run} run @param {Diagnosis} told @param {string} meter */
export function knownGood(run, told, meter) {
  const measured = told.readings.filter(({ good }) => good !== null);
  const rows = measured.map(({ place, reading }) => {
    const [test, state = ""] = place.split("@");
    return [moment(run.changed).slice(0, 10), run.vehicle, test, state, reading, meter, ""];
  });
  const head = ["date", "vehicle", "test", "state", "reading", "meter", "note"];
  return [head, ...rows].map((row) => `${row.map(field).join(",")}\n`).join("");
}

/** The buttons below the verdict. */
export class Record {
  /** @type {Run | undefined} */
  run;
  /** @type {Diagnosis | undefined} */
  told;

  /** @param {HTMLElement} screen */
  constructor(screen) {
    this.screen = screen;
    this.text = one(screen, "[data-record]");
    this.meter = /** @type {HTMLInputElement} */ (one(screen, "[data-meter]"));
    const tap = (/** @type {string} */ selector, /** @type {(button: HTMLElement) => unknown} */ does) => {
      const button = one(screen, selector);
      button.addEventListener("click", () => does(button));
    };
    tap("[data-copy]", (button) => this.copy(button));
    tap("[data-print]", () => print());
    tap("[data-share]", () => this.share({ title: document.title, text: this.written }));
    tap("[data-file]", () => this.file());
    one(screen, "[data-share]").hidden = !navigator.share;
  }

  /** @param {Run} run @param {Diagnosis} told */
  show(run, told) {
    [this.run, this.told] = [run, told];
    showVerdict(this.screen, told);
    this.text.textContent = this.written;
    one(this.screen, "[data-known-good]").hidden = told.readings.every(({ good }) => good === null);
  }

  get written() {
    return this.run && this.told ? recordText(this.run, this.told, this.screen) : "";
  }

  /** @param {HTMLElement} button */
  async copy(button) {
    try {
      await navigator.clipboard.writeText(this.written);
      this.say(button, "Copied");
    } catch {
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
    if (!this.run || !this.told) return;
    const file = new File([knownGood(this.run, this.told, this.meter.value.trim())], `${this.run.card}.csv`, { type: "text/csv" });
    if (navigator.canShare?.({ files: [file] })) return this.share({ files: [file] });
    const link = document.createElement("a");
    link.href = URL.createObjectURL(file);
    link.download = file.name;
    link.click();
    setTimeout(() => URL.revokeObjectURL(link.href), SAID);
  }
}
