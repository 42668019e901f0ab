// Colours every scale bar, hides its words, and returns the length in mm of paper that each must have:
// its extent in the drawing's own units, brought to the width that the drawing claims in mm.
const lengths = [];
for (const bar of document.querySelectorAll('[data-mark="scale-bar"]')) {
  const svg = bar.closest("svg");
  const claimed = /^([\d.]+)mm$/.exec(svg.getAttribute("width") || "");
  if (!claimed) return `a drawing with a scale bar is ${svg.getAttribute("width")} wide, not so many mm`;
  const shapes = [bar, ...bar.querySelectorAll("*")].filter((e) => /^(line|path|rect|polyline|polygon)$/.test(e.localName));
  bar.querySelectorAll("text, title, desc").forEach((e) => e.remove());
  let [left, right] = [Infinity, -Infinity];
  for (const shape of shapes) {
    shape.style.setProperty("stroke", "#ff00fe", "important");
    if (getComputedStyle(shape).fill !== "none") shape.style.setProperty("fill", "#ff00fe", "important");
    const box = shape.getBBox();
    const matrix = svg.getScreenCTM().inverse().multiply(shape.getScreenCTM());
    const ends = [box.x, box.x + box.width].map((x) => new DOMPoint(x, box.y).matrixTransform(matrix).x);
    [left, right] = [Math.min(left, ...ends), Math.max(right, ...ends)];
  }
  const units = svg.viewBox.baseVal && svg.viewBox.baseVal.width ? svg.viewBox.baseVal.width : Number(claimed[1]);
  lengths.push(((right - left) * Number(claimed[1])) / units);
}
return lengths;
