// Every part that a reader sees, as kind and text. What only works with scripts (a control and its value) is no content.
() => {
  const parts = [];
  const controls = "button, input, select, output, label, [role=toolbar]";
  for (const element of document.querySelectorAll("h1, h2, h3, p, li, td, th, dt, dd, figcaption, svg text")) {
    if (element.closest(controls) || element.querySelector(controls)) continue;
    if (!element.getClientRects().length) continue;
    const text = element.textContent.replace(/\s+/g, " ").trim();
    if (text) parts.push(`${element.localName}: ${text}`);
  }
  return parts;
}
