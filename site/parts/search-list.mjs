// What was found, as a list to choose from: groups with headings, each hit a link with its reasons.

/** @typedef {import("./search-ask.mjs").Found} Found */
/** @typedef {import("./search-ask.mjs").Hit} Hit */

/**
 * @param {string} name
 * @param {Record<string, string>} attributes
 * @param {...(Node | string)} inner
 */
export function element(name, attributes, ...inner) {
  const made = document.createElement(name);
  for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, value);
  made.append(...inner);
  return made;
}

/** @param {string} label @param {() => void} pressed */
export function button(label, pressed) {
  const made = element("button", { type: "button" }, label);
  made.addEventListener("click", pressed);
  return made;
}

/** @param {Found} found @param {string} root @returns {HTMLElement[]} */
export function groups(found, root) {
  const all = [{ kind: "Circuits", hits: found.hits, total: found.total }, ...found.others].filter(({ hits }) => hits.length);
  const out = found.left_out.length ? `, without ${found.left_out.join(" ")}` : "";
  let number = 0;
  return all.map(({ kind, hits, total }) => {
    const id = `found-${kind.toLowerCase().replaceAll(" ", "-")}`;
    const heading = element("p", { class: "kind", id, role: "presentation" }, hits.length < total ? `${hits.length} of ${total} ${kind.toLowerCase()}${out}, best first` : kind + out);
    const options = hits.map((hit) => option(hit, root, ++number));
    return element("div", { role: "group", "aria-labelledby": id }, heading, ...options);
  });
}

/** @param {Hit} hit @param {string} root @param {number} number */
function option(hit, root, number) {
  const title = element("b", {}, ...hit.parts.map(([text, own]) => (own ? element("mark", {}, text) : text)));
  const said = [...hit.why, hit.line].filter(Boolean).join(" · ");
  const address = { href: root + hit.address, role: "option", id: `hit-${number}`, tabindex: "-1", "aria-selected": "false" };
  return element("a", address, title, " ", element("span", {}, said));
}

/** One sentence about what was found, for who hears the page. @param {Found} found */
export function said(found) {
  const count = found.hits.length + found.others.reduce((sum, { hits }) => sum + hits.length, 0);
  if (count === 0) return "";
  const total = found.others.reduce((sum, { total }) => sum + total, found.total);
  if (count < total) return `${count} of ${total} pages, best first`;
  return count === 1 ? "1 page" : `${count} pages, best first`;
}

/**
 * Why nothing was found, and what would be.
 * @param {Found} found
 * @param {string} query
 * @param {(words: string) => void} ask
 */
export function lost(found, query, ask) {
  /** @type {HTMLElement[]} */
  const lines = [];
  const again = (/** @type {string} */ label, /** @type {string} */ words) => button(label, () => ask(words));
  if (found.without) lines.push(element("p", {}, found.without));
  for (const { code, says, about, is_named } of found.codes) {
    // Outside the bold part, which is a box of its own and keeps no space at its end.
    lines.push(element("p", {}, element("b", {}, `${code}:`), " ", says ? `${says}. ` : "", about, is_named ? "" : " No circuit here names it."));
  }
  for (const { word, near } of found.missing) {
    const told = found.codes.some(({ code }) => code.endsWith(word.replace(/\W/g, "").toUpperCase()));
    const unknown = told ? [] : ["Nothing here has ", element("b", {}, word), ". "];
    const tail = near.length ? ["Near to it: ", ...near.map((one) => again(one, query.replace(word, one)))] : [];
    if (!told || near.length) lines.push(element("p", {}, ...unknown, ...tail));
  }
  if (found.none) lines.push(element("p", {}, found.none));
  const others = found.apart.map(({ says, left, cards }) => again(`${says}: ${cards}`, left));
  if (others.length) lines.push(element("p", {}, ...others));
  return lines;
}
