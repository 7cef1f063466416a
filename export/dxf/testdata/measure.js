// Reads DXF files with dxf-parser and prints every entity as JSON, one object a
// file, in the form measure.py uses.
const fs = require("fs");
const DxfParser = require("dxf-parser");
const parse = new (DxfParser.default || DxfParser)();

function entity(e) {
  const out = { kind: e.type, layer: e.layer, closed: !!e.shape, vertices: [] };
  if (e.type === "LWPOLYLINE") out.vertices = e.vertices.map((v) => [v.x, v.y, v.bulge || 0]);
  if (e.type === "CIRCLE") out.vertices = [[e.center.x, e.center.y, e.radius]];
  if (e.type === "LINE") out.vertices = e.vertices.map((v) => [v.x, v.y, 0]);
  if (e.type === "TEXT") out.vertices = [[e.startPoint.x, e.startPoint.y, e.textHeight]];
  return out;
}

const files = process.argv.slice(2).map((path) => {
  const d = parse.parseSync(fs.readFileSync(path, "utf8"));
  return {
    insunits: d.header["$INSUNITS"],
    measurement: d.header["$MEASUREMENT"],
    entities: d.entities.map(entity),
  };
});
console.log(JSON.stringify(files));
