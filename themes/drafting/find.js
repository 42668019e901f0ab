// Finds terms by the stems of the words typed: all of them, in any order, with their synonyms, their beginnings
// and small slips, of synonyms too. What is typed decides which shards of the index are asked for; without the script the
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
  var SHEETS = 6;
  var ENTRIES = 200;
  // So many readings of a word are looked up in the firm's list.
  var FEW = 8;
  function listed(names) { return names ? names.split(" ") : []; }
  var names = listed(form.dataset.shards);
  var begins = listed(form.dataset.begins);
  var ends = listed(form.dataset.ends);

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
  function own(map, key) { return map && Object.prototype.hasOwnProperty.call(map, key) ? map[key] : null; }
  function part(name) { return parts["s-" + name] || { stems: {}, alike: {} }; }
  function loadAll(kind, these) {
    return Promise.all(these.filter(function (name, at) { return name && these.indexOf(name) === at; }).map(function (name) { return load(kind + name); }));
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

  // What a word may stand for: itself where the index has it, and words that begin with it; where there is
  // neither, or with `wide`, words a slip or two away. `share` tells how well it was met.
  function readings(word, wide) {
    // One letter or two begin too much.
    var near = names.filter(function (name) { return word.indexOf(name) === 0 || (word.length >= 3 && name.indexOf(word) === 0); });
    return loadAll("s-", near).then(function () {
      var found = exact(word) ? [{ word: word, share: 1 }] : [];
      if (word.length >= 3) {
        near.forEach(function (name) {
          Object.keys(part(name).stems).forEach(function (known) {
            if (known !== word && known.indexOf(word) === 0) found.push({ word: known, share: 0.6 });
          });
        });
      }
      if ((found.length && !wide) || word.length < 3 || /\d/.test(word)) return found;
      return slipped(word).then(function (more) { return found.concat(more); });
    });
  }
  // Words that a slip away has either the same beginning or the same end: the words alone stand in shards by both.
  function slipped(word) {
    var first = begins.filter(function (name) { return name[0] === word[0]; });
    var last = ends.filter(function (name) { return name[0] === word[word.length - 1]; });
    return Promise.all([loadAll("b-", first), loadAll("z-", last)]).then(function () {
      var lists = first.map(function (name) { return parts["b-" + name]; }).concat(last.map(function (name) { return parts["z-" + name]; }));
      var most = word.length < 7 ? 1 : 2;
      var off = {};
      lists.forEach(function (list) {
        (list.forEach ? list : []).forEach(function (known) {
          if (known === word || own(off, known)) return;
          var by = slips(word, known, most);
          if (by <= most) off[known] = by;
        });
      });
      // The nearest alone; among those, one that begins alike is the likelier.
      var all = Object.keys(off);
      var least = Math.min.apply(null, all.map(function (known) { return off[known]; }));
      function rank(known) { return known[0] === word[0] ? 0 : 1; }
      var nearest = all.filter(function (known) { return off[known] === least; })
        .sort(function (a, b) { return rank(a) - rank(b) || (a < b ? -1 : 1); }).slice(0, FEW)
        .map(function (known) { return { word: known, share: (least === 1 ? 0.4 : 0.25) - 0.1 * rank(known) }; });
      return loadAll("s-", nearest.map(function (one) { return shard(one.word); })).then(function () { return nearest; });
    });
  }

  // The words typed as terms: the longest run of them that is a phrase of the firm's list counts as one.
  function terms(words, wide) {
    return Promise.all(words.map(function (word) { return readings(word, wide); })).then(function (read) {
      var out = [];
      for (var at = 0; at < words.length;) {
        var term = null;
        for (var length = Math.min(4, words.length - at); length > 1 && !term; length -= 1) {
          term = phrase(words.slice(at, at + length), read.slice(at, at + length));
        }
        out.push(term || alone(words[at], read[at]));
        at += term ? term.words.length : 1;
      }
      return out;
    });
  }
  function others(stems) { return own(part(shard(stems[0])).alike, stems.join(" ")); }
  // A run of words as a phrase of the list, by any of their readings where those are few.
  function phrase(words, read) {
    var runs = [{ readings: [], share: 1 }];
    words.forEach(function (word, at) {
      var few = read[at].length <= FEW ? read[at] : [];
      if (!few.some(function (one) { return one.word === word; })) few = few.concat({ word: word, share: 1 });
      runs = [].concat.apply([], runs.map(function (run) {
        return few.map(function (one) { return { readings: run.readings.concat(one), share: Math.min(run.share, one.share) }; });
      }));
    });
    var term = null;
    runs.forEach(function (run) {
      var same = others(run.readings.map(function (one) { return one.word; }));
      if (!same) return;
      term = term || { words: words.map(function () { return []; }), others: [] };
      run.readings.forEach(function (one, at) { if (term.words[at].indexOf(one) < 0) term.words[at].push(one); });
      term.others.push({ phrases: same, share: run.share });
    });
    return term;
  }
  function alone(word, read) {
    var few = read.length <= FEW ? read : read.filter(function (one) { return one.word === word; });
    var same = few.map(function (one) { return { phrases: others([one.word]) || [], share: one.share }; });
    return { words: [read], others: same.filter(function (one) { return one.phrases.length; }) };
  }

  // Entries by number, with weights; `cut` where a word stands in more entries than the index lists, so that
  // an entry without it may yet have it.
  function ofReadings(read) {
    var set = { met: {}, cut: false };
    read.forEach(function (one) {
      take(set.met, exact(one.word) || [], one.share);
      if ((part(shard(one.word)).cut || []).indexOf(one.word) >= 0) set.cut = true;
    });
    return set;
  }
  function both(sets) {
    var whole = sets.filter(function (set) { return !set.cut; });
    if (!whole.length) whole = sets;
    return Object.keys((whole[0] || { met: {} }).met).filter(function (id) {
      return whole.every(function (set) { return id in set.met; });
    });
  }
  function least(sets, id) {
    return Math.min.apply(null, sets.filter(function (set) { return id in set.met; }).map(function (set) { return set.met[id]; }));
  }
  function ofTerm(term) {
    var sets = term.words.map(ofReadings);
    var one = { met: {}, cut: sets.some(function (set) { return set.cut; }) };
    both(sets).forEach(function (id) { one.met[id] = least(sets, id); });
    return Promise.all(term.others.map(function (same) { return ofPhrases(same.phrases, same.share, one.met); }))
      .then(function () { return one; });
  }
  // Of words that mean the same: entries that have all stems of one of the other phrases.
  function ofPhrases(phrases, share, met) {
    return loadAll("s-", [].concat.apply([], phrases).map(shard)).then(function () {
      phrases.forEach(function (stems) {
        var sets = stems.map(function (word) { return ofReadings([{ word: word, share: 0.6 * share }]); });
        both(sets).forEach(function (id) {
          var weight = least(sets, id);
          if (!(met[id] >= weight)) met[id] = weight;
        });
      });
    });
  }
  // The entries that have the most of the terms first, then the weightiest.
  function ranked(sets, ids) {
    var score = {};
    ids.forEach(function (id) {
      score[id] = sets.reduce(function (sum, set) { return sum + (id in set.met ? 1000 + set.met[id] : 0); }, 0);
    });
    return ids.sort(function (a, b) { return score[b] - score[a] || a - b; });
  }
  // Entries of the words as typed; where none has them all, of words that may have been meant; at last of some.
  function search(words, wide) {
    return terms(words, wide).then(function (these) { return Promise.all(these.map(ofTerm)); }).then(function (sets) {
      var ids = ranked(sets, both(sets));
      if (ids.length) return { ids: ids, all: true };
      if (!wide) return search(words, true);
      var any = sets.map(function (set) { return set.met; });
      return { ids: ranked(sets, Object.keys(Object.assign.apply(null, [{}].concat(any)))), all: false };
    });
  }

  // Terms with their sheets, entries of one name in one row as a book has it.
  function rows(ids) {
    var shown = ids.slice(0, MOST);
    return Promise.all(shown.map(function (id) { return load("e" + Math.floor(id / ENTRIES)); })).then(function () {
      var named = [];
      shown.forEach(function (id) {
        var entry = parts["e" + Math.floor(id / ENTRIES)][id % ENTRIES];
        if (!entry) return;
        var known = named.filter(function (one) { return one.text.toLowerCase() === entry[0].toLowerCase(); })[0];
        if (!known) named.push({ text: entry[0], sheets: entry[1], count: entry[2] });
        else {
          known.sheets = known.sheets.concat(entry[1]);
          known.count += entry[2];
        }
      });
      list.textContent = "";
      named.forEach(function (one) { list.appendChild(row(one)); });
    });
  }
  function row(one) {
    var row = document.createElement("li");
    var term = document.createElement("b");
    term.textContent = one.text;
    row.appendChild(term);
    one.sheets.slice(0, SHEETS).forEach(function (sheet) {
      var link = document.createElement("a");
      link.href = sheet[0];
      link.textContent = sheet[1];
      row.appendChild(document.createTextNode(", "));
      row.appendChild(link);
    });
    var more = one.count - Math.min(one.sheets.length, SHEETS);
    if (more > 0) row.appendChild(document.createTextNode(", and " + more + " more"));
    return row;
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
    return search(words, false).then(function (found) {
      if (mine !== turn) return;
      return rows(found.ids).then(function () {
        if (mine === turn) count.textContent = say(found.ids, found.all);
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
    } else if (event.key === "ArrowDown") {
      step(event, 0);
    }
  });
  // The arrows walk from sheet to sheet found, and back to the words; so does Tab.
  function step(event, to) {
    var links = list.querySelectorAll("a");
    if (!links.length || to >= links.length) return;
    event.preventDefault();
    (to < 0 ? input : links[to]).focus();
  }
  list.addEventListener("keydown", function (event) {
    var at = Array.prototype.indexOf.call(list.querySelectorAll("a"), document.activeElement);
    if (at < 0) return;
    if (event.key === "ArrowDown") step(event, at + 1);
    else if (event.key === "ArrowUp") step(event, at - 1);
    else if (event.key === "Escape") input.focus();
  });
  return stems;
})();
