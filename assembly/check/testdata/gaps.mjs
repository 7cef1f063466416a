// Reads meshes and pairs from standard input as JSON and writes, per pair, the
// gap and the shared volume as computed by manifold-3d. First argument: the
// folder that holds manifold-3d.
import {readFileSync} from 'node:fs';
import {pathToFileURL} from 'node:url';

const folder = process.argv[2];
const load = (await import(pathToFileURL(folder + '/manifold-3d/manifold.js'))).default;
const wasm = await load();
wasm.setup();
const {Manifold, Mesh} = wasm;

const job = JSON.parse(readFileSync(0, 'utf8'));
const solids = job.meshes.map(m => {
  const mesh = new Mesh({
    numProp: 3, vertProperties: new Float32Array(m.vertices), triVerts: new Uint32Array(m.triangles)});
  mesh.merge();
  return new Manifold(mesh);
});
const out = job.pairs.map(([i, j]) => ({
  gap: solids[i].minGap(solids[j], job.reach),
  shared: solids[i].intersect(solids[j]).volume()}));
console.log(JSON.stringify(out));
