// What a look at the open page, its fonts loaded, finds wrong with its layout; a list of sentences.
// With `foreign` the page stands in a font that is not its own, and only its width is looked at.
const [width, foreign, done] = arguments;
const faults = [];
const isPage = document.documentElement.localName === "html";

// Boxes that are meant to be moved sideways on a phone.
const MOVES = ".scroll, .wide, .formula, .within-line, pre";

function named(e) {
  return e.localName + (e.id ? "#" + e.id : "") + (e.className ? "." + e.className : "");
}

function sideways() {
  if (!isPage) return;
  const page = document.documentElement;
  if (page.scrollWidth > width) {
    const wide = [...document.body.querySelectorAll("*")]
      .filter((e) => !e.closest("svg *") && e.getBoundingClientRect().right > width + 0.5)
      .map(named);
    faults.push(`scrolls sideways: ${page.scrollWidth} px in ${width}: ${wide.slice(0, 5).join(", ")}`);
  }
}

// A sheet may move sideways in a font that is not ours, never in our own.
function sheetsMove() {
  for (const body of document.querySelectorAll(".sheet-body")) {
    if (body.scrollWidth <= body.clientWidth) continue;
    const edge = body.getBoundingClientRect().right + 0.5;
    const wide = [...body.querySelectorAll("*")]
      .filter((e) => !e.closest("svg *") && !e.parentElement.closest(MOVES) && e.getBoundingClientRect().right > edge)
      .map(named);
    faults.push(`a sheet scrolls sideways: ${body.scrollWidth} px in ${body.clientWidth}: ${wide.slice(0, 5).join(", ")}`);
  }
}

// A figure like 6-5/16 over the end of a line reads as two.
function figuresApart() {
  if (!isPage) return;
  const words = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  while (words.nextNode()) {
    const text = words.currentNode;
    if (text.parentElement.closest("svg, script, style")) continue;
    for (const figure of text.data.matchAll(/\d-\d+\/\d+/g)) {
      const range = document.createRange();
      range.setStart(text, figure.index);
      range.setEnd(text, figure.index + figure[0].length);
      const lines = new Set([...range.getClientRects()].map((box) => Math.round(box.top)));
      if (lines.size > 1) faults.push(`${figure[0]} stands on two lines: "${text.data.trim().slice(0, 60)}"`);
    }
  }
  // What lies in a grid or a row of boxes is set apart from the words before and after it.
  for (const figure of document.querySelectorAll("span.whole")) {
    const laid = getComputedStyle(figure.parentElement).display;
    if (/grid|flex/.test(laid)) faults.push(`${figure.textContent} stands apart from its words (${laid})`);
  }
}

// The four corners of a text on the screen, turned as the text is turned; a line box is taller than
// its letters, so a tenth is left off above and below.
function corners(text) {
  const box = text.getBBox();
  const matrix = text.getScreenCTM();
  const inset = box.height * 0.1;
  return [
    [box.x, box.y + inset],
    [box.x + box.width, box.y + inset],
    [box.x + box.width, box.y + box.height - inset],
    [box.x, box.y + box.height - inset],
  ].map(([x, y]) => {
    const p = new DOMPoint(x, y).matrixTransform(matrix);
    return [p.x, p.y];
  });
}

// How deep two convex quadrangles reach into each other; negative when a line parts them.
function depth(a, b) {
  let least = Infinity;
  for (const shape of [a, b]) {
    for (let i = 0; i < 4; i++) {
      const [x1, y1] = shape[i];
      const [x2, y2] = shape[(i + 1) % 4];
      const length = Math.hypot(x2 - x1, y2 - y1) || 1;
      const [nx, ny] = [(y1 - y2) / length, (x2 - x1) / length];
      const [p, q] = [a, b].map((s) => s.map(([x, y]) => x * nx + y * ny));
      least = Math.min(least, Math.min(Math.max(...p), Math.max(...q)) - Math.max(Math.min(...p), Math.min(...q)));
    }
  }
  return least;
}

function shown(text) {
  const style = getComputedStyle(text);
  return (
    text.textContent.trim() !== "" &&
    style.visibility !== "hidden" &&
    style.display !== "none" &&
    text.getBBox().width > 0 &&
    !text.closest("defs, symbol, clipPath, mask, pattern, marker")
  );
}

function look() {
  sideways();
  if (foreign) return;
  sheetsMove();
  figuresApart();
  for (const svg of document.querySelectorAll("svg")) {
    if (svg.parentElement && svg.parentElement.closest("svg")) continue;
    const frame = svg.getBoundingClientRect();
    if (frame.width === 0) continue;
    const texts = [...svg.querySelectorAll("text")].filter(shown).map((t) => ({ words: t.textContent.trim(), at: corners(t) }));
    const name = svg.id || svg.getAttribute("aria-label") || svg.querySelector("title")?.textContent || "a drawing";
    texts.forEach((text, i) => {
      const out = text.at.some(
        ([x, y]) => x < frame.left - 0.5 || x > frame.right + 0.5 || y < frame.top - 0.5 || y > frame.bottom + 0.5,
      );
      if (out) faults.push(`${name}: "${text.words}" lies outside the drawing`);
      for (const other of texts.slice(i + 1)) {
        const reach = depth(text.at, other.at);
        if (reach > 0.5) faults.push(`${name}: "${text.words}" and "${other.words}" overlap by ${reach.toFixed(1)} px`);
      }
    });
  }
}

// The spacing that WCAG 2.2, 1.4.12 says a page must bear, in letters of one width: wider than any font
// that a phone comes with, so that what is measured does not hang on what is installed here.
function setForeign() {
  const style = document.createElement("style");
  style.textContent = `*:not(svg, svg *) { font-family: monospace !important; line-height: 1.5 !important;
    letter-spacing: 0.12em !important; word-spacing: 0.16em !important; }`;
  document.head.append(style);
}

if (foreign && isPage) setForeign();
document.fonts.ready.then(look).then(() => done(faults), (e) => done([String(e)]));
