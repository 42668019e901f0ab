// Answers questions on the page: checks, shows the reason, and tells the study record. The page reads and
// prints the same without this script; the answers then stand at its end.
(function () {
  "use strict";
  var items = Array.prototype.slice.call(document.querySelectorAll(".ask-item"));
  var answers = document.querySelector(".answers");
  if (!items.length || !answers) return;
  answers.classList.add("paper-only");
  var bar = document.querySelector(".study-bar");
  var lesson = bar ? bar.dataset.lesson : "";
  var asks = items.map(function (item) { return item.dataset.ask; });

  function all(within, what) { return Array.prototype.slice.call(within.querySelectorAll(what)); }
  function answer(item) { return document.getElementById(item.id.replace("ask.", "answer.")); }
  function picked(item) {
    return all(item, "input:checked").map(function (field) { return field.value; });
  }
  function same(a, b) { return a.slice().sort().join(" ") === b.slice().sort().join(" "); }

  // `5 ft 6-1/2 in`, `66 1/2`, `5'6-1/2"`, `66.5`: inches; with `mm` as the firm's unit, millimeters.
  function fraction(text) {
    var parts = /^(?:(\d+(?:\.\d+)?)(?:[\s-]+(?=\d+\s*\/))?)?(?:(\d+)\s*\/\s*(\d+))?$/.exec(text.trim());
    if (!parts || text.trim() === "" || (parts[3] && +parts[3] === 0)) return NaN;
    return +(parts[1] || 0) + (parts[2] ? +parts[2] / +parts[3] : 0);
  }
  function inches(text) {
    var feet = /^(.*?)\s*(?:ft|feet|foot|'|′)\.?\s*(.*)$/i.exec(text);
    var rest = (feet ? feet[2] : text).replace(/\s*(?:in|inch|inches|"|″)\.?$/i, "");
    var whole = feet ? fraction(feet[1]) * 12 : 0;
    return feet && rest.trim() === "" ? whole : whole + fraction(rest);
  }
  function millimeters(text) {
    var metric = /^([\d.]+)\s*(mm|cm|m)?$/i.exec(text.trim());
    if (!metric) return NaN;
    return +metric[1] * { mm: 1, cm: 10, m: 1000 }[(metric[2] || "mm").toLowerCase()];
  }
  function number(field) {
    var text = field.value.trim();
    var minus = /^[-−]/.test(text);
    text = text.replace(/^[-−]\s*/, "").replace(/(\d),(?=\d{3}\b)/g, "$1");
    var value = field.dataset.lengths === "ft-in" ? inches(text)
      : field.dataset.lengths === "mm" ? millimeters(text)
      : parseFloat((/^\d*\.?\d+/.exec(text) || [])[0]);
    return minus ? -value : value;
  }

  // Each tells whether the answer is right; words where there is none to judge.
  var forms = {
    one: function (item, key) {
      var now = picked(item);
      return now.length ? now[0] === key : "Pick one first.";
    },
    several: function (item, key) {
      var now = picked(item);
      return now.length ? same(now, key.split(" ")) : "Tick what is right first.";
    },
    order: function (item, key) {
      return all(item, ".ask-step").map(function (step) { return step.dataset.step; }).join(" ") === key;
    },
    number: function (item, key) {
      var field = item.querySelector("input");
      var value = number(field);
      if (isNaN(value)) return "Write a number" + (field.dataset.lengths === "ft-in" ? ", like 5 ft 6-1/2 in or 66.5." : ".");
      var want = key.split(" ").map(Number);
      return Math.abs(value - want[0]) <= want[1] + 1e-6 * Math.max(1, Math.abs(want[0]));
    },
    judge: function (item, key) {
      var now = picked(item);
      if (!now.length) return "Tap what is wrong, or pick “Nothing is wrong”.";
      var groups = key.split("; ").map(function (group) { return group.split(" "); });
      var known = [].concat.apply([], groups);
      return now.every(function (mark) { return known.indexOf(mark) >= 0; }) &&
        groups.every(function (group) { return group.some(function (mark) { return now.indexOf(mark) >= 0; }); });
    }
  };

  function tell(item, words, reason) {
    var told = item.querySelector(".ask-told");
    told.textContent = "";
    var first = document.createElement("p");
    first.className = "ask-verdict";
    first.textContent = words;
    told.appendChild(first);
    if (reason) Array.prototype.forEach.call(reason.childNodes, function (node) { told.appendChild(node.cloneNode(true)); });
    told.classList.toggle("answered", !!reason);
  }
  function check(item) {
    var reason = answer(item);
    var right = forms[item.dataset.form](item, reason.dataset.key);
    if (typeof right === "string") return tell(item, right, null);
    var first = study.tried(lesson, item.dataset.ask, right, asks);
    tell(item, right ? "Right." : "Not right. " + (first ? "Change your answer and check again; the record keeps the first try." : "Try again.") + " The answer:", reason);
    study.changed();
  }

  // Steps are moved by two buttons, so that a thumb and a keyboard do the same.
  function steps(item) {
    var list = item.querySelector(".ask-steps");
    function move(step, by) {
      var other = by < 0 ? step.previousElementSibling : step.nextElementSibling;
      if (!other) return;
      list.insertBefore(by < 0 ? step : other, by < 0 ? other : step);
      var place = all(list, ".ask-step").indexOf(step) + 1;
      tell(item, step.querySelector(".ask-step-words").textContent + ": now number " + place + ".", null);
    }
    all(list, ".ask-step").forEach(function (step) {
      var words = step.querySelector(".ask-step-words").textContent;
      [["Up", -1], ["Down", 1]].forEach(function (way) {
        var button = document.createElement("button");
        button.type = "button";
        button.className = "ask-move";
        button.textContent = way[0];
        button.setAttribute("aria-label", way[0] + ": " + words);
        button.addEventListener("click", function () {
          move(step, way[1]);
          button.focus();
        });
        step.appendChild(button);
      });
    });
  }

  // A tap takes the part nearest to it; the list beside the drawing does the same by key.
  function taps(item) {
    var svg = item.querySelector(".ask-drawing svg");
    if (!svg) return;
    var reach = 24;
    var legs = 0;
    var parts = [];
    all(svg, "g[data-kind]").forEach(function (g) {
      var kind = g.dataset.kind;
      var mark = kind === "bend" || kind === "bend-flag" || kind === "crossing" ? g.dataset.mark
        : kind === "tube" ? "leg-" + (legs += 1)
        : kind === "dimension" ? String(g.dataset.mark).replace(" ", "-")
        : kind === "stop" ? "stop" : "";
      var field = mark && all(item, "input").filter(function (one) { return one.value === mark; })[0];
      if (field) parts.push({ g: g, field: field });
    });
    function away(g, x, y) {
      return Math.min.apply(null, all(g, "path,line,polyline,polygon,circle,rect,text").map(function (shape) {
        var box = shape.getBoundingClientRect();
        return Math.hypot(Math.max(box.left - x, 0, x - box.right), Math.max(box.top - y, 0, y - box.bottom));
      }));
    }
    function show() {
      parts.forEach(function (part) { part.g.classList.toggle("picked", part.field.checked); });
    }
    svg.addEventListener("click", function (event) {
      var near = null;
      parts.forEach(function (part) {
        // A bend or a hole is small beside its leg, so of two that are near it is the one meant.
        var far = away(part.g, event.clientX, event.clientY) + (/^leg-/.test(part.field.value) ? 6 : 0);
        if (far <= reach && (!near || far < near.far)) near = { far: far, field: part.field };
      });
      if (!near) return;
      near.field.checked = !near.field.checked;
      show();
      tell(item, near.field.parentElement.textContent.trim() + (near.field.checked ? ": marked." : ": not marked."), null);
    });
    item.addEventListener("change", show);
  }

  items.forEach(function (item) {
    var act = item.querySelector(".ask-act");
    act.hidden = false;
    act.querySelector("button").addEventListener("click", function () { check(item); });
    if (item.dataset.form === "order") steps(item);
    if (item.dataset.form === "judge") taps(item);
    var field = item.querySelector(".ask-number input");
    if (field) field.addEventListener("keydown", function (event) { if (event.key === "Enter") check(item); });
  });
  study.bar(function () {
    var mine = study.lesson(lesson);
    var right = asks.filter(function (ask) { return mine.right.indexOf(ask) >= 0; }).length;
    document.querySelector(".study-count").textContent =
      right + " of " + asks.length + " right" + study.firsts(mine, asks) + (mine.passed ? "; passed " + mine.passed : "") + ".";
    items.forEach(function (item) { item.classList.toggle("ask-done", mine.right.indexOf(item.dataset.ask) >= 0); });
  });
})();
