// On a phone: the columns that decide are on the screen before anybody pushes the table, and a table that is pushed keeps the names of its rows.
(read) => {
  const wrong = [];
  let decide = 0;
  for (const box of document.querySelectorAll(".wide:has(> table)")) {
    const heads = [...box.querySelectorAll("thead :is(th, td)")];
    const name = box.getAttribute("aria-labelledby");
    const word = heads.findIndex((head) => ["Word", "May lead"].includes(head.textContent.trim()));
    // A pair has two names, and a further look a round: their word may stand at the edge, where the table fades.
    if (word > 0 && heads[0].textContent.trim() === "Product" && heads[1].textContent.trim() !== "against") {
      decide += 1;
      for (const row of box.querySelectorAll("tr")) {
        const right = row.cells[word].getBoundingClientRect().right;
        if (right > innerWidth) wrong.push(`${name}: ${row.textContent.slice(0, 30)} decides at ${right} px`);
      }
    }
    box.scrollLeft = box.scrollWidth;
    for (const row of box.querySelectorAll("tr")) {
      const [left, of] = [row.cells[0].getBoundingClientRect().left, box.getBoundingClientRect().left];
      if (Math.abs(left - of) > 0.5) wrong.push(`${name}: ${row.textContent.slice(0, 30)} begins at ${left} px once it is pushed`);
    }
    box.scrollLeft = 0;
  }
  if (read && !decide) wrong.push("no table decides");
  return wrong.slice(0, 12);
}
