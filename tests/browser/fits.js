// Pictures that are drawn for two widths: which of them is shown, and whether all of it is on the screen.
(wanted) => {
  const wrong = [];
  const boxes = [...document.querySelectorAll("figure .fits")];
  if (!boxes.length && document.querySelector(".picture-intervals, .picture-spent, .picture-map, .picture-panel")) wrong.push("no picture is drawn twice");
  for (const box of boxes) {
    // The heat map has two, and where scripts run or on paper one of them is not needed.
    if (!box.getClientRects().length) continue;
    const drawings = [...box.querySelectorAll(":scope > svg")];
    const shown = drawings.map((svg) => svg.getClientRects().length > 0);
    const title = drawings[0].getAttribute("aria-label").slice(0, 40);
    if (shown.length !== 2 || shown.indexOf(true) !== wanted || shown.lastIndexOf(true) !== wanted) wrong.push(`${title}: shown ${shown}`);
    const at = drawings[wanted].getBoundingClientRect();
    if (at.left < 0 || at.right > innerWidth || box.scrollWidth > box.clientWidth) wrong.push(`${title}: from ${at.left} to ${at.right}`);
  }
  return wrong;
}
