#!/usr/bin/python3
"""check_figures.py WRITE_FIGURES: every example is well-formed XML, stands by itself and runs nothing."""
import pathlib
import subprocess
import sys
import tempfile
import xml.etree.ElementTree as tree

SVG = "{http://www.w3.org/2000/svg}"
ALLOWED = {SVG + name for name in ("svg", "title", "desc", "g", "rect", "path", "text")}

with tempfile.TemporaryDirectory() as folder:
    subprocess.run([sys.argv[1], folder], check=True)
    files = sorted(pathlib.Path(folder).glob("*.svg"))
    if len(files) < 30:
        sys.exit(f"only {len(files)} figures")
    for file in files:
        root = tree.parse(file).getroot()
        for element in root.iter():
            if element.tag not in ALLOWED:
                sys.exit(f"{file.name}: element {element.tag}")
            for name, value in element.attrib.items():
                if name == "id" or "href" in name or name.startswith("on") or "url(" in value or name == "style":
                    sys.exit(f"{file.name}: attribute {name}={value}")
        if not root.findtext(SVG + "title") or not root.findtext(SVG + "desc"):
            sys.exit(f"{file.name}: without title or desc")
        if file.stat().st_size > 1_000_000:
            sys.exit(f"{file.name}: {file.stat().st_size} bytes")
    print(f"{len(files)} figures")
