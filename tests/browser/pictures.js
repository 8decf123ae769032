// Texts that leave their picture, that lie on each other, or that are shown below 11 px on a page. Names in the
// sections of a map are as large as the sections let them be, and stand in every table too: 9 px.
() => {
  const wrong = [];
  const name = (text) => `"${text.textContent.trim().slice(0, 30)}"`;
  for (const picture of document.querySelectorAll("svg.picture")) {
    const title = (picture.getAttribute("aria-label") ?? picture.querySelector("title")?.textContent ?? "").slice(0, 40);
    if (!picture.getClientRects().length) continue;
    const frame = picture.getBoundingClientRect();
    // What is not shown now, as a round that a slider turns away, leaves nothing and lies on nothing.
    const texts = [...picture.querySelectorAll("text")].filter((text) => text.getClientRects().length);
    if (!texts.length) wrong.push(`${title}: no text was found`);
    // Boxes are as high as the font, which is more than the letters: a sixth is taken off above and below.
    const boxes = texts.map((text) => {
      const box = text.getBoundingClientRect();
      const off = box.height / 6;
      return { left: box.left, right: box.right, top: box.top + off, bottom: box.bottom - off };
    });
    boxes.forEach((box, at) => {
      const out = box.left < frame.left - 0.5 || box.right > frame.right + 0.5 || box.top < frame.top - 0.5 || box.bottom > frame.bottom + 0.5;
      if (out) wrong.push(`${title}: ${name(texts[at])} leaves the picture`);
      const size = parseFloat(getComputedStyle(texts[at]).fontSize) * picture.getScreenCTM().a;
      const least = texts[at].classList.contains("name") ? 9 : 11;
      if (document.body && size < least) wrong.push(`${title}: ${name(texts[at])} is ${size.toFixed(1)} px`);
      for (let other = 0; other < at; other += 1) {
        const to = boxes[other];
        const meet = box.left < to.right - 0.5 && box.right > to.left + 0.5 && box.top < to.bottom - 0.5 && box.bottom > to.top + 0.5;
        if (meet) wrong.push(`${title}: ${name(texts[at])} lies on ${name(texts[other])}`);
      }
    });
  }
  return wrong.slice(0, 12);
}
