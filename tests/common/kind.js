// What is wrong with the open page for somebody with a keyboard alone, and with its links and requests; a list
// of sentences. `tabs` are the places among the parts below that the tab key has just gone through, in turn.
const [tabs] = arguments;
const faults = [];
const named = (e) => e.outerHTML.slice(0, 120);
const shown = (e) => e.getClientRects().length > 0 && e.checkVisibility({ visibilityProperty: true });
const parts = [...document.querySelectorAll("a[href], button, input, summary, select, textarea, [tabindex]")].filter(shown);

for (const part of parts) {
  if (part.tabIndex !== 0 && !(part.type === "radio" || part.disabled)) faults.push(`tab ${part.tabIndex}, out of turn: ${named(part)}`);
}
for (let i = 1; i < tabs.length; i++) {
  if (tabs[i] <= tabs[i - 1]) faults.push(`the tab key goes from part ${tabs[i - 1]} to part ${tabs[i]}`);
}
// Focus is seen on the part itself or on what stands for it: the label round it, the words after it.
const outlined = (e) => e && getComputedStyle(e).outlineStyle === "solid" && parseFloat(getComputedStyle(e).outlineWidth) >= 2;
for (const part of parts.slice(0, 400)) {
  if (part.disabled) continue;
  part.focus({ preventScroll: true });
  const near = [part, part.parentElement, ...part.parentElement.children];
  if (document.activeElement !== part) faults.push(`takes no focus: ${named(part)}`);
  else if (!near.some(outlined)) faults.push(`its focus is not seen: ${named(part)}`);
}
const empty = /^(here|tap here|click here|this|link|more|tap|open)?$/i;
for (const link of document.querySelectorAll("a[href]")) {
  const words = (link.textContent.trim() || link.getAttribute("aria-label") || "").trim();
  if (empty.test(words)) faults.push(`a link that says nothing on paper: ${named(link)}`);
}
for (const asked of performance.getEntriesByType("resource")) {
  if (!/^(file|data|blob):/.test(asked.name)) faults.push(`asks for ${asked.name}`);
}
return faults;
