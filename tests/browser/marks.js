// Marks the first and the last line of everything that must not be parted, and names it. The marks are out of the flow.
() => {
  const told = [];
  const mark = (element, edge, text) => {
    const span = document.createElement("span");
    span.textContent = text;
    span.style.cssText = `position: absolute; ${edge}: 0; left: 0; font: 2px/2px sans-serif; white-space: nowrap; color: #777`;
    element.append(span);
  };
  for (const whole of document.querySelectorAll("h1, h2, h3, .step, .card, .card .block, .never, .answer, .group-head, figure, .labels li, tbody tr")) {
    const at = whole.localName === "tr" ? whole.cells[0] : whole;
    at.style.position = "relative";
    mark(at, "top", `q${told.length}x`);
    mark(at, "bottom", `q${told.length}z`);
    told.push(`${whole.localName}.${whole.className} ${whole.textContent.trim().replace(/\s+/g, " ").slice(0, 40)}`);
  }
  return told;
}
