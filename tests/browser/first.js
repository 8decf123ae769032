// What the first screen of a report or index lacks, in English or German. A text counts where each of its lines lies inside of the window.
(wanted) => {
  const wrong = [];
  const inside = (node) => {
    const range = document.createRange();
    range.selectNodeContents(node);
    const boxes = [...range.getClientRects()].filter((box) => box.width > 0);
    return boxes.length > 0 && boxes.every((box) => box.top >= 0 && box.bottom <= innerHeight && box.right <= innerWidth);
  };
  const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  const seen = [];
  while (walker.nextNode()) {
    const node = walker.currentNode;
    if (node.data.trim() && inside(node)) seen.push(node.data);
  }
  const text = seen.join(" ").replace(/\s+/g, " ");
  const holds = (what, yes) => { if (!yes) wrong.push(`the first screen lacks ${what}`); };
  if (wanted.question) holds("the question", text.includes(wanted.question));
  holds("the answer's heading", inside(document.querySelector(".answer h2, .headline")));
  const sentences = document.querySelectorAll(".answer > p, .headline ~ p:not(.small)");
  if (!sentences.length) wrong.push("the answer has no sentences");
  for (const sentence of sentences) holds(`the sentence "${sentence.textContent.slice(0, 40)} ..."`, inside(sentence));
  holds("a date", /\b20\d\d-\d\d-\d\d\b|\b\d+\. \p{Lu}\p{Ll}+ 20\d\d\b/u.test(text));
  if (wanted.read) {
    holds("the number of sections", /\b\d+ (sections?|Abschnitte?)\b/.test(text));
    holds("what may lead, or that nothing is told apart", /may lead|leads|told apart|vorn liegen|unterscheid/.test(text));
  }
  return wrong;
}
