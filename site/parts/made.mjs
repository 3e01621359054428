// Small things every part of a page does with its elements.

/**
 * An element with texts and elements in it; never markup from data.
 * @param {string} name
 * @param {...(string | Node)} content
 */
export function made(name, ...content) {
  const element = document.createElement(name);
  element.append(...content);
  return element;
}

/**
 * The one element that a selector names; a page without it is of another make.
 * @param {ParentNode} root
 * @param {string} selector
 * @returns {HTMLElement}
 */
export function one(root, selector) {
  const found = root.querySelector(selector);
  if (found instanceof HTMLElement) return found;
  throw new Error(`no ${selector} on the page`);
}

/** All elements that a selector names. @param {ParentNode} root @param {string} selector @returns {HTMLElement[]} */
export const all = (root, selector) => [...root.querySelectorAll(selector)].map((found) => /** @type {HTMLElement} */ (found));

/** Texts into a list, and the part it stands in hidden where there are none. @param {HTMLElement} part @param {(string | Node)[]} items */
export function list(part, items) {
  part.hidden = items.length === 0;
  one(part, "ul").replaceChildren(...items.map((item) => made("li", item)));
}

/** What a tap on each of these does. @param {ParentNode} root @param {string} selector @param {(button: HTMLElement, event: Event) => unknown} does */
export function tap(root, selector, does) {
  for (const button of all(root, selector)) button.addEventListener("click", (event) => does(button, event));
}

/** The same with each number and its unit on one line. @param {string} text */
export const whole = (text) => text.replace(/(\d) (?=(?:[mk]?V|[kM]?ohm|m?A|C|F|kPa|bar|psi|%|Hz|deg)(?!\p{L}))/gu, "$1\u00a0");
