// What the tests measure in a page: which element breaks a rule, told so that a person finds it.
(() => {
  const name = (element) => {
    const text = (element.textContent || '').trim().replace(/\s+/g, ' ').slice(0, 40);
    const kind = element.getAttribute('class');
    return `<${element.localName}${kind ? ` class="${kind}"` : ''}> ${text}`;
  };
  const shown = (element) => element.checkVisibility({ opacityProperty: true, visibilityProperty: true });
  const box = (element) => element.getBoundingClientRect();

  // Elements that reach past the right edge of the screen, where the page as a whole does with all that is folded open.
  const tooWide = (edge) => {
    const folded = [...document.querySelectorAll('details:not([open])')];
    for (const fold of folded) fold.open = true;
    const wide = document.documentElement.scrollWidth;
    const out = wide <= edge ? [] : [...document.body.querySelectorAll('*')].filter((e) => box(e).right > edge + 0.5).map(name);
    for (const fold of folded) fold.open = false;
    return wide <= edge ? [] : [`page is ${wide} wide on ${edge}`, ...out.slice(0, 5)];
  };

  // A link within a sentence is as high as its line; everything else that can be tapped is 44 pixels, also a link that is a
  // sentence of its own after another.
  const inSentence = (element) => element.localName === 'a' && getComputedStyle(element).display === 'inline'
    && (/[\p{L}\p{N},;(“]\s*$/u.test(element.previousSibling?.textContent ?? '') || /^\s*[\p{L}\p{N},;)]/u.test(element.nextSibling?.textContent ?? ''));
  const tooSmall = () => [...document.querySelectorAll('a[href], button, input, select, textarea, summary, [tabindex="0"]')]
    .filter(shown).filter((e) => box(e).right > 0 && !inSentence(e))
    .map((e) => [e, [box(e), ...[...(e.labels ?? [])].map(box)].reduce((one, other) => (one.height < other.height ? other : one))])
    .filter(([, area]) => area.width < 43.5 || area.height < 43.5)
    .map(([e, area]) => `${Math.round(area.width)}x${Math.round(area.height)} ${name(e)}`);

  const brush = Object.assign(document.createElement('canvas'), { width: 1, height: 1 }).getContext('2d', { willReadFrequently: true });
  const painted = new Map();
  const channels = (colour) => {
    if (!painted.has(colour)) {
      brush.clearRect(0, 0, 1, 1);
      brush.fillStyle = colour;
      brush.fillRect(0, 0, 1, 1);
      painted.set(colour, [...brush.getImageData(0, 0, 1, 1).data]);
    }
    return painted.get(colour);
  };
  const linear = (channel) => { const c = channel / 255; return c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4; };
  const luminance = ([r, g, b]) => 0.2126 * linear(r) + 0.7152 * linear(g) + 0.0722 * linear(b);
  // The first opaque ground below; where an element has a picture or a see-through ground, nothing can be said.
  const ground = (element) => {
    for (let at = element; at; at = at.parentElement) {
      const style = getComputedStyle(at);
      const colour = channels(style.backgroundColor);
      if (colour[3] === 255) return colour;
      if (colour[3] > 0) return null;
    }
    return [255, 255, 255, 255];
  };
  // In a drawing: the filled shapes drawn before the text and under its middle, laid over what lies below the drawing.
  // A pattern has no one colour: nothing can be said, and people look at the pictures.
  const shapesUnder = (text, drawing) => {
    const area = box(text);
    const [x, y] = [(area.left + area.right) / 2, (area.top + area.bottom) / 2];
    let below = ground(drawing);
    for (const shape of drawing.querySelectorAll('rect, circle, ellipse, path, polygon')) {
      const before = shape.compareDocumentPosition(text) & Node.DOCUMENT_POSITION_FOLLOWING;
      const covers = shape.isPointInFill(new DOMPoint(x, y).matrixTransform(shape.getScreenCTM().inverse()));
      const { fill, fillOpacity, opacity } = getComputedStyle(shape);
      if (!before || !covers || fill === 'none' || !below) continue;
      const colour = channels(fill);
      const part = (colour[3] / 255) * parseFloat(fillOpacity) * parseFloat(opacity);
      below = fill.startsWith('url(') ? null : below.map((channel, i) => (i < 3 ? channel + (colour[i] - channel) * part : 255));
    }
    return below;
  };
  // WCAG 2.2, 1.4.3: 4.5 to 1, and 3 to 1 for large text (24 px, or 18.66 px bold).
  const tooFaint = () => {
    const texts = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
    const found = new Set();
    for (let node = texts.nextNode(); node; node = texts.nextNode()) {
      const element = node.parentElement;
      if (!node.data.trim() || element.closest('title, desc') || !shown(element)) continue;
      const style = getComputedStyle(element);
      const drawing = element.closest('svg');
      const under = drawing ? shapesUnder(element, drawing) : ground(element);
      const ink = channels(drawing ? style.fill : style.color);
      if (!under || ink[3] < 255) continue;
      const [light, dark] = [luminance(ink), luminance(under)].sort((a, b) => b - a);
      const ratio = (light + 0.05) / (dark + 0.05);
      const size = parseFloat(style.fontSize);
      const large = size >= 24 || (size >= 18.66 && parseInt(style.fontWeight, 10) >= 700);
      if (ratio < (large ? 3 : 4.5)) found.add(`${ratio.toFixed(2)} to 1: ${name(element)}`);
    }
    return [...found];
  };

  // Whatever a strict policy forbids: it would be blocked, and the page would look broken.
  const inline = () => [
    ...[...document.querySelectorAll('script:not([src]), style, [style]')].map(name),
    ...[...document.querySelectorAll('*')].filter((e) => [...e.attributes].some((a) => a.name.startsWith('on'))).map(name),
  ];

  const inView = (element) => {
    const area = box(element);
    return shown(element) && area.width > 0 && area.top >= 0 && area.left >= 0 && area.bottom <= innerHeight && area.right <= innerWidth;
  };
  // What can be read before any scrolling.
  const firstView = () => {
    const texts = (selector) => [...document.querySelectorAll(selector)].filter(inView).map((e) => e.textContent.trim());
    const order = document.querySelector('.order .good dd b');
    return {
      title: texts('h1'), letters: texts('.first svg text'), reads: texts('.first .reads'),
      pins: [...document.querySelectorAll('.pins tbody th')].map((e) => e.textContent.trim()),
      expected: order ? order.textContent.trim() : '',
    };
  };

  // Texts that lie on each other: every line box of every text that flows (what is fixed or sticks lies over others by
  // purpose; what only a screen reader gets has no room), from the top down, each against those that reach below its top.
  const lies = (element) => {
    for (let at = element; at && at !== document.body; at = at.parentElement) {
      const { position, overflow } = getComputedStyle(at);
      const area = box(at);
      if (position === 'fixed' || position === 'sticky' || (overflow !== 'visible' && Math.min(area.width, area.height) < 3)) return false;
    }
    return true;
  };
  const lines = () => {
    // What is laid out only when it comes into view has its true place now.
    for (const late of document.querySelectorAll('*')) {
      if (getComputedStyle(late).contentVisibility === 'auto') late.style.contentVisibility = 'visible';
    }
    const texts = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
    const found = [];
    const range = document.createRange();
    for (let node = texts.nextNode(); node; node = texts.nextNode()) {
      const element = node.parentElement;
      if (!node.data.trim() || element.closest('title, desc, script, option') || !shown(element) || !lies(element)) continue;
      if (element.localName === 'details' && !element.open) continue;
      range.selectNodeContents(node);
      for (const area of element.closest('svg') ? [box(element)] : range.getClientRects()) {
        if (area.width > 3) found.push({ area, element });
      }
    }
    return found.sort((a, b) => a.area.top - b.area.top);
  };
  const over = () => {
    const found = new Set();
    let above = [];
    for (const own of lines()) {
      above = above.filter(({ area }) => area.bottom > own.area.top + 3);
      for (const { area, element } of above) {
        const across = Math.min(area.right, own.area.right) - Math.max(area.left, own.area.left);
        const down = Math.min(area.bottom, own.area.bottom) - own.area.top;
        // A line's box is higher than its letters: an overlap that is seen takes a third of it.
        if (across > 2 && down > Math.min(area.height, own.area.height) / 3 && element !== own.element) found.add(`${name(element)} on ${name(own.element)}`);
      }
      above.push(own);
    }
    return [...found];
  };

  const policy = () => document.querySelector('meta[http-equiv="Content-Security-Policy"]')?.content ?? '';
  globalThis.measure = { tooWide, tooSmall, tooFaint, over, inline, firstView, policy };
})();
