// A field of a calculator: the text it stands for, and a text put into it.
//
// A field is what is typed and, where there is one, the unit chosen beside it. Whether the text makes sense
// is the engine's to say.

/** @typedef {HTMLInputElement | HTMLSelectElement | HTMLTextAreaElement} Control */

/** Digits alone, behind which a unit may stand. */
const BARE = /^[-+\u2212]?[\d.,/]+(?:[eE][-+]?\d+)?$/;
/** Units that the page of light and units can choose. */
const US = ["F", "psi", "AWG"];
/** Most letters of an unknown word shown in a list to choose from. */
const SHOWN = 80;

/** @param {Control} control @returns {HTMLSelectElement | null} */
const unit = (control) => control.parentElement?.querySelector("[data-unit]") ?? null;

/** What a field says: digits get the unit chosen beside them. @param {Control} control */
export function text(control) {
  const typed = control.value.trim();
  return BARE.test(typed) ? `${typed} ${unit(control)?.value ?? ""}`.trim() : typed;
}

/** Units of readers who chose those, ready where nothing is filled in. @param {Control} control */
export function prefer(control) {
  const units = unit(control);
  const own = [...(units?.options ?? [])].find(({ value }) => US.includes(value));
  if (units && own && control.value === "") units.value = own.value;
}

/** What a field says before anybody touches it. @param {Control} control */
const standing = (control) =>
  control instanceof HTMLSelectElement ? ([...control.options].find((one) => one.defaultSelected)?.value ?? "") : "";

/** Puts a text into a field, its unit into the list beside it where that has it. @param {Control} control @param {string} given */
export function put(control, given) {
  const [, digits, named] = /^(\S+)\s+(.+)$/.exec(given) ?? [];
  const units = unit(control);
  const known = units && BARE.test(digits ?? "") && [...units.options].some((one) => one.value === named);
  if (known) units.value = named;
  if (control instanceof HTMLSelectElement && ![...control.options].some((one) => one.value === given)) {
    // Refused by the engine in its own words, not swapped in silence for the default.
    control.add(new Option(given.slice(0, SHOWN), given));
  }
  control.value = known ? digits : given;
  const aside = control.closest("details");
  if (aside) aside.open = true;
}

/** A text with a unit of its own puts the list of units out of use. @param {Control} control */
export function settle(control) {
  const units = unit(control);
  const typed = control.value.trim();
  if (units) units.disabled = typed !== "" && !BARE.test(typed);
}

/** Whether it says something else than before anybody touched it. @param {Control} control */
export const isTyped = (control) => text(control) !== standing(control);
