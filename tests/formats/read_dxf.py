"""Reads DXF files with ezdxf and tells of each, in a line of JSON, what stands in it."""
import json
import sys

import ezdxf


def xy(point):
    return [point.x, point.y]


for name in sys.argv[1:]:
    document = ezdxf.readfile(name)
    audit = document.audit()
    model = document.modelspace()
    print(json.dumps({
        "faults": [str(fault.message) for fault in audit.errors + audit.fixes],
        "version": document.dxfversion,
        "units": document.header["$INSUNITS"],
        "layers": {layer.dxf.name: layer.dxf.lineweight for layer in document.layers},
        "lines": [[e.dxf.layer, xy(e.dxf.start), xy(e.dxf.end)] for e in model.query("LINE")],
        "arcs": [[e.dxf.layer, xy(e.dxf.center), e.dxf.radius, xy(e.start_point), xy(e.end_point)]
                 for e in model.query("ARC")],
        "texts": [[e.dxf.layer, e.dxf.text] for e in model.query("TEXT")],
        "dimensions": [{"measured": e.get_measurement(), "told": e.dxf.actual_measurement, "text": e.dxf.text,
                        "shown": [b.dxf.text for b in e.get_geometry_block().query("TEXT")]}
                       for e in model.query("DIMENSION")],
    }))
