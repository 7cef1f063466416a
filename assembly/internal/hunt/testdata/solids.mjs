// Builds solids from plain sizes with manifold-3d, and measures pairs of them. Reads one
// job as JSON a line from standard input and writes, per line, the gap and the shared
// volume of each pair. First argument: the folder that holds manifold-3d.
import {createInterface} from 'node:readline';
import {pathToFileURL} from 'node:url';

const load = (await import(pathToFileURL(process.argv[2] + '/manifold-3d/manifold.js'))).default;
const wasm = await load();
wasm.setup();
const {Manifold, Mesh, CrossSection} = wasm;

// sides makes a round within 0.005 mm of a circle as wide on average.
const sides = r => Math.max(24, Math.ceil(Math.PI * Math.sqrt(r / 0.02)));

// Where the axis of a solid drawn along z goes, as the columns of a matrix.
const along = {
  x: [0, 1, 0, 0, 0, 0, 1, 0, 1, 0, 0, 0, 0, 0, 0, 1],
  y: [0, 0, 1, 0, 1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 0, 1]};

// bar is a cylinder along z as wide as a circle on average, or a prism of n sides.
const bar = (r, z0, z1, n) =>
    Manifold.cylinder(z1 - z0, r, r, n || sides(r)).translate([0, 0, z0]);
const wide = r => r * Math.sqrt(1 / Math.cos(Math.PI / sides(r)));

function drawn(b) {
  const make = {
    box: () => {
      const solid = Manifold.cube(b.hi.map((v, i) => v - b.lo[i])).translate(b.lo);
      return (b.holes || []).reduce((s, h) => s.subtract(bar(wide(h[2]), b.lo[2] - 1, b.hi[2] + 1).translate([h[0], h[1], 0])), solid);
    },
    round: () => {
      let solid = b.flats ? bar(b.flats / Math.sqrt(3), b.z0, b.z1, 6) : bar(wide(b.r), b.z0, b.z1);
      if (b.bore) solid = solid.subtract(bar(wide(b.bore), b.z0 - 1, b.z1 + 1));
      if (b.axis === 'y') solid = solid.transform(along.y);
      return solid.translate(b.at);
    },
    section: () => {
      let solid = CrossSection.ofPolygons([b.outline]).extrude(2 * b.half).translate([0, 0, -b.half]).transform(along.x);
      for (const h of b.holes || []) solid = solid.subtract(bar(wide(h[2]), b.lo[2] - 1, b.hi[2] + 1).translate([h[0], h[1], 0]));
      for (const c of b.cuts || []) solid = solid.trimByPlane(c.normal, c.offset);
      return solid;
    },
    mesh: () => {
      const mesh = new Mesh({numProp: 3, vertProperties: new Float32Array(b.vertices), triVerts: new Uint32Array(b.triangles)});
      mesh.merge();
      return new Manifold(mesh);
    }};
  return make[b.kind]();
}

for await (const line of createInterface({input: process.stdin})) {
  const job = JSON.parse(line);
  const solids = [];
  const solid = i => solids[i] ||= drawn(job.bodies[i]);
  const out = job.pairs.map(([i, j, reach, both]) => {
    const gap = solid(i).minGap(solid(j), reach);
    return {gap, shared: both && gap === 0 ? solid(i).intersect(solid(j)).volume() : 0};
  });
  console.log(JSON.stringify(out));
  solids.forEach(s => s && s.delete());
}
