// What reaches out of the window sideways, outermost first; a box that scrolls by itself may hold wider things.
() => {
  const wrong = [];
  const root = document.documentElement;
  if (root.scrollWidth > innerWidth) wrong.push(`the page is ${root.scrollWidth} px wide`);
  const told = new Set();
  const scrolls = (element) => ["auto", "scroll"].includes(getComputedStyle(element).overflowX);
  for (const element of document.body.querySelectorAll("*")) {
    const box = element.getBoundingClientRect();
    if (box.width === 0 || (box.left >= -0.5 && box.right <= innerWidth + 0.5)) continue;
    let around = element.parentElement;
    while (around && !told.has(around) && !scrolls(around)) around = around.parentElement;
    if (around) continue;
    told.add(element);
    const text = element.textContent.trim().replace(/\s+/g, " ").slice(0, 60);
    wrong.push(`<${element.localName} class="${element.className}"> reaches from ${Math.round(box.left)} to ${Math.round(box.right)}: ${text}`);
  }
  return wrong;
}
