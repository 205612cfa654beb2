#!/usr/bin/python3
"""Reads a DXF with ezdxf, audits it, and prints what it found as JSON."""
import json
import sys

try:
    import ezdxf
    from ezdxf.lldxf.encoding import decode_dxf_unicode
except ImportError:
    sys.exit("python3-ezdxf is missing: run ./setup.sh")


def flat(v):
    return [v.x, v.y]


def entity(e):
    d = e.dxf
    out = {"kind": e.dxftype(), "layer": d.layer, "handle": d.handle}
    if out["kind"] == "LINE":
        out.update(a=flat(d.start), b=flat(d.end))
    elif out["kind"] == "ARC":
        out.update(centre=flat(d.center), radius=d.radius, a=flat(e.start_point), b=flat(e.end_point))
    elif out["kind"] == "CIRCLE":
        out.update(centre=flat(d.center), radius=d.radius)
    elif out["kind"] == "TEXT":
        align, at, _ = e.get_placement()
        out.update(text=decode_dxf_unicode(e.plain_text()), at=flat(at), height=d.height, angle=d.rotation, align=align.name,
                   style=d.style, insert=flat(d.insert))
    elif out["kind"] == "HATCH":
        border = e.paths[0]
        out.update(solid=d.solid_fill, pattern=d.pattern_name, closed=border.is_closed,
                   border=[list(v) for v in border.vertices])
    return out


doc = ezdxf.readfile(sys.argv[1])
auditor = doc.audit()
header = doc.header
print(json.dumps({
    "version": doc.dxfversion,
    "errors": [e.message for e in auditor.errors],
    "fixes": [e.message for e in auditor.fixes],
    "units": header["$INSUNITS"],
    "extents": list(header["$EXTMAX"])[:2],
    "layers": {l.dxf.name: {"line": l.dxf.linetype, "weight": l.dxf.lineweight} for l in doc.layers},
    "linetypes": {l.dxf.name: [t.value for t in l.pattern_tags.tags if t.code == 49] for l in doc.linetypes},
    "styles": {s.dxf.name: s.dxf.font for s in doc.styles},
    "entities": [entity(e) for e in doc.modelspace()],
}))
