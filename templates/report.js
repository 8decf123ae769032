// The report's extras: a slider over the rounds of the panel, tables that sort, and a filter over the readings. The page says all without them.
"use strict";
for (const turn of document.querySelectorAll(".turn")) {
  // Of the two drawings the one is shown that fits; both turn.
  const drawings = [...turn.querySelectorAll("svg")].map((svg) => [...svg.querySelectorAll(".frame")]);
  const frames = drawings[0];
  const label = document.createElement("label");
  const range = document.createElement("input");
  const said = document.createElement("output");
  label.className = "screen turn-by";
  Object.assign(range, { type: "range", min: 0, max: frames.length - 1, value: turn.dataset.turn });
  label.append("Round ", range, said);
  const show = () => {
    for (const drawing of drawings) drawing.forEach((frame, at) => frame.classList.toggle("off", at !== +range.value));
    said.textContent = frames[+range.value].dataset.name;
    range.setAttribute("aria-valuetext", said.textContent);
  };
  range.addEventListener("input", show);
  turn.prepend(label);
  document.querySelector(".turn-many").classList.add("turned");
  show();
}
const number = (text) => {
  const found = text.replaceAll("−", "-").match(/-?\d+(\.\d+)?/);
  return found ? +found[0] : null;
};
for (const head of document.querySelectorAll("thead th")) {
  const body = head.closest("table").tBodies[0];
  if (!body || body.rows.length < 3) continue;
  const button = document.createElement("button");
  button.type = "button";
  const set = () => {
    button.append(...head.childNodes);
    head.append(button);
  };
  set();
  // A browser prints heads again on each sheet only where nothing in them can be pressed.
  addEventListener("beforeprint", () => button.replaceWith(...button.childNodes));
  addEventListener("afterprint", set);
  button.addEventListener("click", () => {
    const up = head.getAttribute("aria-sort") !== "ascending";
    for (const other of head.parentElement.cells) other.removeAttribute("aria-sort");
    head.setAttribute("aria-sort", up ? "ascending" : "descending");
    const at = head.cellIndex;
    const keyed = [...body.rows].map((row) => [row.cells[at].textContent.trim(), row]);
    const plain = !head.style.textAlign;
    keyed.sort(([one], [other]) => {
      const [a, b] = plain ? [null, null] : [number(one), number(other)];
      if (a !== null && b !== null) return up ? a - b : b - a;
      if (!plain && (a === null) !== (b === null)) return a === null ? 1 : -1;
      return (up ? 1 : -1) * one.localeCompare(other, undefined, { numeric: true });
    });
    body.append(...keyed.map(([, row]) => row));
  });
}
const readings = document.querySelector(".readings");
if (readings) {
  const label = document.createElement("label");
  const search = document.createElement("input");
  label.className = "screen filter";
  Object.assign(search, { type: "search", autocomplete: "off" });
  label.append("Show sections or products with ", search);
  readings.before(label);
  search.addEventListener("input", () => {
    const words = search.value.trim().toLowerCase();
    for (const row of readings.querySelectorAll("tbody tr")) {
      const text = `${row.cells[0].textContent} ${row.cells[1].textContent}`.toLowerCase();
      row.hidden = !text.includes(words);
    }
  });
}
