// What the tests ask of a page while they tap: where something is, whether a finger can reach it.
(() => {
  // `a|Bench mode`: the first shown element of that kind that has the words.
  const find = (what) => {
    const [selector, words = ''] = what.split('|');
    return [...document.querySelectorAll(selector)].find((e) => e.checkVisibility({ visibilityProperty: true }) && e.textContent.includes(words));
  };
  const shown = (what) => document.readyState === 'complete' && Boolean(find(what));
  const middle = (element) => {
    const { left, top, width, height } = element.getBoundingClientRect();
    return { x: left + width / 2, y: top + height / 2, width, height };
  };
  const reached = (element) => {
    const { x, y } = middle(element);
    const at = document.elementFromPoint(x, y);
    return Boolean(at) && (element.contains(at) || at.contains(element));
  };
  // Scrolled to where a thumb can tap it, as a person would.
  const aim = (what) => {
    const element = find(what);
    if (!reached(element)) scrollBy(0, element.getBoundingClientRect().top - 120);
    return { ...middle(element), reached: reached(element) };
  };
  globalThis.hand = { find, shown, aim };
})();
