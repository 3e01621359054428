// What the tests do on a calculator's page, and what they read from it.
globalThis.live = (() => {
  const one = (selector) => document.querySelector(`[data-part] ${selector}`);
  const clean = (text) => text.trim().replace(/\s+/g, ' ');
  const state = () => {
    const wrong = [...document.querySelectorAll('.wrong:not([hidden])')];
    const answered = !one('[data-answer]').hidden;
    return {
      kept: [...new URLSearchParams(location.search)],
      told: clean(one('[data-told]').textContent),
      wrong: Object.fromEntries(wrong.map((e) => [e.id.replace('wrong-', ''), clean(e.textContent)])),
      invalid: Object.fromEntries([...document.querySelectorAll('[aria-invalid=true]')].map((e) => [e.name, true])),
      results: answered ? [...one('[data-results]').children].map((e) => [...e.children].map((part) => part.textContent)) : null,
      steps: [...one('[data-steps]').children].map((e) => e.textContent),
      notes: [...one('[data-notes]').children].map((e) => e.textContent),
    };
  };
  const rest = async () => {
    while (one('[data-told]').ariaBusy !== 'false') await new Promise((next) => setTimeout(next));
    return state();
  };
  // Types a text, reads what the page says, and puts back what stood there.
  const type = async (key, text) => {
    const field = one(`[name="${key}"]`);
    const stood = field.value;
    const say = (typed) => {
      field.value = typed;
      field.dispatchEvent(new Event('input', { bubbles: true }));
      return rest();
    };
    const said = await say(text);
    await say(stood);
    return said;
  };
  return { rest, type };
})();
