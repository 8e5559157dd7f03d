// Search within the page: no network, nothing stored. Without it the page is whole; only the field stays hidden.
(function () {
  'use strict';
  var box = document.getElementById('search:box');
  var main = document.getElementById('main:text');
  if (!box || !main) { return; }
  var field = document.getElementById('search:field');
  var panel = document.getElementById('search:panel');
  var list = document.getElementById('search:hits');
  var said = document.getElementById('search:said');
  var MOST = 40;
  var entries = null;
  var shown = [];

  function plain(text) {
    return text.normalize('NFD').replace(/[\u0300-\u036f]/g, '').replace(/\s+/g, ' ').trim().toLowerCase();
  }
  // Text as it is read: cells of a row stand apart.
  function words(element) {
    if (element.tagName !== 'TR') { return element.textContent.replace(/\s+/g, ' ').trim(); }
    return Array.prototype.map.call(element.cells, function (cell) {
      return cell.textContent.replace(/\s+/g, ' ').trim();
    }).filter(Boolean).join(' · ');
  }
  // One word finds the other: "tires" the tire, "batteries" the battery.
  function stem(word) {
    return word.length > 3 ? word.replace(/(ies|y|s)$/, '') : word;
  }
  // Whether a word stands there as a whole: who looks for sand does not want sandpaper.
  function whole(text, word) {
    var at = text.indexOf(word);
    while (at >= 0) {
      var end = text.slice(at + word.length).match(/^[a-z0-9]*/)[0];
      if (!/[a-z0-9]/.test(text.charAt(at - 1)) && /^(|y|e?s|ies)$/.test(end)) { return true; }
      at = text.indexOf(word, at + 1);
    }
    return false;
  }
  // What else people call what a heading names stands before it, for the search alone.
  function also(element) {
    var before = element.previousElementSibling;
    return before && before.className === 'also' ? ' ' + plain(before.textContent) : '';
  }
  // A heading counts most, then a term, then a row, then text.
  function rank(element) {
    if (/^H[2-6]$/.test(element.tagName)) { return Number(element.tagName.charAt(1)) - 2; }
    return { DT: 5, CAPTION: 6, FIGCAPTION: 6, TR: 6 }[element.tagName] || 7;
  }
  function read() {
    var heading = '';
    var closed = false;
    entries = [];
    Array.prototype.forEach.call(
      main.querySelectorAll('h2,h3,h4,h5,h6,dt,dd,tbody tr,caption,figcaption,li,p'),
      function (element) {
        if (element.className === 'also' || element.querySelector('p,li,tr,dt')) { return; }
        var text = words(element);
        if (!text) { return; }
        var order = rank(element);
        if (order < 5) { heading = text; }
        // What the private leaf tells is read there and found nowhere.
        if (element.tagName === 'H2') { closed = /private-leaf$/.test(element.id); }
        if (closed) { return; }
        var said = plain(text) + (order < 5 ? also(element) : '');
        entries.push({ element: element, text: text, plain: said, under: order < 5 ? '' : heading, rank: order });
      }
    );
  }
  function found(query) {
    if (!entries) { read(); }
    var asked = plain(query).split(' ').filter(Boolean).map(stem);
    if (!asked.length || asked.join('').length < 2) { return null; }
    return entries.filter(function (entry) {
      return asked.every(function (word) { return entry.plain.indexOf(word) >= 0; });
    }).map(function (entry, place) {
      var apart = asked.every(function (word) { return whole(entry.plain, word); });
      return { entry: entry, place: place, rank: entry.rank + (apart ? 0 : 10) };
    }).sort(function (a, b) {
      return a.rank - b.rank || a.place - b.place;
    }).map(function (hit) { return hit.entry; });
  }
  // The part of a long text that holds the first word asked for.
  function excerpt(entry, query) {
    var at = plain(entry.text).indexOf(stem(plain(query).split(' ')[0]));
    var from = at > 60 ? entry.text.lastIndexOf(' ', at - 30) + 1 : 0;
    var piece = entry.text.slice(from, from + 140);
    return (from ? '… ' : '') + piece + (from + 140 < entry.text.length ? ' …' : '');
  }
  function close() { panel.hidden = true; }
  function show() {
    var hits = found(field.value);
    list.textContent = '';
    shown = [];
    if (!hits) { said.textContent = ''; close(); return; }
    hits.slice(0, MOST).forEach(function (entry) {
      var element = entry.element;
      if (!element.id) { element.id = 'hit:' + entries.indexOf(entry); }
      var item = document.createElement('li');
      var go = document.createElement('a');
      go.href = '#' + encodeURIComponent(element.id);
      var text = document.createElement('span');
      text.textContent = excerpt(entry, field.value);
      go.appendChild(text);
      if (entry.under) {
        var under = document.createElement('small');
        under.textContent = entry.under;
        go.appendChild(under);
      }
      go.addEventListener('click', function () {
        close();
        element.tabIndex = -1;
        element.focus({ preventScroll: true });
      });
      item.appendChild(go);
      list.appendChild(item);
      shown.push(go);
    });
    said.textContent = hits.length === 0 ? 'Nothing found.'
      : hits.length === 1 ? '1 place' : hits.length + ' places' + (hits.length > MOST ? ', the first ' + MOST + ' are listed' : '');
    panel.hidden = false;
  }
  function step(event) {
    var at = shown.indexOf(document.activeElement);
    if (event.key === 'Escape') {
      if (!panel.hidden) { event.preventDefault(); close(); field.focus(); }
    } else if (event.key === 'Enter' && document.activeElement === field) {
      event.preventDefault();
      if (shown.length && !panel.hidden) { shown[0].click(); }
    } else if (event.key === 'ArrowDown' && shown.length && !panel.hidden) {
      event.preventDefault();
      shown[Math.min(at + 1, shown.length - 1)].focus();
    } else if (event.key === 'ArrowUp' && at >= 0) {
      event.preventDefault();
      (at === 0 ? field : shown[at - 1]).focus();
    }
  }
  field.addEventListener('input', show);
  field.addEventListener('focus', function () { if (field.value && panel.hidden) { show(); } });
  box.addEventListener('keydown', step);
  document.addEventListener('click', function (event) { if (!box.contains(event.target)) { close(); } });
  box.hidden = false;
}());
