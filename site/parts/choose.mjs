// The page on which a reader chooses light and units: worn at once, kept on the phone for `comfort.mjs`.

import { all } from "./made.mjs";

const worn = document.documentElement.dataset;
const NAMES = ["light", "units"];

/** What the page wears, to be kept; the phone's own way is no choice. */
const chosen = () => Object.fromEntries(NAMES.filter((name) => worn[name]).map((name) => [name, worn[name]]));

/** @param {HTMLElement} part */
function start(part) {
  part.hidden = false;
  for (const choice of /** @type {HTMLInputElement[]} */ (all(part, "input"))) {
    choice.checked = choice.value === (worn[choice.name] ?? "");
  }
  part.addEventListener("change", ({ target }) => {
    const { name, value } = /** @type {HTMLInputElement} */ (target);
    if (value) worn[name] = value;
    else delete worn[name];
    try {
      localStorage.setItem("comfort", JSON.stringify(chosen()));
    } catch {
      for (const said of all(part, "[data-unkept]")) said.hidden = false;
    }
  });
}

for (const part of all(document, '[data-part="comfort"]')) start(part);
