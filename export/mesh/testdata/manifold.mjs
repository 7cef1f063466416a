// Reads STL and 3MF files with readers of its own, hands each mesh to
// manifold-3d, and prints status, volume, box, and for 3MF the unit and names,
// as JSON, one object a file.
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { inflateRawSync } from "node:zlib";

const at = join(process.env.NODE_PATH, "manifold-3d", "manifold.js");
const wasm = await (await import(at)).default();
wasm.setup();

function readSTL(b) {
  const n = b.readUInt32LE(80);
  if (b.length !== 84 + 50 * n) throw new Error("size of binary STL");
  const index = new Map(), points = [], triangles = [];
  for (let i = 0; i < n; i++)
    for (let k = 0; k < 3; k++) {
      const p = [0, 4, 8].map((o) => b.readFloatLE(84 + 50 * i + 12 + 12 * k + o));
      const key = p.join();
      if (!index.has(key)) { index.set(key, points.length / 3); points.push(...p); }
      triangles.push(index.get(key));
    }
  return [{ name: "", points, triangles }];
}

// entry finds a file of a zip archive by its central directory.
function entry(b, suffix) {
  let end = b.length - 22;
  while (b.readUInt32LE(end) !== 0x06054b50) end--;
  let at = b.readUInt32LE(end + 16);
  for (let i = b.readUInt16LE(end + 10); i > 0; i--) {
    const size = b.readUInt32LE(at + 20), local = b.readUInt32LE(at + 42);
    const lengths = [28, 30, 32].map((o) => b.readUInt16LE(at + o));
    const name = b.toString("utf8", at + 46, at + 46 + lengths[0]);
    if (name.endsWith(suffix)) {
      const start = local + 30 + b.readUInt16LE(local + 26) + b.readUInt16LE(local + 28);
      return inflateRawSync(b.subarray(start, start + size)).toString("utf8");
    }
    at += 46 + lengths[0] + lengths[1] + lengths[2];
  }
  throw new Error("no entry " + suffix);
}

const numbers = (xml, tag, names) =>
  [...xml.matchAll(new RegExp(`<${tag}\\s[^>]*>`, "g"))].flatMap(([t]) =>
    names.map((n) => Number(t.match(new RegExp(`\\s${n}="([^"]*)"`))[1])));

function read3MF(b) {
  const xml = entry(b, ".model");
  const unit = xml.match(/<model[^>]*\sunit="([^"]*)"/);
  return [...xml.matchAll(/<object\s([^>]*)>([\s\S]*?)<\/object>/g)].map(([, head, body]) => ({
    name: head.match(/name="([^"]*)"/)[1],
    unit: unit ? unit[1] : "millimeter", // the specification's default
    points: numbers(body, "vertex", ["x", "y", "z"]),
    triangles: numbers(body, "triangle", ["v1", "v2", "v3"]),
  }));
}

function measure(m) {
  const mesh = new wasm.Mesh({
    numProp: 3, vertProperties: Float32Array.from(m.points), triVerts: Uint32Array.from(m.triangles),
  });
  const solid = new wasm.Manifold(mesh);
  const box = solid.boundingBox();
  return {
    name: m.name, unit: m.unit || "", status: String(solid.status()), volume: solid.volume(),
    parts: solid.decompose().length, min: box.min, max: box.max, triangles: m.triangles.length / 3,
  };
}

console.log(JSON.stringify(process.argv.slice(2).map((f) => {
  const b = readFileSync(f);
  return (f.endsWith(".stl") ? readSTL(b) : read3MF(b)).map(measure);
})));
