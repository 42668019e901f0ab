// Keeps ticks and blanks on this phone where it allows that, says so where it does not, and saves them to
// a file. The sheet reads and prints the same without this script.
(function () {
  "use strict";
  var bar = document.querySelector(".notes-bar");
  var fields = Array.prototype.slice.call(document.querySelectorAll("[data-note]"));
  if (!bar || !fields.length) return;
  fields.forEach(function (field) {
    // The boxes of a tube's end share how their names begin.
    var end = field.closest("[data-notes]");
    if (end) field.dataset.note = end.dataset.notes + field.dataset.note;
    field.autocomplete = "off";
    field.spellcheck = false;
  });
  bar.hidden = false;
  var said = document.getElementById("notes-kept");
  var key = "longsweep/" + bar.dataset.job;

  // The store may be forbidden, full or missing; then nothing is kept, and that is said.
  function stored() {
    try {
      return JSON.parse(window.localStorage.getItem(key) || "{}") || {};
    } catch (refused) {
      return null;
    }
  }
  function keep() {
    try {
      window.localStorage.setItem(key, JSON.stringify(notes));
      return true;
    } catch (refused) {
      return false;
    }
  }
  var found = stored();
  var notes = found || {};
  function tell(kept) {
    said.textContent = kept
      ? "Ticks and readings are kept on this phone. Save them to a file before you hand it on."
      : "This phone keeps nothing when the page is closed. Save to a file before you close it.";
  }

  function value(field) {
    return field.type === "checkbox" ? (field.checked ? "yes" : "") : field.value.trim();
  }
  function fill(field) {
    var kept = notes[field.dataset.note];
    if (field.type === "checkbox") field.checked = kept === "yes";
    else if (typeof kept === "string") field.value = kept;
  }
  function changed(event) {
    var field = event.target;
    var note = field && field.dataset && field.dataset.note;
    if (!note) return;
    var now = value(field);
    // Another page of the packet may have kept more in the meantime.
    var other = stored();
    if (other) Object.keys(other).forEach(function (name) { if (!(name in notes)) notes[name] = other[name]; });
    if (now) notes[note] = now;
    else delete notes[note];
    fields.forEach(function (twin) {
      if (twin !== field && twin.dataset.note === note) fill(twin);
    });
    tell(keep());
  }
  // A tape that differs: the cut by it is worked out on the page, within the limits that stand beside the
  // blank. What cannot be read, and what lies outside, is said and gives no cut.
  var INCH = 0.0254;
  function part(words) {
    // `6`, `6.5`, `1/2`, `6-1/2`, `6 1/2`.
    var found = /^(?:(\d+(?:\.\d+)?)|(?:(\d+)[\s-]+)?(\d+)\s*\/\s*(\d+))$/.exec(words.trim());
    if (!found) return NaN;
    if (found[1] !== undefined) return parseFloat(found[1]);
    if (+found[4] === 0) return NaN;
    return (found[2] ? +found[2] : 0) + +found[3] / +found[4];
  }
  function metres(words, lengths) {
    var text = words.trim().toLowerCase().replace(/[\u2019\u2032]/g, "'").replace(/[\u201d\u2033]|''/g, '"').replace(/,/g, ".");
    var metric = /^(\d+(?:\.\d+)?)\s*(mm|cm|m)?$/.exec(text);
    if (metric && (metric[2] || lengths === "metric")) {
      // A bare number on a metric tape is millimetres.
      return parseFloat(metric[1]) * { mm: 0.001, cm: 0.01, m: 1 }[metric[2] || "mm"];
    }
    var feet = /^(?:(.+?)\s*(?:ft|feet|foot|'))?\s*(?:(.+?)\s*(?:in|inches|inch|"))?$/.exec(text);
    if (!feet || (feet[1] === undefined && feet[2] === undefined)) return NaN;
    return ((feet[1] === undefined ? 0 : part(feet[1])) * 12 + (feet[2] === undefined ? 0 : part(feet[2]))) * INCH;
  }
  function inWords(m, lengths) {
    if (lengths === "metric") return Math.round(m * 1000) + " mm";
    var sixteenths = Math.round((m / INCH) * 16);
    var whole = Math.floor(sixteenths / 16), top = sixteenths % 16, low = 16;
    while (top && top % 2 === 0) { top /= 2; low /= 2; }
    var feet = Math.floor(whole / 12), inches = whole % 12;
    var small = top ? (inches || feet ? inches + "-" : "") + top + "/" + low + " in" : inches ? inches + " in" : "";
    return ((feet ? feet + " ft " : "") + small).trim() || "0 in";
  }
  // A limit holds while the other runs are as drawn: what the tapes of a raceway come up short is added up.
  function tooShort(field, lengths) {
    if (!field.dataset.short) return false;
    var line = field.dataset.note.replace(/[^/]*$/, "");
    var seen = {}, short = 0;
    tapes.forEach(function (one) {
      var about = one.dataset, tape = metres(one.value.trim(), lengths);
      if (!about.short || seen[about.note] || about.note.indexOf(line) !== 0 || !isFinite(tape)) return;
      seen[about.note] = true;
      short += Math.max(0, +about.plan - tape);
    });
    return short > +field.dataset.short + INCH / 64;
  }
  function work(field) {
    var cell = field.closest(".cut-tape");
    var cut = cell && cell.querySelector(".blank-cut");
    var says = cell && cell.querySelector(".tape-says");
    if (!cut || !says) return;
    var about = field.dataset, words = field.value.trim(), lengths = field.closest("[data-lengths]").dataset.lengths;
    cut.textContent = "";
    says.textContent = "";
    if (!words) return;
    var tape = metres(words, lengths);
    if (!isFinite(tape)) {
      says.textContent = "Cannot read this. Write it like " + (lengths === "metric" ? "3810 mm." : "12 ft 6-1/2 in.");
      return;
    }
    // A sixty-fourth of an inch is finer than any tape; the limits themselves are inside.
    var least = +about.least, most = +about.most, fine = INCH / 64;
    if (tape < least - fine || tape > most + fine) {
      says.textContent = "Outside the limits. Do not cut. Call the crew lead.";
      return;
    }
    if (tooShort(field, lengths)) {
      says.textContent = "Too short for the hose, with the other tapes. Do not cut. Call the crew lead.";
      return;
    }
    cut.textContent = inWords(tape - +about.deduct, lengths);
    if (about.piece && about.piece !== about.note.split("/").pop()) {
      says.textContent = about.piece + " is then " + inWords(+about.pieceLength + tape - +about.plan, lengths) + ".";
    }
  }
  var tapes = fields.filter(function (field) { return field.matches(".tape"); });
  function workedOut(event) {
    if (tapes.indexOf(event.target) >= 0) tapes.forEach(work);
  }

  fields.forEach(fill);
  tapes.forEach(work);
  document.addEventListener("input", workedOut);
  document.addEventListener("input", changed);
  document.addEventListener("change", changed);
  tell(found !== null && keep());

  // Plain YAML: names in nested maps, ticks as a list, every value in double quotes as JSON writes it.
  function name(word) {
    return /^[A-Za-z][A-Za-z0-9-]*$/.test(word) && !/^(true|false|yes|no|on|off|null|y|n)$/i.test(word) ? word : JSON.stringify(word);
  }
  function tree() {
    var top = { job: {}, inlets: {}, trunks: {} };
    Object.keys(notes).sort().forEach(function (path) {
      var parts = path.split("/");
      var at = top;
      parts.slice(0, -1).forEach(function (part) {
        at = at[part] = at[part] && typeof at[part] === "object" ? at[part] : {};
      });
      at[parts[parts.length - 1]] = notes[path];
    });
    return top;
  }
  function listed(map) {
    return Object.keys(map).length > 0 && Object.keys(map).every(function (word) { return map[word] === "yes"; });
  }
  function lines(map, indent) {
    return Object.keys(map).map(function (word) {
      var inner = map[word];
      var head = indent + name(word) + ":";
      if (typeof inner === "string") return head + " " + JSON.stringify(inner) + "\n";
      if (listed(inner)) return head + "\n" + Object.keys(inner).map(function (tick) { return indent + "  - " + JSON.stringify(tick) + "\n"; }).join("");
      return head + "\n" + lines(inner, indent + "  ");
    }).join("");
  }
  function owners(map) {
    return Object.keys(map).map(function (id) {
      return "  - id: " + name(id) + "\n" + lines(map[id], "    ");
    }).join("");
  }
  function day() {
    var now = new Date();
    function two(n) { return (n < 10 ? "0" : "") + n; }
    return now.getFullYear() + "-" + two(now.getMonth() + 1) + "-" + two(now.getDate());
  }
  function yaml() {
    var all = tree();
    return "# Ticks, measures and readings of " + bar.dataset.title.replace(/[\r\n]/g, " ") + ", taken on the packet's own pages.\n" +
      "job: " + JSON.stringify(bar.dataset.job) + "\nday: " + day() + "\n" + lines(all.job, "") +
      (Object.keys(all.inlets).length ? "inlets:\n" + owners(all.inlets) : "") +
      (Object.keys(all.trunks).length ? "trunks:\n" + owners(all.trunks) : "");
  }
  document.getElementById("notes-save").addEventListener("click", function () {
    var link = document.createElement("a");
    link.href = URL.createObjectURL(new Blob([yaml()], { type: "application/yaml" }));
    link.download = bar.dataset.job.split("/").pop() + "-" + day() + ".yaml";
    document.body.appendChild(link);
    link.click();
    link.remove();
    setTimeout(function () { URL.revokeObjectURL(link.href); }, 10000);
    said.textContent = "Saved as " + link.download + ".";
  });
})();
