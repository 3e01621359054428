// How a reader wants pages on this phone: light and units. Run before the page is drawn, so that nothing flashes.
//
// Choices are attributes of the page; style does the rest. Both forms of a value stand in the page.

(() => {
  const KEY = "comfort";
  const NAMES = ["light", "units"];
  const page = document.documentElement;
  /** @type {Record<string, string>} */
  let kept = {};
  try {
    kept = JSON.parse(localStorage.getItem(KEY) ?? "{}");
  } catch {
    // Refused or unreadable: the page is as the phone is.
  }
  const wear = () => {
    for (const name of NAMES) {
      if (kept[name]) page.dataset[name] = kept[name];
      else delete page.dataset[name];
    }
  };

  /** @param {HTMLElement} part */
  const start = (part) => {
    part.hidden = false;
    for (const choice of part.querySelectorAll("input")) choice.checked = choice.value === (kept[choice.name] ?? "");
    part.addEventListener("change", ({ target }) => {
      const { name, value } = /** @type {HTMLInputElement} */ (target);
      kept[name] = value;
      wear();
      try {
        localStorage.setItem(KEY, JSON.stringify(kept));
      } catch {
        for (const said of part.querySelectorAll("[data-unkept]")) /** @type {HTMLElement} */ (said).hidden = false;
      }
    });
  };

  wear();
  addEventListener("DOMContentLoaded", () => {
    for (const part of document.querySelectorAll('[data-part="comfort"]')) start(/** @type {HTMLElement} */ (part));
  });
})();
