// Reads {"bodies": [{vertices: [[x,y,z]...], triangles: [[a,b,c]...]}], "pairs":
// [[i,j]...], "search": mm} from the file named last, and prints for every body
// its status and volume, for every pair the volume both share and their least
// gap, as manifold-3d finds them. The module's folder is the argument before.
import { readFileSync } from 'node:fs';
import { pathToFileURL } from 'node:url';
import { join } from 'node:path';

const [dir, file] = process.argv.slice(-2);
const { default: load } = await import(pathToFileURL(join(dir, 'manifold-3d', 'manifold.js')));
const wasm = await load();
wasm.setup();
const input = JSON.parse(readFileSync(file));
const bodies = input.bodies.map((b) => {
  const m = new wasm.Mesh({
    numProp: 3,
    vertProperties: Float32Array.from(b.vertices.flat()),
    triVerts: Uint32Array.from(b.triangles.flat()),
  });
  return new wasm.Manifold(m);
});
console.log(JSON.stringify({
  bodies: bodies.map((b) => ({ status: String(b.status()), volume: b.volume() })),
  pairs: input.pairs.map(([i, j]) => {
    const shared = bodies[i].intersect(bodies[j]).volume();
    return { shared, gap: shared > 0 ? 0 : bodies[i].minGap(bodies[j], input.search) };
  }),
}));
