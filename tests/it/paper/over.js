// What lies over what: letters over letters, letters over a wire's swatch, words broken inside.
(() => {
  const shown = (e) => e.checkVisibility({ contentVisibilityAuto: true, visibilityProperty: true, opacityProperty: true });
  const skipped = 'title, desc, .hidden, .skip, .newer, .bench-entry, .bar, script, noscript, option';
  const meet = (a, b) => a.left < b.right - 1.5 && b.left < a.right - 1.5 && a.top < b.bottom - 3 && b.top < a.bottom - 3;
  const texts = () => {
    const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
    const found = [];
    for (let node = walker.nextNode(); node; node = walker.nextNode()) {
      const parent = node.parentElement;
      if (!node.data.trim() || parent.closest(skipped) || !shown(parent)) continue;
      found.push(node);
    }
    return found;
  };
  // What is cut off does not show.
  const clip = (element) => {
    const room = { left: -Infinity, right: Infinity, top: -Infinity, bottom: Infinity };
    for (let at = element; at && at !== document.body; at = at.parentElement) {
      const style = getComputedStyle(at);
      const box = at.getBoundingClientRect();
      if (style.clipPath.startsWith('inset(50%')) return { left: 1, right: 0, top: 1, bottom: 0 };
      if (at.localName === 'details' && !at.open && !element.closest('summary')) return { left: 1, right: 0, top: 1, bottom: 0 };
      if (style.overflowY === 'visible' || at.localName === 'svg') continue;
      room.top = Math.max(room.top, box.top);
      room.bottom = Math.min(room.bottom, box.bottom);
    }
    return room;
  };
  const boxes = (node) => {
    const range = document.createRange();
    range.selectNodeContents(node);
    const room = clip(node.parentElement);
    return [...range.getClientRects()].filter((one) => one.width > 1 && one.height > 1)
      .filter((one) => room.top < one.bottom - 1 && one.top < room.bottom - 1 && room.left < one.right - 1 && one.left < room.right - 1)
      .map(({ left, right, top, bottom }) => ({ left, right, top, bottom, says: node.data.trim().slice(0, 30), node }));
  };
  const over = () => {
    const all = texts().flatMap(boxes).sort((a, b) => a.top - b.top);
    const found = [];
    all.forEach((one, at) => {
      for (let next = at + 1; next < all.length && all[next].top < one.bottom; next += 1) {
        if (all[next].node !== one.node && meet(one, all[next])) found.push(`"${one.says}" over "${all[next].says}"`);
      }
    });
    for (const wire of document.querySelectorAll('.wire')) {
      const box = wire.getBoundingClientRect();
      if (shown(wire)) found.push(...all.filter((one) => meet(one, box)).map((one) => `"${one.says}" over a wire`));
    }
    return found;
  };
  // A word may break where it has a hyphen or a stroke; a file's name or an address may break anywhere.
  const broken = () => texts().filter((node) => !node.parentElement.closest('code, .on-paper, svg')).flatMap((node) => {
    const range = document.createRange();
    return [...node.data.matchAll(/[\p{L}\p{N}]{2,24}/gu)].filter((word) => {
      range.setStart(node, word.index);
      range.setEnd(node, word.index + word[0].length);
      return new Set([...range.getClientRects()].filter((one) => one.width > 1).map((one) => Math.round(one.top))).size > 1;
    }).map((word) => `"${word[0]}" is broken`);
  });
  return [...over(), ...broken()].slice(0, 12);
})()
