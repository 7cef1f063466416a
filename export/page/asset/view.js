"use strict";
// Ticks stay set when the page is opened again on the same machine.
(function () {
  var key = "ticks " + document.documentElement.dataset.sheet;
  var boxes = Array.prototype.slice.call(document.querySelectorAll("input[data-tick]"));
  var store = null;
  try { store = window.localStorage; } catch (e) { store = null; }
  function read() {
    try { return JSON.parse(store.getItem(key)) || []; } catch (e) { return []; }
  }
  if (!store) { return; }
  var set = read();
  if (!Array.isArray(set)) { set = []; }
  boxes.forEach(function (b) {
    if (set.indexOf(b.id) >= 0) { b.checked = true; }
    b.addEventListener("change", function () {
      var ids = boxes.filter(function (o) { return o.checked; }).map(function (o) { return o.id; });
      try { store.setItem(key, JSON.stringify(ids)); } catch (e) { /* full or refused: the tick still shows */ }
    });
  });
})();

// The turnable picture. Where WebGL 2 is missing the still picture stays.
(function () {
  var data = document.getElementById("scene");
  var figure = document.getElementById("fixture-picture");
  var canvas = document.getElementById("turnable");
  if (!data || !figure || !canvas) { return; }
  var gl = canvas.getContext("webgl2", { antialias: true, alpha: true, preserveDrawingBuffer: true });
  if (!gl) { return; }
  var scene = JSON.parse(data.textContent);

  // ---- shapes -------------------------------------------------------------
  function bytes(b64) {
    var s = atob(b64), a = new Uint8Array(s.length), i;
    for (i = 0; i < s.length; i++) { a[i] = s.charCodeAt(i); }
    return a.buffer;
  }
  function indices(b64, wide) { return wide ? new Uint32Array(bytes(b64)) : new Uint16Array(bytes(b64)); }

  function unpack(p) {
    var q = new Uint16Array(bytes(p.v)), v = new Float32Array(q.length), i, k;
    for (i = 0; i < q.length; i++) {
      k = i % 3;
      v[i] = p.box[k] + q[i] / 65535 * (p.box[k + 3] - p.box[k]);
    }
    return { v: v, t: indices(p.t, p.wide), e: indices(p.e, p.wide) };
  }

  // Corner normals: the mean over the facets round a vertex that do not make
  // an edge with this one.
  function corners(m) {
    var n = m.t.length / 3, face = new Float32Array(3 * n), round = new Map(), i, k, j;
    for (i = 0; i < n; i++) {
      var a = 3 * m.t[3 * i], b = 3 * m.t[3 * i + 1], c = 3 * m.t[3 * i + 2], v = m.v;
      var ux = v[b] - v[a], uy = v[b + 1] - v[a + 1], uz = v[b + 2] - v[a + 2];
      var wx = v[c] - v[a], wy = v[c + 1] - v[a + 1], wz = v[c + 2] - v[a + 2];
      face[3 * i] = uy * wz - uz * wy; face[3 * i + 1] = uz * wx - ux * wz; face[3 * i + 2] = ux * wy - uy * wx;
      for (k = 0; k < 3; k++) {
        var id = m.t[3 * i + k], list = round.get(id);
        if (list) { list.push(i); } else { round.set(id, [i]); }
      }
    }
    var pos = [], nor = [], at = new Uint32Array(3 * n), made = new Map();
    for (i = 0; i < n; i++) {
      var fx = face[3 * i], fy = face[3 * i + 1], fz = face[3 * i + 2], fl = Math.hypot(fx, fy, fz) || 1;
      for (k = 0; k < 3; k++) {
        var vi = m.t[3 * i + k], near = round.get(vi), x = 0, y = 0, z = 0;
        for (j = 0; j < near.length; j++) {
          var g = 3 * near[j], gx = face[g], gy = face[g + 1], gz = face[g + 2], gl2 = Math.hypot(gx, gy, gz);
          if (gx * fx + gy * fy + gz * fz >= 0.9063 * fl * gl2) { x += gx; y += gy; z += gz; }
        }
        var l = Math.hypot(x, y, z) || 1, as = [x, y, z].map(function (c) { return Math.round(127 * c / l); }), o = vi + " " + as;
        if (!made.has(o)) {
          made.set(o, pos.length / 3);
          pos.push(m.v[3 * vi], m.v[3 * vi + 1], m.v[3 * vi + 2]);
          nor.push(as[0] / 127, as[1] / 127, as[2] / 127);
        }
        at[3 * i + k] = made.get(o);
      }
    }
    return { pos: new Float32Array(pos), nor: new Float32Array(nor), at: at };
  }

  var VERTEX = "#version 300 es\n" +
    "in vec3 p; in vec3 n; uniform mat4 place; uniform mat4 eye; uniform vec4 lens; out vec3 vn;" +
    "void main(){ vec4 q = eye * (place * vec4(p, 1.0)); vn = mat3(eye) * (mat3(place) * n);" +
    " gl_Position = vec4(q.x * lens.x, q.y * lens.y, -q.z * lens.z + lens.w, 1.0); }";
  // Surfaces are set back by how much their depth changes over a pixel, so that the lines
  // on them show; at the most by deep, as slivers of triangles have no slope worth trusting.
  var FRAGMENT = "#version 300 es\n" +
    "precision highp float; in vec3 vn; uniform vec4 tint; uniform float flat_; uniform float deep; out vec4 ink;" +
    "void main(){ vec3 c = tint.rgb; float z = gl_FragCoord.z, m = max(abs(dFdx(z)), abs(dFdy(z))); gl_FragDepth = z;" +
    " if (flat_ < 0.5) { gl_FragDepth = z + min(m, deep) + 1e-6; vec3 n = normalize(vn); if (n.z < 0.0) n = -n;" +
    " float k = 0.62 + 0.46 * clamp(0.25 + 0.75 * dot(n, vec3(-0.35, 0.80, 0.49)), 0.0, 1.0);" +
    " c = c * min(k, 1.0); if (k > 1.0) c += (vec3(1.0) - c) * (k - 1.0) * 4.0; }" +
    " ink = vec4(c * tint.a, tint.a); }";

  function shader(kind, text) {
    var s = gl.createShader(kind);
    gl.shaderSource(s, text); gl.compileShader(s);
    return s;
  }
  var program, at, shapes, buffers = [], lost = false;
  function load() {
    program = gl.createProgram();
    gl.attachShader(program, shader(gl.VERTEX_SHADER, VERTEX));
    gl.attachShader(program, shader(gl.FRAGMENT_SHADER, FRAGMENT));
    gl.linkProgram(program);
    if (!gl.getProgramParameter(program, gl.LINK_STATUS)) { return false; }
    at = {};
    ["place", "eye", "lens", "tint", "flat_", "deep"].forEach(function (u) { at[u] = gl.getUniformLocation(program, u); });
    at.p = gl.getAttribLocation(program, "p"); at.n = gl.getAttribLocation(program, "n");
    shapes = scene.shapes.map(function (s) {
      var m = unpack(s), c = corners(m), o = { mesh: m, solid: gl.createVertexArray(), lines: gl.createVertexArray(), nt: m.t.length, ne: m.e.length };
      gl.bindVertexArray(o.solid);
      attribute(at.p, c.pos); attribute(at.n, c.nor); buffer(gl.ELEMENT_ARRAY_BUFFER, c.at);
      gl.bindVertexArray(o.lines);
      attribute(at.p, m.v); buffer(gl.ELEMENT_ARRAY_BUFFER, new Uint32Array(m.e));
      return o;
    });
    gl.bindVertexArray(null);
    return true;
  }
  function buffer(kind, values) {
    buffers.push(gl.createBuffer());
    gl.bindBuffer(kind, buffers[buffers.length - 1]);
    gl.bufferData(kind, values, gl.STATIC_DRAW);
  }
  function attribute(place, values) {
    buffer(gl.ARRAY_BUFFER, values);
    gl.enableVertexAttribArray(place);
    gl.vertexAttribPointer(place, 3, gl.FLOAT, false, 0, 0);
  }
  if (!load()) { return; }

  // ---- the eye ------------------------------------------------------------
  var home = { yaw: scene.yaw, pitch: scene.pitch, zoom: 1, dx: 0, dy: 0 };
  var eye = Object.assign({}, home), apart = 0, asked = false, shown, box, layerMax, size, tints;
  function take() {
    shown = scene.groups.map(function () { return true; });
    box = scene.box; layerMax = 0; tints = scene.colour.map(tint);
    scene.actors.forEach(function (a) { layerMax = Math.max(layerMax, Math.abs(a.l)); });
    size = Math.hypot(box[3] - box[0], box[4] - box[1], box[5] - box[2]) || 1;
  }
  take();
  function gap() { return apart * size * 0.9 / Math.max(layerMax, 4); }

  function axes() {
    var sy = Math.sin(eye.yaw), cy = Math.cos(eye.yaw), sp = Math.sin(eye.pitch), cp = Math.cos(eye.pitch);
    var e = [sy * cp, sp, cy * cp], r = [cy, 0, -sy];
    return { r: r, e: e, u: [e[1] * r[2] - e[2] * r[1], e[2] * r[0] - e[0] * r[2], e[0] * r[1] - e[1] * r[0]] };
  }
  // Pixels for each mm that fit the box, and the box's middle in the picture.
  function fit(ax, w, h) {
    var out = gap() * layerMax, lo = [Infinity, Infinity], hi = [-Infinity, -Infinity], i;
    for (i = 0; i < 8; i++) {
      var p = [box[i & 1 ? 3 : 0], box[i & 2 ? 4 : 1], i & 4 ? box[5] + out : box[2] - out];
      [ax.r, ax.u].forEach(function (d, k) {
        var q = d[0] * p[0] + d[1] * p[1] + d[2] * p[2];
        lo[k] = Math.min(lo[k], q); hi[k] = Math.max(hi[k], q);
      });
    }
    var s = 0.97 * Math.min(w / (hi[0] - lo[0] || 1), h / (hi[1] - lo[1] || 1));
    return { s: s, cx: (lo[0] + hi[0]) / 2, cy: (lo[1] + hi[1]) / 2 };
  }
  function lens() {
    var w = canvas.clientWidth || 1, h = canvas.clientHeight || 1, ax = axes(), f = fit(ax, w, h), s = f.s * eye.zoom;
    return { w: w, h: h, ax: ax, s: s, cx: f.cx - eye.dx, cy: f.cy - eye.dy };
  }
  function placed(a) {
    var f = a.f;
    return new Float32Array([f[3], f[4], f[5], 0, f[6], f[7], f[8], 0, f[9], f[10], f[11], 0, f[0], f[1], f[2] + a.l * gap(), 1]);
  }

  // ---- drawing ------------------------------------------------------------
  function tint(hex) {
    var v = parseInt(hex, 16);
    return [(v >> 16 & 255) / 255, (v >> 8 & 255) / 255, (v & 255) / 255, 1];
  }
  function lineTint() {
    var m = getComputedStyle(figure).getPropertyValue("--line").trim().replace("#", "");
    return /^[0-9a-fA-F]{6}$/.test(m) ? tint(m) : [0.15, 0.15, 0.15, 1];
  }
  function draw() {
    asked = false;
    if (lost) { return; }
    var dpr = Math.min(window.devicePixelRatio || 1, 2.5), l = lens();
    var w = Math.max(1, Math.round(l.w * dpr)), h = Math.max(1, Math.round(l.h * dpr));
    if (canvas.width !== w || canvas.height !== h) { canvas.width = w; canvas.height = h; }
    gl.viewport(0, 0, w, h);
    gl.clearColor(0, 0, 0, 0); gl.clear(gl.COLOR_BUFFER_BIT | gl.DEPTH_BUFFER_BIT);
    gl.enable(gl.DEPTH_TEST); gl.depthFunc(gl.LEQUAL);
    gl.useProgram(program);
    var r = l.ax.r, u = l.ax.u, e = l.ax.e;
    gl.uniformMatrix4fv(at.eye, false, new Float32Array([r[0], u[0], e[0], 0, r[1], u[1], e[1], 0, r[2], u[2], e[2], 0, -l.cx, -l.cy, 0, 1]));
    gl.uniform4f(at.lens, 2 * l.s / l.w, 2 * l.s / l.h, 1 / (2.5 * size), 0);
    var ink = lineTint();
    gl.uniform1f(at.deep, 1.5 / l.s / (5 * size)); // a pixel and a half, as depth
    each(function (a, s) {
      gl.uniform4fv(at.tint, a === picked ? [0.95, 0.72, 0.2, 1] : tints[a.c]);
      gl.bindVertexArray(s.solid); gl.drawElements(gl.TRIANGLES, s.nt, gl.UNSIGNED_INT, 0);
    }, 0);
    gl.depthMask(false);
    gl.uniform4fv(at.tint, ink);
    each(function (a, s) { gl.bindVertexArray(s.lines); gl.drawElements(gl.LINES, s.ne, gl.UNSIGNED_INT, 0); }, 1);
    gl.depthMask(true);
    gl.bindVertexArray(null);
  }
  // each draws every shown instance in place, surfaces first and then lines, so
  // that no line is left on what comes to stand before it.
  function each(drawOne, flat) {
    gl.uniform1f(at.flat_, flat);
    scene.actors.forEach(function (a) {
      if (!shown[a.g]) { return; }
      gl.uniformMatrix4fv(at.place, false, placed(a));
      drawOne(a, shapes[a.s]);
    });
  }
  function redraw() {
    if (!asked) { asked = true; requestAnimationFrame(draw); }
  }

  // ---- naming a part ------------------------------------------------------
  var picked = null, said = document.getElementById("picked");
  function pick(px, py) {
    var l = lens(), x = (px - l.w / 2) / l.s + l.cx, y = (l.h / 2 - py) / l.s + l.cy, best = -Infinity, hit = null;
    scene.actors.forEach(function (a) {
      if (!shown[a.g]) { return; }
      var m = shapes[a.s].mesh, f = placed(a), q = new Float64Array(m.v.length), i;
      for (i = 0; i < m.v.length; i += 3) {
        var wx = f[0] * m.v[i] + f[4] * m.v[i + 1] + f[8] * m.v[i + 2] + f[12];
        var wy = f[1] * m.v[i] + f[5] * m.v[i + 1] + f[9] * m.v[i + 2] + f[13];
        var wz = f[2] * m.v[i] + f[6] * m.v[i + 1] + f[10] * m.v[i + 2] + f[14];
        q[i] = l.ax.r[0] * wx + l.ax.r[1] * wy + l.ax.r[2] * wz - x;
        q[i + 1] = l.ax.u[0] * wx + l.ax.u[1] * wy + l.ax.u[2] * wz - y;
        q[i + 2] = l.ax.e[0] * wx + l.ax.e[1] * wy + l.ax.e[2] * wz;
      }
      for (i = 0; i < m.t.length; i += 3) {
        var A = 3 * m.t[i], B = 3 * m.t[i + 1], C = 3 * m.t[i + 2];
        var s = q[B] * q[C + 1] - q[B + 1] * q[C], t = q[C] * q[A + 1] - q[C + 1] * q[A], v = q[A] * q[B + 1] - q[A + 1] * q[B];
        if (s >= 0 && t >= 0 && v >= 0 && s + t + v > 0) {
          var z = (s * q[A + 2] + t * q[B + 2] + v * q[C + 2]) / (s + t + v);
          if (z > best) { best = z; hit = a; }
        }
      }
    });
    picked = hit === picked ? null : hit;
    said.textContent = picked ? "This is " + picked.n + "." : "";
    redraw();
  }

  // ---- hand, finger, key --------------------------------------------------
  var calm = window.matchMedia("(prefers-reduced-motion: reduce)");
  function clampPitch() { eye.pitch = Math.max(-Math.PI / 2, Math.min(Math.PI / 2, eye.pitch)); }
  function turn(dx, dy) { eye.yaw -= dx; eye.pitch += dy; clampPitch(); redraw(); }
  function zoom(k) { eye.zoom = Math.max(0.5, Math.min(30, eye.zoom * k)); redraw(); }
  function shift(dx, dy) { var s = lens().s; eye.dx += dx / s; eye.dy -= dy / s; redraw(); }
  function glide(to) {
    if (calm.matches) { Object.assign(eye, to); redraw(); return; }
    var from = Object.assign({}, eye), start = performance.now();
    from.yaw = to.yaw + ((from.yaw - to.yaw + Math.PI) % (2 * Math.PI) + 2 * Math.PI) % (2 * Math.PI) - Math.PI;
    (function frame(now) {
      var t = Math.min(Math.max((now - start) / 260, 0), 1), k = t * t * (3 - 2 * t);
      Object.keys(to).forEach(function (n) { eye[n] = from[n] + k * (to[n] - from[n]); });
      redraw();
      if (t < 1) { requestAnimationFrame(frame); }
    })(start);
  }

  var down = new Map(), moved = 0, spread = 0;
  function middle() {
    var x = 0, y = 0;
    down.forEach(function (p) { x += p.x / down.size; y += p.y / down.size; });
    return { x: x, y: y };
  }
  function reach() {
    var p = Array.from(down.values());
    return Math.hypot(p[0].x - p[1].x, p[0].y - p[1].y) || 1;
  }
  canvas.addEventListener("pointerdown", function (e) {
    canvas.setPointerCapture(e.pointerId);
    if (down.size === 0) { moved = 0; }
    down.set(e.pointerId, { x: e.clientX, y: e.clientY });
    if (down.size === 2) { spread = reach(); moved = 99; }
  });
  canvas.addEventListener("pointermove", function (e) {
    if (!down.has(e.pointerId)) { return; }
    var was = middle();
    down.set(e.pointerId, { x: e.clientX, y: e.clientY });
    var now = middle(), dx = now.x - was.x, dy = now.y - was.y;
    moved += Math.abs(dx) + Math.abs(dy);
    if (down.size === 2) {
      var r = reach();
      zoom(r / spread); spread = r;
      shift(dx, dy);
    } else if (e.shiftKey) {
      shift(dx, dy);
    } else {
      turn(dx * 0.008, dy * 0.008);
    }
  });
  function lift(e) {
    if (e.type === "pointerup" && down.size === 1 && down.has(e.pointerId) && moved < 5) {
      var r = canvas.getBoundingClientRect();
      pick(e.clientX - r.left, e.clientY - r.top);
    }
    down.delete(e.pointerId);
  }
  canvas.addEventListener("pointerup", lift);
  canvas.addEventListener("pointercancel", lift);
  // The wheel zooms only after the picture was clicked or reached with Tab, so
  // that it does not hold up a reader who scrolls past.
  canvas.addEventListener("wheel", function (e) {
    if (document.activeElement !== canvas && !e.ctrlKey) { return; }
    e.preventDefault();
    zoom(Math.exp(-e.deltaY * (e.deltaMode === 1 ? 0.05 : 0.0015)));
  }, { passive: false });
  canvas.addEventListener("keydown", function (e) {
    if (e.ctrlKey || e.metaKey || e.altKey) { return; }
    var s = e.shiftKey, done = true;
    switch (e.key) {
      case "ArrowLeft": if (s) { shift(-24, 0); } else { turn(0.12, 0); } break;
      case "ArrowRight": if (s) { shift(24, 0); } else { turn(-0.12, 0); } break;
      case "ArrowUp": if (s) { shift(0, -24); } else { turn(0, 0.12); } break;
      case "ArrowDown": if (s) { shift(0, 24); } else { turn(0, -0.12); } break;
      case "+": case "=": zoom(1.2); break;
      case "-": case "_": zoom(1 / 1.2); break;
      case "0": case "Home": glide(home); break;
      default: done = false;
    }
    if (done) { e.preventDefault(); }
  });

  var sides = {
    corner: { yaw: home.yaw, pitch: home.pitch }, end: { yaw: 0, pitch: 0 },
    side: { yaw: Math.PI / 2, pitch: 0 }, above: { yaw: Math.PI / 2, pitch: Math.PI / 2 }
  };
  Array.prototype.forEach.call(figure.querySelectorAll("button[data-side]"), function (b) {
    b.addEventListener("click", function () { glide(Object.assign({}, home, sides[b.dataset.side])); });
  });
  function choice(b) {
    var g = Number(b.dataset.group);
    b.checked = shown[g];
    b.addEventListener("change", function () { shown[g] = b.checked; redraw(); });
  }
  Array.prototype.forEach.call(figure.querySelectorAll("input[data-group]"), choice);
  // Another fixture in the same picture, seen from where this one is: the live page.
  document.addEventListener("scene", function (e) {
    var hidden = scene.groups.filter(function (g, i) { return !shown[i]; });
    var same = e.detail.groups.join() === scene.groups.join(), list = figure.querySelector("fieldset");
    shapes.forEach(function (s) { gl.deleteVertexArray(s.solid); gl.deleteVertexArray(s.lines); });
    buffers.forEach(function (b) { gl.deleteBuffer(b); });
    gl.deleteProgram(program);
    buffers = []; scene = e.detail; picked = null;
    take();
    shown = scene.groups.map(function (g) { return hidden.indexOf(g) < 0; });
    if (!same) {
      Array.prototype.forEach.call(list.querySelectorAll("label"), function (l) { l.remove(); });
      scene.groups.forEach(function (g, i) {
        var l = list.appendChild(document.createElement("label")), b = l.appendChild(document.createElement("input"));
        b.type = "checkbox"; b.dataset.group = i;
        l.append(g);
        choice(b);
      });
    }
    if (!lost && load()) { redraw(); }
  });
  var slider = document.getElementById("apart");
  slider.value = "0";
  slider.addEventListener("input", function () { apart = Number(slider.value) / 100; redraw(); });

  // ---- life ---------------------------------------------------------------
  canvas.addEventListener("webglcontextlost", function (e) { e.preventDefault(); lost = true; figure.classList.remove("live"); });
  canvas.addEventListener("webglcontextrestored", function () { lost = !load(); if (!lost) { live(); } });
  window.matchMedia("(prefers-color-scheme: dark)").addEventListener("change", redraw);
  new ResizeObserver(redraw).observe(canvas);
  canvas.style.aspectRatio = String(scene.ratio);
  function live() { figure.classList.add("live"); draw(); redraw(); }
  live();
})();
