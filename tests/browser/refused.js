// Puts four things from elsewhere into the page, and tells which of them its policy let through.
async () => {
  const refused = new Set();
  document.addEventListener("securitypolicyviolation", (event) => refused.add(event.blockedURI));
  const host = "http://outside.example/";
  for (const [name, attribute, file] of [["img", "src", "a.png"], ["script", "src", "b.js"], ["link", "href", "c.css"]]) {
    const element = document.createElement(name);
    if (name === "link") element.rel = "stylesheet";
    element[attribute] = host + file;
    document.body.append(element);
  }
  await fetch(`${host}d.json`).catch(() => null);
  await new Promise((done) => setTimeout(done, 200));
  return ["a.png", "b.js", "c.css", "d.json"].filter((file) => !refused.has(host + file)).map((file) => `${file} was not refused`);
}
