#!/usr/bin/python3
"""check_report.py BECALM: a report is well-formed XML and valid HTML 5 (by tidy), stands by itself, runs nothing, can be read by
those who see little and walked by a screen reader; its PDF says the same, with its fonts in it (needs tidy, poppler-utils)."""
import math
import pathlib
import re
import subprocess
import sys
import tempfile
import xml.etree.ElementTree as tree

HTML, SVG = "{http://www.w3.org/1999/xhtml}", "{http://www.w3.org/2000/svg}"
ALLOWED = {HTML + name for name in (
    "html head meta title style body header nav main footer div h1 h2 h3 h4 p ul li a table caption thead tbody tr th td figure "
    "figcaption span img").split()} | {SVG + name for name in ("svg", "title", "desc", "g", "rect", "path", "text")}

# What tidy says of a right document: it does not know these two attributes of SVG [SVG 1.1, 10.10, 11.4].
TIDY_KNOWS_NOT = {f'Warning: <svg> proprietary attribute "{name}"' for name in ("stroke-linejoin", "font-family")}


def luminance(colour):
    """WCAG 2.2, relative luminance; colour as #rgb or #rrggbb."""
    digits = colour[1:] if len(colour) == 7 else "".join(2 * digit for digit in colour[1:])
    parts = [int(digits[i : i + 2], 16) / 255 for i in (0, 2, 4)]
    linear = [part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(one, other):
    light, dark = sorted((luminance(one), luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def check_style(style):
    """Words on their ground: at least 4.5 to 1 [WCAG 2.2, 1.4.3]. On paper: A4, heads of tables again, rows and figures whole."""
    page = {"color": None, "background": None}
    pairs = 0
    for selector, rules in re.findall(r"([^{}]+)\{([^{}]*)\}", style):
        own = dict(re.findall(r"(?<![-\w])(color|background):\s*(#[0-9a-f]{3,6})\b", rules))
        if selector.strip() == "html" and own:
            page.update(own)
        if own:
            pairs += 1
            ratio = contrast(own.get("color", page["color"]), own.get("background", page["background"]))
            if ratio < 4.5:
                sys.exit(f"{selector.strip()}: contrast {ratio:.1f}")
    if pairs < 4:
        sys.exit("the colours of the style were not found")
    paper = style[style.index("@media print") :]
    for rule in (r"@page \{[^}]*size: A4", r"tr \{[^}]*break-inside: avoid", r"thead \{[^}]*table-header-group",
                 r"h2, h3, h4, caption \{[^}]*break-after: avoid", r"orphans: 2; widows: 2"):
        if not re.search(rule, paper):
            sys.exit(f"the style for paper lacks {rule}")
    if not re.search(r"figure \{[^}]*break-inside: avoid", style):
        sys.exit("figures may be split on paper")


SURVEY = """title = "Café <i>Ω</i> & 'so on' مقصورة"
setting = "vessel"
[[plan]]
id = "p"
file = "p.svg"
[[space]]
id = "c"
label = "Cabin"
use = "passenger-cabin"
plan = "p"
place = [0.5, 0.5]
[[recording]]
file = "a.csv"
space = "c"
channels = { 1 = "z" }
[[judge]]
criteria = ["iso6954-2000"]
"""

with tempfile.TemporaryDirectory() as folder:
    here = pathlib.Path(folder)
    (here / "survey.toml").write_text(SURVEY, encoding="utf-8")
    (here / "p.svg").write_text('<svg xmlns="http://www.w3.org/2000/svg" width="9" height="9"/>')
    (here / "a.csv").write_text("time,z\n" + "".join(f"{i / 500},{0.1 * math.sin(2 * math.pi * 7 * i / 500)}\n" for i in range(35000)))
    subprocess.run([sys.argv[1], "report", here / "survey.toml", "--html", here / "r.html"], check=True)
    told = subprocess.run(["tidy", "-quiet", "-errors", "--doctype", "html5", here / "r.html"], capture_output=True, text=True)
    said = {re.sub(r"^line \d+ column \d+ - ", "", line) for line in told.stderr.splitlines()} - TIDY_KNOWS_NOT
    if said or told.returncode > 1:
        sys.exit(f"tidy: {said}")
    root = tree.parse(here / "r.html").getroot()
    check_style(root.findtext(f"{HTML}head/{HTML}style"))
    for element in root.iter(SVG + "svg"):
        if element.get("role") != "img" or not element.findtext(SVG + "title"):
            sys.exit("a figure without a name")
    for element in root.iter(SVG + "text"):
        if element.get("fill") != "#ffffff" and contrast(element.get("fill"), "#ffffff") < 4.5:  # those in white stand on a bar
            sys.exit(f"words of a figure in {element.get('fill')}")
    if root.get("lang") != "en":
        sys.exit("no language")
    ids = [element.get("id") for element in root.iter() if element.get("id")]
    if len(ids) != len(set(ids)):
        sys.exit("an id stands twice")
    for element in root.iter():
        if element.tag not in ALLOWED:
            sys.exit(f"element {element.tag}")
        for name, value in element.attrib.items():
            if name.startswith("on") or "url(" in value or "javascript" in value:
                sys.exit(f"attribute {name}={value}")
            if name == "href" and not (value.startswith("#") and value[1:] in ids):
                sys.exit(f"link {value}")
            if name == "src" and not value.startswith("data:image/"):
                sys.exit(f"picture from {value}")
        if element.tag == HTML + "th" and element.get("scope") not in ("row", "col"):
            sys.exit("a header cell without a scope")
        if element.tag == HTML + "img" and not element.get("alt"):
            sys.exit("a picture without words")
        if element.tag == HTML + "table":
            if not element.findtext(HTML + "caption"):
                sys.exit("a table without a caption")
            columns = len(element.find(f"{HTML}thead/{HTML}tr"))
            if any(len(row) != columns for row in element.iter(HTML + "tr")):
                sys.exit("a row of another length than the head")
        if element.tag == HTML + "style" and ("@import" in element.text or "url(" in element.text):
            sys.exit("the style fetches something")
    for landmark in ("header", "nav", "main", "footer", "h1"):
        if len(root.findall(f".//{HTML}{landmark}")) != 1:
            sys.exit(f"not one {landmark}")
    if root.findtext(f".//{HTML}h1") != "Café <i>Ω</i> & 'so on' مقصورة":
        sys.exit("the title is another one")
    levels = [int(element.tag[-1]) for element in root.iter() if element.tag in {HTML + f"h{n}" for n in range(1, 7)}]
    if any(after > before + 1 for before, after in zip(levels, levels[1:])):
        sys.exit(f"a level of headings is passed over: {levels}")
    if len(root.findall(f".//{SVG}svg")) < 3:
        sys.exit("figures are missing")

    # The PDF says the same: every word of the tables and paragraphs, in whatever lines. Words may be broken there.
    squeezed = lambda text: "".join(text.split()).replace("-", "").replace("\u00ad", "")
    for language, umlauts in (("en", ""), ("de", "äöüß"), ("fr", "éèà")):
        subprocess.run([sys.argv[1], "report", here / "survey.toml", "--html", here / "r.html", "--pdf", here / "r.pdf", "--language", language], check=True)
        subprocess.run(["pdftotext", "-layout", here / "r.pdf", here / "r.txt"], check=True)
        printed = squeezed((here / "r.txt").read_text(encoding="utf-8"))
        root = tree.parse(here / "r.html").getroot()
        if root.get("lang") != language:
            sys.exit(f"the HTML is not in {language}")
        body = root.find(f"{HTML}body/{HTML}main")
        told = [word for element in body.iter() if element.tag in {HTML + name for name in ("th", "td", "p", "h2", "caption")} and element.text
                for word in element.text.split() if len(word) <= 12 and word.isprintable() and "مقصورة" not in word]
        missing = sorted({word for word in told if squeezed(word) not in printed})
        if len(told) < 150 or missing:
            sys.exit(f"of {len(told)} words the PDF in {language} lacks {missing}")
        if not set(umlauts) <= set("".join(told)):
            sys.exit(f"{umlauts} are not in the {language} report")
        pdf = (here / "r.pdf").read_bytes()
        if f"/Lang ({language})".encode() not in pdf:
            sys.exit(f"the PDF does not say that it is in {language}")
        table = int(pdf[pdf.rindex(b"startxref") + 9:].split()[0])
        if not pdf[table:].startswith(b"xref\n"):
            sys.exit("the PDF does not say where its table of objects is")
        if subprocess.run([sys.argv[1], "verify", here / "r.html"], capture_output=True).returncode != 0:
            sys.exit(f"the {language} report does not agree with its survey")
    fonts = subprocess.run(["pdffonts", here / "r.pdf"], check=True, capture_output=True, text=True).stdout.splitlines()[2:]
    if not fonts or any(line.split()[-5] != "yes" for line in fonts):
        sys.exit("a font is not embedded:\n" + "\n".join(fonts))
    about = subprocess.run(["pdfinfo", here / "r.pdf"], check=True, capture_output=True, text=True).stdout
    if "Café <i>Ω</i> & 'so on'" not in about:
        sys.exit("the PDF has another title: " + about)
    print(f"{len(levels)} headings, {(here / 'r.html').stat().st_size} bytes")
