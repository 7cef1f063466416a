"""Reads DXF files with ezdxf and prints what it found as JSON, one object a
file: audit counts, header values and every entity."""
import json
import sys

import ezdxf
from ezdxf import recover
from ezdxf.lldxf.encoding import decode_dxf_unicode
from ezdxf.tools.text import plain_text


def entity(e):
    kind = e.dxftype()
    out = {"kind": kind, "layer": e.dxf.layer}
    if kind == "LWPOLYLINE":
        out["closed"] = bool(e.closed)
        out["vertices"] = [list(p) for p in e.get_points("xyb")]
    elif kind == "CIRCLE":
        out["vertices"] = [[e.dxf.center.x, e.dxf.center.y, e.dxf.radius]]
    elif kind == "LINE":
        out["vertices"] = [[e.dxf.start.x, e.dxf.start.y, 0], [e.dxf.end.x, e.dxf.end.y, 0]]
    elif kind == "TEXT":
        out["text"] = decode_dxf_unicode(plain_text(e.dxf.text))
        at = e.get_placement()[1]
        out["vertices"] = [[at.x, at.y, e.dxf.height]]
    return out


def measure(path):
    doc = ezdxf.readfile(path)
    audit = doc.audit()
    _, strict = recover.readfile(path)
    return {
        "errors": [e.message for e in audit.errors + strict.errors],
        "fixes": [e.message for e in audit.fixes + strict.fixes],
        "version": doc.dxfversion,
        "insunits": doc.header["$INSUNITS"],
        "measurement": doc.header["$MEASUREMENT"],
        "min": list(doc.header["$EXTMIN"])[:2],
        "max": list(doc.header["$EXTMAX"])[:2],
        "layers": {l.dxf.name: l.dxf.color for l in doc.layers},
        "entities": [entity(e) for e in doc.modelspace()],
    }


print(json.dumps([measure(p) for p in sys.argv[1:]]))
