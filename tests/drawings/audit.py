"""Reads DXF files back with a library of its own and asks it what is wrong with them.

    python3 -m venv folder && folder/bin/pip install ezdxf==1.4.5
    folder/bin/python tests/drawings/audit.py FILE.dxf...

Source of the check: ezdxf's audit (https://ezdxf.readthedocs.io), which follows the published DXF reference.
"""

import sys

import ezdxf

wrong = 0
for name in sys.argv[1:]:
    document = ezdxf.readfile(name)
    audit = document.audit()
    entities = len(document.modelspace())
    # One ink; what a line means is said by its layer's name and line type, and each type says which of ISO 128 it is.
    colours = {layer.dxf.color for layer in document.layers if layer.dxf.name not in ("0", "Defpoints")}
    used = {layer.dxf.linetype.upper() for layer in document.layers} - {"CONTINUOUS"}
    unnamed = [kind for kind in used if not document.linetypes.get(kind).dxf.description.startswith("ISO 128")]
    if len(colours) != 1 or unnamed:
        print(f"{name}: colours {sorted(colours)}, line types that do not say what they are: {unnamed}")
    if audit.errors or audit.fixes or not entities or len(colours) != 1 or unnamed:
        wrong += 1
        print(f"{name}: {entities} entities, {len(audit.errors)} errors, {len(audit.fixes)} fixes")
        for entry in [*audit.errors, *audit.fixes][:5]:
            print("   ", entry.message)
print(f"{len(sys.argv) - 1} DXF files read back, {wrong} of them wrong")
sys.exit(1 if wrong or len(sys.argv) < 2 else 0)
