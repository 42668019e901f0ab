// Hides the terms that lack a word typed. Without this script the index stands as it is.
(function () {
  "use strict";
  var form = document.querySelector(".find-form");
  var input = document.getElementById("find-words");
  var count = document.getElementById("find-count");
  var list = document.getElementById("terms");
  if (!form || !input || !list) return;
  form.hidden = false;

  function plain(text) {
    return text.toLowerCase().normalize("NFD").replace(/[\u0300-\u036f]/g, "");
  }
  var terms = Array.prototype.map.call(list.children, function (item) {
    return { item: item, words: plain(item.textContent + " " + item.dataset.words) };
  });

  function show() {
    var words = plain(input.value).split(/\s+/).filter(Boolean);
    var left = 0;
    terms.forEach(function (term) {
      var has = words.every(function (word) { return term.words.indexOf(word) >= 0; });
      term.item.hidden = !has;
      if (has) left += 1;
    });
    count.textContent = !words.length ? "" : left === 0 ? "No term has these words" : left === 1 ? "1 term" : left + " terms";
  }

  form.addEventListener("submit", function (event) { event.preventDefault(); });
  input.addEventListener("input", show);
  show();
})();
