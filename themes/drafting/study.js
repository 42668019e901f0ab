// Keeps what a reader has answered right, and what at the first try, on this phone where it allows that; says so
// where it does not; saves it to a file and reads it from one. Lessons and the study record share it.
var study = (function () {
  "use strict";
  var own = document.querySelector(".study-bar");
  var firm = own ? own.dataset.firm : "";
  var key = "longsweep-study " + firm;
  var kept = true;

  // What is read may come from a file that anybody wrote: only what fits is taken.
  function fit(from) {
    var to = { firm: firm, name: "", lessons: {} };
    if (!from || typeof from !== "object") return to;
    if (typeof from.name === "string") to.name = from.name.slice(0, 80);
    var lessons = from.lessons && typeof from.lessons === "object" ? from.lessons : {};
    Object.keys(lessons).slice(0, 1000).forEach(function (id) {
      var one = lessons[id];
      if (!/^[\w.-]{1,80}$/.test(id) || !one || !Array.isArray(one.right)) return;
      to.lessons[id] = { right: marks(one.right), tried: marks(one.tried), first: marks(one.first) };
      if (/^\d{4}-\d{2}-\d{2}$/.test(one.passed)) to.lessons[id].passed = one.passed;
    });
    return to;
  }
  function marks(from) {
    return (Array.isArray(from) ? from : []).filter(function (ask) { return /^[0-9a-f]{8}$/.test(ask); }).slice(0, 500);
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
  // One record out of two: whatever either has right is right, the first try that is known here stands, and the
  // earlier day.
  function join(other) {
    all.name = all.name || other.name;
    Object.keys(other.lessons).forEach(function (id) {
      var mine = of(id);
      var more = other.lessons[id];
      more.first.forEach(function (ask) { if (mine.tried.indexOf(ask) < 0) add(mine.first, ask); });
      more.tried.forEach(function (ask) { add(mine.tried, ask); });
      more.right.forEach(function (ask) { add(mine.right, ask); });
      var days = [mine.passed, other.lessons[id].passed].filter(Boolean).sort();
      if (days.length) mine.passed = days[0];
    });
  }
  function of(id) {
    return (all.lessons[id] = all.lessons[id] || { right: [], tried: [], first: [] });
  }
  function add(list, ask) {
    if (list.indexOf(ask) < 0) list.push(ask);
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
          return tell(file.name + " is broken, so nothing was read from it. Save the record again where you made it.");
        }
        if (!read || !read.lessons || typeof read.lessons !== "object" || typeof read.firm !== "string") {
          return tell(file.name + " is no study record, so nothing was read from it. Pick a file named study-record.");
        }
        if (read.firm !== firm) {
          return tell(file.name + " is a record of " + read.firm.slice(0, 80) + ", not of " + firm + ", so nothing was read from it.");
        }
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
    // How many of the questions tried were right at the first try, where that is not all of them.
    firsts: function (mine, asks) {
      var tried = asks.filter(function (ask) { return mine.tried.indexOf(ask) >= 0; });
      var first = tried.filter(function (ask) { return mine.first.indexOf(ask) >= 0; });
      return first.length < tried.length ? ", " + first.length + " at the first try" : "";
    },
    // Keeps a try; answers whether it was the first.
    tried: function (id, ask, right, asks) {
      var mine = of(id);
      var first = mine.tried.indexOf(ask) < 0;
      add(mine.tried, ask);
      if (right && first) add(mine.first, ask);
      if (right) add(mine.right, ask);
      if (!mine.passed && asks.every(function (one) { return mine.right.indexOf(one) >= 0; })) mine.passed = today();
      return first;
    }
  };
  return api;
})();
