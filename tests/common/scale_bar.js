// Gives every scale bar one colour and returns the length in mm of paper that each must have: what the
// bar itself says ("20 ft"), at the scale it claims (1:96).
const METRES = { ft: 0.3048, in: 0.0254, m: 1, mm: 0.001 };
const lengths = [];
for (const bar of document.querySelectorAll('[data-kind="scale-bar"], [data-mark="scale-bar"]')) {
  const words = [...bar.querySelectorAll("text")].map((e) => e.textContent.trim());
  const said = words.map((w) => /^([\d.]+)\s*(ft|in|mm|m)$/.exec(w)).find((m) => m);
  const ratio = words.map((w) => /\b1:(\d+)/.exec(w)).find((m) => m);
  if (!said || !ratio) return `a scale bar says neither length nor scale: ${words.join(" | ")}`;
  lengths.push((Number(said[1]) * METRES[said[2]] * 1000) / Number(ratio[1]));
  for (const shape of [bar, ...bar.querySelectorAll("*")]) {
    if (!/^(line|path|rect|polyline|polygon)$/.test(shape.localName)) continue;
    // The outline of a filled part is left off, for it adds its own width at both ends.
    const filled = getComputedStyle(shape).fill !== "none" && shape.localName !== "line";
    shape.style.setProperty("fill", filled ? "#ff00fe" : "none", "important");
    shape.style.setProperty("stroke", filled ? "none" : "#ff00fe", "important");
  }
}
return lengths;
