// Keeps what a reader has answered right, on this phone where it allows that; says so where it does not;
// saves it to a file and reads it from one. Lessons and the study record share it.
var study = (function () {
  "use strict";
  var key = "longsweep-study";
  var kept = true;

  // What is read may come from a file that anybody wrote: only what fits is taken.
  function fit(from) {
    var to = { name: "", lessons: {} };
    if (!from || typeof from !== "object") return to;
    if (typeof from.name === "string") to.name = from.name.slice(0, 80);
    var lessons = from.lessons && typeof from.lessons === "object" ? from.lessons : {};
    Object.keys(lessons).slice(0, 1000).forEach(function (id) {
      var one = lessons[id];
      if (!/^[\w.-]{1,80}$/.test(id) || !one || !Array.isArray(one.right)) return;
      to.lessons[id] = { right: one.right.filter(function (ask) { return /^[0-9a-f]{8}$/.test(ask); }).slice(0, 500) };
      if (/^\d{4}-\d{2}-\d{2}$/.test(one.passed)) to.lessons[id].passed = one.passed;
    });
    return to;
  }
  function load() {
    try {
      return fit(JSON.parse(window.localStorage.getItem(key) || "{}"));
    } catch (refused) {
      kept = false;
      return fit(null);
    }
  }
  function store() {
    try {
      window.localStorage.setItem(key, JSON.stringify(all));
      kept = true;
    } catch (refused) {
      kept = false;
    }
  }
  // One record out of two: whatever either has right is right, and the earlier day stands.
  function join(other) {
    all.name = all.name || other.name;
    Object.keys(other.lessons).forEach(function (id) {
      var mine = of(id);
      other.lessons[id].right.forEach(function (ask) { if (mine.right.indexOf(ask) < 0) mine.right.push(ask); });
      var days = [mine.passed, other.lessons[id].passed].filter(Boolean).sort();
      if (days.length) mine.passed = days[0];
    });
  }
  function of(id) {
    return (all.lessons[id] = all.lessons[id] || { right: [] });
  }
  var all = load();
  store();

  function today() {
    var now = new Date();
    function two(n) { return (n < 10 ? "0" : "") + n; }
    return now.getFullYear() + "-" + two(now.getMonth() + 1) + "-" + two(now.getDate());
  }
  function save() {
    var link = document.createElement("a");
    link.href = URL.createObjectURL(new Blob([JSON.stringify(all, null, 2) + "\n"], { type: "application/json" }));
    link.download = "study-record-" + today() + ".json";
    document.body.appendChild(link);
    link.click();
    link.remove();
    setTimeout(function () { URL.revokeObjectURL(link.href); }, 10000);
    return link.download;
  }

  // The bar that every page with progress has; `show` is called whenever the record changed.
  function bar(show) {
    var box = document.querySelector(".study-bar");
    if (!box) return;
    box.hidden = false;
    var told = box.querySelector(".study-kept");
    function tell(before) {
      told.textContent = (before ? before + " " : "") + (kept
        ? "Your answers are kept on this phone."
        : "This phone keeps nothing when the page is closed. Save to a file before you close it.");
    }
    function again(before) { store(); tell(before); show(); }
    box.querySelector(".study-save").addEventListener("click", function () { tell("Saved as " + save() + "."); });
    box.querySelector(".study-read").addEventListener("change", function (event) {
      var file = event.target.files[0];
      if (!file) return;
      file.text().then(function (text) {
        var read;
        try {
          read = JSON.parse(text);
        } catch (broken) {
          return tell("That file is no study record.");
        }
        if (!read || typeof read.lessons !== "object") return tell("That file is no study record.");
        join(fit(read));
        again("Read " + file.name + ".");
      });
      event.target.value = "";
    });
    tell("");
    show();
    api.changed = function () { again(""); };
  }

  var api = {
    bar: bar,
    changed: function () {},
    lesson: of,
    name: function (name) { if (name !== undefined) all.name = name.slice(0, 80); return all.name; },
    right: function (id, ask, asks) {
      var mine = of(id);
      if (mine.right.indexOf(ask) < 0) mine.right.push(ask);
      if (!mine.passed && asks.every(function (one) { return mine.right.indexOf(one) >= 0; })) mine.passed = today();
    }
  };
  return api;
})();
