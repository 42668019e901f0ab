// Narrows the index of terms as words are typed. Without this script the index by letter stands as it is.
(function () {
  "use strict";
  var terms = window.longsweepTerms || [];
  var form = document.querySelector(".find-form");
  var input = document.getElementById("find-words");
  var found = document.getElementById("found");
  var count = document.getElementById("find-count");
  var index = document.getElementById("terms");
  if (!form || !input || !terms.length) return;
  form.hidden = false;

  function plain(text) {
    return text.toLowerCase().normalize("NFD").replace(/[\u0300-\u036f]/g, "");
  }
  terms.forEach(function (term) {
    term.title = plain(term.t);
    term.all = term.title + " " + plain(term.k) + " " + plain(term.w);
  });

  // A term weighs more when its own name begins with the word, less when only its text has it.
  function weight(term, words) {
    var sum = 0;
    for (var i = 0; i < words.length; i++) {
      var at = term.title.indexOf(words[i]);
      if (at === 0) sum += 8;
      else if (at > 0) sum += 4;
      else if (term.all.indexOf(words[i]) >= 0) sum += 1;
      else return 0;
    }
    return sum;
  }

  function excerpt(term, word) {
    var at = plain(term.w).indexOf(word);
    if (at < 0) return "";
    var from = Math.max(0, at - 50);
    return (from ? "… " : "") + term.w.slice(from, at + 90) + (at + 90 < term.w.length ? " …" : "");
  }

  function show() {
    var words = plain(input.value).split(/\s+/).filter(Boolean);
    found.textContent = "";
    index.hidden = words.length > 0;
    if (!words.length) {
      count.textContent = "";
      return;
    }
    var hits = terms
      .map(function (term, place) { return { term: term, weight: weight(term, words), place: place }; })
      .filter(function (hit) { return hit.weight > 0; })
      .sort(function (a, b) { return b.weight - a.weight || a.place - b.place; });
    count.textContent = hits.length === 0 ? "Nothing has these words" : hits.length === 1 ? "1 place" : hits.length + " places";
    hits.slice(0, 60).forEach(function (hit) {
      var item = document.createElement("li");
      var link = document.createElement("a");
      link.href = hit.term.u;
      link.textContent = hit.term.t;
      var kind = document.createElement("span");
      kind.className = "small";
      kind.textContent = " " + hit.term.k;
      item.append(link, kind);
      var text = excerpt(hit.term, words[0]);
      if (text) {
        var line = document.createElement("p");
        line.className = "small";
        line.textContent = text;
        item.append(line);
      }
      found.append(item);
    });
  }

  form.addEventListener("submit", function (event) { event.preventDefault(); });
  input.addEventListener("input", show);
  show();
})();
