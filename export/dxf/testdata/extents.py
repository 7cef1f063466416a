"""Prints, for each DXF file, the extents its header names and the bounding box
of the entities by ezdxf's own arcs, as JSON [x0, y0, x1, y1]."""
import json
import sys

import ezdxf

SAGITTA = 0.0002


def points(e):
    kind = e.dxftype()
    if kind == "LWPOLYLINE":
        for part in e.virtual_entities():
            yield from points(part)
    elif kind == "LINE":
        yield e.dxf.start
        yield e.dxf.end
    else:  # CIRCLE, ARC
        yield from e.flattening(SAGITTA)


def box(msp):
    ps = [p for e in msp for p in points(e)]
    if not ps:
        return [0, 0, 0, 0]
    xs, ys = [p.x for p in ps], [p.y for p in ps]
    return [min(xs), min(ys), max(xs), max(ys)]


out = []
for name in sys.argv[1:]:
    doc = ezdxf.readfile(name)
    low, high = doc.header["$EXTMIN"], doc.header["$EXTMAX"]
    out.append({"header": [low[0], low[1], high[0], high[1]], "entities": box(doc.modelspace())})
print(json.dumps(out))
