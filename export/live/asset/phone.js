"use strict";
// The visitor's page: the code, then readings.
(function () {
  var form = document.querySelector("form"), wrong = form.querySelector(".wrong");
  form.addEventListener("submit", function (e) {
    e.preventDefault();
    var f = new FormData(form), to = form.dataset.to, body = {};
    if (to === "/code") { body.code = String(f.get("Code")); } else { body.read = Object.fromEntries(f); }
    fetch(to, { method: "POST", headers: { "Content-Type": "application/json" }, body: JSON.stringify(body) })
      .then(function (r) { return r.json(); })
      .then(function (a) {
        wrong.textContent = a.error || "";
        if (a.error) { return; }
        if (to === "/code") { location.reload(); return; }
        document.getElementById("tells").textContent = a.said;
        document.getElementById("noted").appendChild(document.createElement("li")).textContent =
          [body.read.What, body.read.Where, body.read.When, body.read.Value].filter(Boolean).join(" ");
        form.elements.Value.value = "";
        form.elements.Value.focus();
      })
      .catch(function () { wrong.textContent = "The bench does not answer."; });
  });
})();
