// Finds terms by the stems of the words typed: all of them, in any order, with their synonyms, their beginnings
// and small slips. What is typed decides which shards of the index are asked for; without the script the
// list of terms stands as it is.
var longsweepFound;
var longsweepStems = (function () {
  "use strict";
  var form = document.querySelector(".find-form");
  var input = document.getElementById("find-words");
  var count = document.getElementById("find-count");
  var list = document.getElementById("found");
  var standing = document.getElementById("terms");
  if (!form || !input || !list) return;
  form.hidden = false;
  var MOST = 40;
  var ENTRIES = 200;
  var names = form.dataset.shards ? form.dataset.shards.split(" ") : [];

  // The same stems as the index has; see src/site/find/stem.rs.
  var idle = ("a an and are as at be but by can for from has have how if in is it its may not of on or so that the then " +
    "this to was what when where which with you").split(" ");
  function singular(word) {
    if (/..ies$/.test(word)) return word.slice(0, -3) + "y";
    if (/(sses|xes|ches|shes|zes)$/.test(word)) return word.slice(0, -2);
    return /s$/.test(word) && !/[sui]s$/.test(word) ? word.slice(0, -1) : word;
  }
  function stem(word) {
    if (word.length <= 3 || /\d/.test(word)) return word;
    var one = singular(word);
    var bare = /ing$/.test(one) ? one.slice(0, -3) : /ed$/.test(one) ? one.slice(0, -2) : "";
    if (bare.length >= 3 && /[aeiouy]/.test(bare)) {
      one = bare.length > 3 && /([^lsz])\1$/.test(bare) ? bare.slice(0, -1) : bare;
    }
    return /e$/.test(one) && one.length > 3 ? one.slice(0, -1) : one;
  }
  function stems(text) {
    var plain = text.toLowerCase().replace(/['’]/g, "").replace(/ß/g, "ss").replace(/œ/g, "oe").normalize("NFD").replace(/[\u0300-\u036f]/g, "");
    return (plain.match(/[a-z0-9]+/g) || []).filter(function (word) { return idle.indexOf(word) < 0; }).map(stem);
  }

  // Shards are scripts, which a page opened from a file may load; each calls back with its part.
  var parts = {};
  var waiting = {};
  longsweepFound = function (name, part) { parts[name] = part; };
  function load(name) {
    if (parts[name] || name === null) return Promise.resolve();
    if (!waiting[name]) {
      waiting[name] = new Promise(function (done) {
        var script = document.createElement("script");
        script.src = "find/" + name + ".js";
        script.onload = script.onerror = function () { parts[name] = parts[name] || { stems: {}, alike: {} }; done(); };
        document.head.appendChild(script);
      });
    }
    return waiting[name];
  }
  // The shard of a stem is the longest beginning of it that has one.
  function shard(word) {
    var best = null;
    names.forEach(function (name) {
      if (word.indexOf(name) === 0 && (best === null || name.length > best.length)) best = name;
    });
    return best;
  }
  function beginning(letter) {
    return names.filter(function (name) { return name[0] === letter; });
  }
  function own(map, key) { return map && Object.prototype.hasOwnProperty.call(map, key) ? map[key] : null; }
  function part(name) { return parts["s-" + name] || { stems: {}, alike: {} }; }
  function loadAll(these) {
    return Promise.all(these.filter(function (name, at) { return name && these.indexOf(name) === at; }).map(function (name) { return load("s-" + name); }));
  }

  // How many letters are added, left out, changed or swapped between two words; more than `most` is all the same.
  function slips(a, b, most) {
    if (Math.abs(a.length - b.length) > most) return most + 1;
    var before = null;
    var row = Array.from({ length: b.length + 1 }, function (_, j) { return j; });
    for (var i = 1; i <= a.length; i += 1) {
      var next = [i];
      for (var j = 1; j <= b.length; j += 1) {
        next[j] = Math.min(row[j] + 1, next[j - 1] + 1, row[j - 1] + (a[i - 1] === b[j - 1] ? 0 : 1));
        if (before && i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1]) next[j] = Math.min(next[j], before[j - 2] + 1);
      }
      before = row;
      row = next;
    }
    return row[b.length];
  }

  // Entries of a stem with their weights, times how well it was met.
  function take(into, flat, share) {
    for (var at = 0; at < flat.length; at += 2) {
      var weight = flat[at + 1] * share;
      if (!(into[flat[at]] >= weight)) into[flat[at]] = weight;
    }
  }
  function exact(word) { return own(part(shard(word)).stems, word); }

  // Of a word: its stem itself, words that begin with it, and, where there is neither, words a slip or two away.
  function ofWord(word) {
    var met = {};
    var first = beginning(word[0]);
    var near = first.filter(function (name) { return name.indexOf(word) === 0 || word.indexOf(name) === 0; });
    return loadAll(near).then(function () {
      var flat = exact(word);
      if (flat) take(met, flat, 1);
      if (word.length >= 3) {
        near.forEach(function (name) {
          Object.keys(part(name).stems).forEach(function (known) {
            if (known !== word && known.indexOf(word) === 0) take(met, part(name).stems[known], 0.6);
          });
        });
      }
      if (Object.keys(met).length || word.length < 4) return met;
      // The first letter may be the one that slipped past the second.
      var far = first.concat(beginning(word[1]));
      return loadAll(far).then(function () {
        var most = word.length < 7 ? 1 : 2;
        far.forEach(function (name) {
          Object.keys(part(name).stems).forEach(function (known) {
            var off = slips(word, known, most);
            if (off <= most) take(met, part(name).stems[known], off === 1 ? 0.4 : 0.25);
          });
        });
        return met;
      });
    });
  }
  // Of words that mean the same: entries that have all stems of one of the other phrases.
  function ofPhrases(phrases) {
    var all = [].concat.apply([], phrases);
    return loadAll(all.map(shard)).then(function () {
      var met = {};
      phrases.forEach(function (phrase) {
        var sets = phrase.map(function (word) { var one = {}; take(one, exact(word) || [], 0.8); return one; });
        both(sets).forEach(function (id) {
          var least = Math.min.apply(null, sets.map(function (set) { return set[id]; }));
          if (!(met[id] >= least)) met[id] = least;
        });
      });
      return met;
    });
  }
  function both(sets) {
    return Object.keys(sets[0] || {}).filter(function (id) { return sets.every(function (set) { return id in set; }); });
  }
  // The words typed as terms: the longest run of them that is a phrase of the firm's list counts as one.
  function terms(words) {
    return loadAll(words.map(shard)).then(function () {
      var out = [];
      for (var at = 0; at < words.length;) {
        var took = 0;
        for (var length = Math.min(4, words.length - at); length > 0 && !took; length -= 1) {
          var phrase = words.slice(at, at + length);
          var others = own(part(shard(phrase[0])).alike, phrase.join(" "));
          if (others) {
            took = length;
            out.push({ words: phrase, others: others });
          }
        }
        if (!took) out.push({ words: [words[at]], others: [] });
        at += took || 1;
      }
      return out;
    });
  }
  function ofTerm(term) {
    return Promise.all(term.words.map(ofWord)).then(function (sets) {
      var met = {};
      both(sets).forEach(function (id) {
        met[id] = Math.min.apply(null, sets.map(function (set) { return set[id]; }));
      });
      if (!term.others.length) return met;
      return ofPhrases(term.others).then(function (more) {
        Object.keys(more).forEach(function (id) { if (!(met[id] >= more[id])) met[id] = more[id]; });
        return met;
      });
    });
  }
  function ranked(sets, ids) {
    var score = {};
    ids.forEach(function (id) { score[id] = sets.reduce(function (sum, set) { return sum + (set[id] || 0); }, 0); });
    return ids.sort(function (a, b) { return score[b] - score[a] || a - b; });
  }

  function rows(ids) {
    var shown = ids.slice(0, MOST);
    return Promise.all(shown.map(function (id) { return load("e" + Math.floor(id / ENTRIES)); })).then(function () {
      list.textContent = "";
      shown.forEach(function (id) {
        var entry = parts["e" + Math.floor(id / ENTRIES)][id % ENTRIES];
        if (!entry) return;
        var row = document.createElement("li");
        var term = document.createElement("b");
        term.textContent = entry[0];
        row.appendChild(term);
        entry[1].slice(0, 6).forEach(function (sheet) {
          var link = document.createElement("a");
          link.href = sheet[0];
          link.textContent = sheet[1];
          row.appendChild(document.createTextNode(", "));
          row.appendChild(link);
        });
        if (entry[1].length > 6) row.appendChild(document.createTextNode(", and " + (entry[1].length - 6) + " more"));
        list.appendChild(row);
      });
    });
  }
  function say(ids, all) {
    if (!ids.length) return "No term has these words.";
    var number = ids.length === 1 ? "1 term" : ids.length + " terms";
    return (all ? number : "No term has all of these words; " + number + " with some") +
      (ids.length > MOST ? ", the first " + MOST + " shown." : ".");
  }

  var turn = 0;
  function show() {
    var mine = (turn += 1);
    var words = stems(input.value);
    standing.hidden = words.length > 0;
    if (!words.length) {
      list.textContent = "";
      count.textContent = "";
      return Promise.resolve();
    }
    return terms(words).then(function (these) { return Promise.all(these.map(ofTerm)); }).then(function (sets) {
      if (mine !== turn) return;
      var ids = ranked(sets, both(sets));
      var all = ids.length > 0;
      if (!all) ids = ranked(sets, Object.keys(Object.assign.apply(null, [{}].concat(sets))));
      return rows(ids).then(function () {
        if (mine === turn) count.textContent = say(ids, all);
      });
    });
  }
  var wait;
  input.addEventListener("input", function () {
    clearTimeout(wait);
    wait = setTimeout(show, 80);
  });
  input.addEventListener("keydown", function (event) {
    if (event.key === "Enter") {
      event.preventDefault();
      clearTimeout(wait);
      show().then(function () {
        var first = list.querySelector("a");
        if (first) first.focus();
      });
    } else if (event.key === "Escape") {
      input.value = "";
      show();
    }
  });
  return stems;
})();
