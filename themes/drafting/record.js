// Fills the study record from what this phone keeps. Without it the record is a form to fill by hand.
(function () {
  "use strict";
  var rows = Array.prototype.slice.call(document.querySelectorAll("[data-lesson-row]"));
  var name = document.getElementById("study-name");
  if (!rows.length || !name) return;
  function show() {
    name.value = study.name();
    rows.forEach(function (row) {
      var asks = row.dataset.asks ? row.dataset.asks.split(" ") : [];
      var mine = study.lesson(row.dataset.lessonRow);
      var right = asks.filter(function (ask) { return mine.right.indexOf(ask) >= 0; }).length;
      row.querySelector(".study-right").textContent = right + " of " + asks.length + study.firsts(mine, asks);
      row.querySelector(".study-passed").textContent = right === asks.length && mine.passed ? mine.passed : "";
    });
  }
  study.bar(show);
  name.addEventListener("input", function () {
    study.name(name.value);
    study.changed();
  });
})();
