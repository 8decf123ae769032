// What of the answer an eye does not get: parts without letters on the page, off its sides, too small, too pale, or covered.
() => {
  const out = [];
  const channels = (text) => (text.match(/[\d.]+/g) || []).map(Number);
  const light = (c) => { const [r, g, b] = c.map((v) => { const s = v / 255; return s <= 0.04045 ? s / 12.92 : ((s + 0.055) / 1.055) ** 2.4; }); return 0.2126 * r + 0.7152 * g + 0.0722 * b; };
  const ground = (node) => {
    for (let at = node; at; at = at.parentElement) {
      const c = channels(getComputedStyle(at).backgroundColor);
      if (c.length === 3 || c[3] === 1) return c.slice(0, 3);
    }
    return matchMedia('(prefers-color-scheme: dark)').matches && !matchMedia('print').matches ? [0, 0, 0] : [255, 255, 255];
  };
  const headline = document.querySelector('.headline');
  const parts = headline ? [headline, headline.nextElementSibling].filter((node) => node.matches('.headline, p'))
    : [...document.querySelectorAll('.answer > h2, .answer > p, .answer li')];
  if (parts.length === 0) out.push('there is no answer');
  for (const part of parts) {
    const said = part.textContent.trim().slice(0, 30);
    part.scrollIntoView({ block: 'center', behavior: 'instant' });
    const walker = document.createTreeWalker(part, NodeFilter.SHOW_TEXT);
    let letters = 0;
    for (let node = walker.nextNode(); node; node = walker.nextNode()) {
      const range = document.createRange();
      range.selectNodeContents(node);
      const boxes = [...range.getClientRects()].filter((box) => box.width > 1 && box.height > 1);
      letters += boxes.length;
      const style = getComputedStyle(node.parentElement);
      if (parseFloat(style.fontSize) < 11.5) out.push(`${said}: letters of ${style.fontSize}`);
      if (style.visibility !== 'visible') out.push(`${said}: ${style.visibility}`);
      const [a, b] = [light(channels(style.color).slice(0, 3)), light(ground(node.parentElement))];
      const ratio = (Math.max(a, b) + 0.05) / (Math.min(a, b) + 0.05);
      const clear = channels(style.color)[3] ?? 1;
      const fill = channels(style.webkitTextFillColor)[3] ?? 1;
      if (ratio < 4.5 || clear < 1 || fill < 1) out.push(`${said}: ${style.color} with a contrast of ${ratio.toFixed(1)}`);
      for (const box of boxes) {
        if (box.left < -1 || box.right > innerWidth + 1) { out.push(`${said}: off the side, ${box.left} to ${box.right}`); break; }
        const top = document.elementFromPoint((box.left + box.right) / 2, (box.top + box.bottom) / 2);
        if (box.top >= 0 && box.bottom <= innerHeight && top && !part.contains(top) && !top.contains(part)) { out.push(`${said}: covered by ${top.tagName} ${top.className}`); break; }
      }
    }
    if (letters === 0) out.push(`${said}: no letter is on the page`);
    let seen = 1;
    for (let at = part; at; at = at.parentElement) {
      const style = getComputedStyle(at);
      seen *= Number(style.opacity);
      if (style.filter !== 'none' || style.clipPath !== 'none' || style.maskImage !== 'none' || style.transform !== 'none') out.push(`${said}: ${at.tagName} is filtered, clipped, masked or moved`);
    }
    if (seen < 1) out.push(`${said}: opacity ${seen}`);
  }
  return [...new Set(out)];
}
