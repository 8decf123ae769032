// What reaches out of the window sideways, outermost first, and what is wider than its own box and so runs into the next.
// A box that scrolls by itself may hold wider things.
() => {
  const wrong = [];
  const root = document.documentElement;
  if (root.scrollWidth > innerWidth) wrong.push(`the page is ${root.scrollWidth} px wide`);
  const told = new Set();
  const scrolls = (element) => ["auto", "scroll"].includes(getComputedStyle(element).overflowX);
  for (const element of document.body.querySelectorAll("*")) {
    const own = [...element.childNodes].some((node) => node.nodeType === Node.TEXT_NODE && node.data.trim());
    if (own && element instanceof HTMLElement && element.clientWidth && element.scrollWidth > element.clientWidth + 1 && !scrolls(element)) {
      wrong.push(`"${element.textContent.trim().slice(0, 40)}" is ${element.scrollWidth} px wide in a box of ${element.clientWidth}`);
    }
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
