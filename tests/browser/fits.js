// Pictures that are drawn for two widths: which of them is shown, and whether all of it is on the screen.
(wanted) => {
  const wrong = [];
  const boxes = [...document.querySelectorAll("figure .fits")];
  if (!boxes.length && document.querySelector(".picture-intervals, .picture-spent")) wrong.push("no picture is drawn twice");
  for (const box of boxes) {
    const shown = [...box.children].map((svg) => svg.getClientRects().length > 0);
    const title = box.children[0].getAttribute("aria-label").slice(0, 40);
    if (shown.length !== 2 || shown.indexOf(true) !== wanted || shown.lastIndexOf(true) !== wanted) wrong.push(`${title}: shown ${shown}`);
    const at = box.children[wanted].getBoundingClientRect();
    if (at.left < 0 || at.right > innerWidth || box.scrollWidth > box.clientWidth) wrong.push(`${title}: from ${at.left} to ${at.right}`);
  }
  return wrong;
}
