// The page that is served: it shows what the program tells, and asks it for changes.
(function () {
  var root = document.documentElement, turn = 0, phase = "", whole = false, values = {}, editing = null, began = 0;
  function by(id) { return document.getElementById(id); }
  function all(sel, of) { return Array.prototype.slice.call((of || document).querySelectorAll(sel)); }

  // ---- asking ---------------------------------------------------------------
  function post(to, body) {
    return fetch("/" + to, { method: "POST", headers: { "Content-Type": "application/json" }, body: JSON.stringify(body || {}) })
      .then(function (r) {
        return r.text().then(function (t) {
          var a;
          try { a = JSON.parse(t); } catch (e) { a = { error: t.trim() }; }
          if (a.error) { throw new Error(a.error); }
          return a.said || "";
        });
      });
  }
  function say(text) { by("said").textContent = text; }
  function start() { began = performance.now(); }

  document.addEventListener("click", function (e) {
    var b = e.target.closest("button, .val");
    if (!b) { return; }
    if (b.classList.contains("val")) { e.preventDefault(); edit(b); return; }
    if (b.id === "print") { if (whole) { window.print(); } return; }
    var to = b.dataset.do;
    if (!to) { return; }
    say(to === "write" ? "Writing …" : "");
    start();
    post(to, { turn: turn, number: Number(b.dataset.number || 0), value: b.dataset.value || "" })
      .then(say).catch(function (err) { say(err.message); });
  });

  document.addEventListener("keydown", function (e) {
    if (!(e.ctrlKey || e.metaKey) || e.key.toLowerCase() !== "z" || /^(INPUT|SELECT)$/.test(document.activeElement.tagName)) { return; }
    e.preventDefault();
    start();
    post(e.shiftKey ? "redo" : "undo").then(say).catch(function (err) { say(err.message); });
  });

  document.addEventListener("keydown", function (e) {
    if ((e.key === "Enter" || e.key === " ") && e.target.classList.contains("val")) { e.preventDefault(); edit(e.target); }
  });

  // ---- a value typed anew, where it stands ------------------------------------
  function el(tag, text, attrs) {
    var n = document.createElement(tag);
    if (text) { n.textContent = text; }
    Object.keys(attrs || {}).forEach(function (k) { n.setAttribute(k, attrs[k]); });
    return n;
  }
  function edit(button) {
    leave();
    var v = values[button.dataset.path] || { path: button.dataset.path, text: button.textContent, input: button.textContent, given: true, origin: "given" };
    var form = el("form", "", { "class": "now-edit", "data-path": v.path });
    var id = "typed-" + v.path.replace(/\W/g, "-");
    form.append(el("label", v.path.replace(/[._]/g, " ") + (v.doc ? ": " + v.doc : ""), { "for": id }));
    var input = el("input", "", { id: id, value: v.input, size: Math.max(10, v.input.length + 2), autocomplete: "off", spellcheck: "false", "aria-describedby": id + "-how" });
    var row = form.appendChild(el("div", "", { "class": "row" }));
    row.append(input);
    if ((v.words || []).length) {
      input.setAttribute("list", id + "-words");
      var list = row.appendChild(el("datalist", "", { id: id + "-words" }));
      v.words.forEach(function (w) { list.append(el("option", "", { value: w })); });
    }
    row.append(el("button", "Set", { "class": "do" }));
    if (v.given && v.path !== "fixture") {
      var back = row.appendChild(el("button", "Give back", { type: "button", "class": "do", title: "take it out of the file, so that it is worked out" }));
      back.addEventListener("click", function () { send(""); });
    }
    var how = [];
    if (v.limits) { how.push(v.limits + "."); }
    if (v.like) { how.push("Such as " + v.like + "."); }
    how.push({ given: "Given", derived: "Worked out", table: "From a table", "default": "Taken" }[v.origin] + (v.from ? ": " + v.from : "") + ".");
    if (!v.given) { how.push("Typed anew, it is given from then on."); }
    form.append(el("small", how.join(" "), { id: id + "-how" }));
    var wrong = form.appendChild(el("p", "", { "class": "wrong", role: "alert" }));
    function send(value) {
      start();
      post("set", { path: v.path, value: value }).then(function () { leave(true); }).catch(function (err) {
        wrong.textContent = err.message;
        input.setAttribute("aria-invalid", "true");
        input.focus();
      });
    }
    form.addEventListener("submit", function (e) {
      e.preventDefault();
      if (input.value.trim() === v.input) { leave(true); } else { send(input.value); }
    });
    form.addEventListener("keydown", function (e) { if (e.key === "Escape") { e.preventDefault(); leave(true); } });
    button.hidden = true;
    button.after(form);
    editing = { form: form, button: button, path: v.path };
    input.focus();
    input.select();
  }
  function leave(back) {
    if (!editing) { return; }
    var e = editing;
    editing = null;
    e.form.remove();
    e.button.hidden = false;
    late();
    if (back) {
      var b = e.button.isConnected ? e.button : all(".val").filter(function (n) { return n.dataset.path === e.path; })[0];
      if (b) { b.focus(); }
    }
  }

  // ---- what is told -----------------------------------------------------------
  var waiting = {}; // pieces that come while a value in them is being typed
  function put(id, html) {
    var at = by(id);
    if (id === "scene") {
      if (html) { document.dispatchEvent(new CustomEvent("scene", { detail: JSON.parse(html) })); }
      return;
    }
    if (id === "values") {
      values = {};
      JSON.parse(html || "[]").forEach(function (v) { values[v.path] = v; });
      return;
    }
    if (id === "still") {
      all("#fixture-picture .frame > svg").forEach(function (n) { n.remove(); });
      document.querySelector("#fixture-picture .frame").insertAdjacentHTML("afterbegin", html);
      return;
    }
    if (!at) {
      if (!html) { return; }
      at = by("sections").appendChild(el("section", "", { id: id }));
    }
    if (editing && at.contains(editing.form)) { waiting[id] = html; return; }
    keep(at, function () { at.innerHTML = html; });
    if (id === "title") { document.title = at.textContent + " – bench card"; }
  }
  // keep gives the focus back to what stands in the place of what had it.
  function keep(at, change) {
    var f = document.activeElement, list = "button,.val,input,select,summary", n = at.contains(f) ? all(list, at).indexOf(f) : -1;
    var path = n >= 0 && f.dataset.path;
    change();
    if (n < 0) { return; }
    var now = all(list, at), same = path && now.filter(function (b) { return b.dataset.path === path; })[0];
    (same || now[Math.min(n, now.length - 1)] || by("main")).focus();
  }
  function late() {
    var w = waiting;
    waiting = {};
    Object.keys(w).forEach(function (id) { put(id, w[id]); });
  }
  function arrange(order) {
    var box = by("sections"), last = null;
    all(":scope > section", box).forEach(function (s) { if (order.indexOf(s.id) < 0 && !(editing && s.contains(editing.form))) { s.remove(); } });
    order.forEach(function (id) {
      var s = by(id);
      if (!s || s.parentNode !== box) { return; }
      if (s.previousElementSibling !== last) { if (last) { last.after(s); } else { box.prepend(s); } }
      last = s;
    });
  }
  function show(u) {
    turn = u.turn;
    phase = u.phase;
    root.dataset.phase = phase;
    root.dataset.whole = whole = u.whole;
    by("questions").hidden = phase !== "asking";
    by("card").hidden = phase === "asking";
    Object.keys(u.pieces).forEach(function (id) { put(id, u.pieces[id]); });
    if (u.order) { arrange(u.order); }
    var can = by("can");
    all("[data-do=write],[data-do=hold],[data-do=apply]").forEach(function (b) { b.disabled = phase !== "judged" && b.dataset.value !== "nothing"; });
    by("print").disabled = !whole;
    all("[data-do=undo]").forEach(function (b) { b.disabled = !can || can.dataset.undo !== "true"; });
    all("[data-do=redo]").forEach(function (b) { b.disabled = !can || can.dataset.redo !== "true"; });
    if (began && u.pieces.clamp) { root.dataset.took = Math.round(performance.now() - began); began = 0; }
    root.dataset.shown = turn + " " + phase;
  }
  var stream = new EventSource("/events");
  stream.onmessage = function (e) { by("away").hidden = true; show(JSON.parse(e.data)); };
  stream.onerror = function () { by("away").hidden = false; };

  // ---- the first file, and a value that is not there yet ------------------------
  var ask = by("questions");
  ask.elements.Sheet.addEventListener("change", function () { by("force").hidden = ask.elements.Sheet.value !== "force"; });
  ask.addEventListener("submit", function (e) {
    e.preventDefault();
    var a = Object.fromEntries(new FormData(ask)), sheet = a.Sheet, b = ask.querySelector("button");
    delete a.Sheet;
    a.Wrapped = a.Wrapped === "yes";
    a.Carries = sheet === "carries";
    if (sheet !== "force") { a.Force = a.Tolerance = ""; }
    b.disabled = true;
    ask.querySelector(".wrong").textContent = "";
    post("start", { start: a }).catch(function (err) { ask.querySelector(".wrong").textContent = err.message; }).then(function () { b.disabled = false; });
  });
  by("more").addEventListener("submit", function (e) {
    e.preventDefault();
    var f = e.target, wrong = f.querySelector(".wrong");
    start();
    post("set", { path: f.elements.path.value.trim(), value: f.elements.value.value })
      .then(function () { f.reset(); wrong.textContent = ""; }).catch(function (err) { wrong.textContent = err.message; });
  });
})();
