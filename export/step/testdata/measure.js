// Reads STEP files with a general-purpose kernel and prints, as JSON, what each holds:
// for every mesh its name, colour, faces, volume, area, bounds and open edges, and
// the tree of its products. Arguments: the angle between chords, rad, and the files.
const fs = require('fs');
const occt = require('occt-import-js');

function measure(mesh) {
  const p = mesh.attributes.position.array, t = mesh.index.array;
  const lo = [1 / 0, 1 / 0, 1 / 0], hi = [-1 / 0, -1 / 0, -1 / 0];
  // the kernel meshes face by face: equal points are joined to look for open edges
  const at = new Map(), id = [];
  for (let i = 0; i < p.length; i += 3) {
    const key = [0, 1, 2].map(k => Math.round(p[i + k] * 1e5)).join();
    if (!at.has(key)) at.set(key, at.size);
    id.push(at.get(key));
    for (let k = 0; k < 3; k++) { lo[k] = Math.min(lo[k], p[i + k]); hi[k] = Math.max(hi[k], p[i + k]); }
  }
  let volume = 0, area = 0;
  const edges = new Map();
  for (let i = 0; i < t.length; i += 3) {
    const [a, b, c] = [0, 1, 2].map(k => p.slice(3 * t[i + k], 3 * t[i + k] + 3));
    const u = a.map((x, k) => b[k] - x), v = a.map((x, k) => c[k] - x);
    const n = [u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]];
    volume += (a[0] * n[0] + a[1] * n[1] + a[2] * n[2]) / 6;
    area += Math.hypot(...n) / 2;
    for (let k = 0; k < 3; k++) {
      const [x, y] = [id[t[i + k]], id[t[i + (k + 1) % 3]]];
      if (x === y) continue;
      const key = x < y ? x + ' ' + y : y + ' ' + x;
      edges.set(key, (edges.get(key) || 0) + (x < y ? 1 : -1));
    }
  }
  const open = [...edges.values()].filter(n => n !== 0).length;
  return { name: mesh.name, colour: mesh.color || null, faces: mesh.brep_faces.length, volume, area, min: lo, max: hi, open };
}

const tree = n => ({ name: n.name, meshes: n.meshes, children: n.children.map(tree) });

occt().then(kernel => {
  console.log(JSON.stringify(process.argv.slice(3).map(file => {
    const r = kernel.ReadStepFile(fs.readFileSync(file), { linearUnit: 'millimeter', linearDeflectionType: 'absolute_value', linearDeflection: 0.01, angularDeflection: +process.argv[2] });
    return { file, success: r.success, root: r.success ? tree(r.root) : null, meshes: r.success ? r.meshes.map(measure) : [] };
  })));
});
