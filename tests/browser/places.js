// Links within the page whose place is missing, and names of places that are given twice.
() => {
  const wrong = [];
  const names = [...document.querySelectorAll("[id]")].map((element) => element.id);
  for (const name of new Set(names)) {
    if (names.indexOf(name) !== names.lastIndexOf(name)) wrong.push(`the id ${name} is given twice`);
  }
  for (const link of document.links) {
    const href = link.getAttribute("href");
    if (href.startsWith("#") && !names.includes(decodeURIComponent(href.slice(1)))) {
      wrong.push(`the link ${href} leads nowhere`);
    }
  }
  for (const use of document.querySelectorAll("use")) {
    const href = use.getAttribute("href");
    if (!href.startsWith("#") || !names.includes(href.slice(1))) wrong.push(`${href} is drawn from nowhere`);
  }
  return wrong;
}
