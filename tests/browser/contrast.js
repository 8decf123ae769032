// Texts whose contrast is too low: 7:1 on the page, 4.5:1 in pictures. Ratio and luminance as WCAG 2.2 defines them.
() => {
  const wrong = new Map();
  const parse = (text) => {
    const found = text.match(/^rgba?\((\d+), (\d+), (\d+)(?:, ([\d.]+))?\)$/);
    if (!found) throw new Error(`cannot read the colour ${text}`);
    return [+found[1], +found[2], +found[3], found[4] === undefined ? 1 : +found[4]];
  };
  const over = (top, below) => [0, 1, 2].map((at) => top[at] * top[3] + below[at] * (1 - top[3])).concat(1);
  const luminance = (colour) => {
    const [r, g, b] = colour.map((channel) => {
      const part = channel / 255;
      return part <= 0.04045 ? part / 12.92 : ((part + 0.055) / 1.055) ** 2.4;
    });
    return 0.2126 * r + 0.7152 * g + 0.0722 * b;
  };
  const ratio = (one, other) => {
    const [a, b] = [luminance(one), luminance(other)];
    return (Math.max(a, b) + 0.05) / (Math.min(a, b) + 0.05);
  };
  // The page's own ground below an element.
  const ground = (element) => {
    const layers = [];
    for (let at = element; at; at = at.parentElement) {
      const colour = parse(getComputedStyle(at).backgroundColor);
      if (colour[3] > 0) layers.push(colour);
      if (colour[3] === 1) break;
    }
    const root = [255, 255, 255, 1];
    return layers.reverse().reduce((below, top) => over(top, below), root);
  };
  const painted = (element) => {
    const fill = getComputedStyle(element).fill;
    if (fill === "none") return [];
    const pattern = fill.match(/url\("#(.+)"\)/);
    if (!pattern) return [parse(fill)];
    const parts = document.getElementById(pattern[1]).children;
    return [...parts].map((part) => {
      const style = getComputedStyle(part);
      return parse(style.fill === "none" ? style.stroke : style.fill);
    });
  };
  // Everything that a text in a picture may stand on: its halo, or the shapes below its points, or the page.
  const grounds = (text) => {
    const style = getComputedStyle(text);
    if (style.paintOrder.startsWith("stroke") && style.stroke !== "none") return [parse(style.stroke)];
    const box = text.getBoundingClientRect();
    const found = [];
    for (const share of [0.05, 0.25, 0.5, 0.75, 0.95]) {
      const stack = document.elementsFromPoint(box.left + share * box.width, box.top + box.height / 2);
      const below = stack.slice(stack.indexOf(text) + 1).filter((element) => element.localName !== "text");
      let colours = [];
      for (const element of below) {
        if (element.localName === "svg") break;
        colours = painted(element);
        if (colours.length) break;
      }
      found.push(...(colours.length ? colours : [ground(text.ownerSVGElement)]));
    }
    return found;
  };
  const told = (element, text, colour, below, least) => {
    const value = ratio(over(colour, below), below);
    if (value >= least) return;
    const key = `${element.localName}.${element.getAttribute("class") ?? ""} in ${element.parentElement.localName}.${element.parentElement.getAttribute("class") ?? ""}`;
    if (!wrong.has(key)) wrong.set(key, `${value.toFixed(2)}:1, not ${least}:1: ${key}: ${text.trim().slice(0, 40)}`);
  };
  const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  let count = 0;
  while (walker.nextNode()) {
    const node = walker.currentNode;
    const element = node.parentElement;
    const style = getComputedStyle(element);
    const hidden = !node.data.trim() || !element.getClientRects().length || style.visibility !== "visible";
    if (hidden) continue;
    count += 1;
    for (let at = element; at; at = at.parentElement) {
      if (getComputedStyle(at).opacity !== "1") throw new Error(`${at.localName} is see-through`);
    }
    if (element.closest("svg")) {
      if (element.localName !== "text") continue;
      for (const below of grounds(element)) told(element, node.data, parse(style.fill), below, 4.5);
    } else {
      told(element, node.data, parse(style.color), ground(element), 7);
    }
  }
  if (count < 20) throw new Error(`only ${count} texts were found`);
  return [...wrong.values()];
}
