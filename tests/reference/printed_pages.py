"""Reads many prints back: paper, words, how much of each page is used, and its smallest type.

    python printed_pages.py FOLDER

prints a list with an entry for each `*.base64` (a PDF) of the folder in order of names: its pages, each with
width_mm, height_mm, text, used (the part of the page's rows between the frame's head and its title block that
carry a mark, up to the last one), smallest_pt and the words set in it.
"""

import base64
import json
import pathlib
import subprocess
import sys
import tempfile
import xml.etree.ElementTree as tree
from concurrent.futures import ThreadPoolExecutor

import numpy as np

POINT_MM = 25.4 / 72
DOTS = 40


def picture(data):
    """The grey rows of a binary PGM."""
    fields = data.split(None, 3)
    width, height = int(fields[1]), int(fields[2])
    return np.frombuffer(data[-width * height:], np.uint8).reshape(height, width)


def used(page):
    """How far down the page something stands, the title block at its foot left out, as a part of the page."""
    inside = page[:, page.shape[1] // 10: -page.shape[1] // 10]
    marked = (inside < 200).any(axis=1)
    # The title block begins at the last rule that runs across the whole page.
    ruled = (inside < 120).mean(axis=1) > 0.95
    rules = np.flatnonzero(ruled)
    foot = [row for row in rules if row < 0.97 * rules[-1]] if len(rules) else []
    end = foot[-1] if foot else page.shape[0]
    rows = np.flatnonzero(marked[: max(end - 1, 1)])
    return float(rows[-1] + 1) / page.shape[0] if len(rows) else 0.0


def pages(coded):
    with tempfile.TemporaryDirectory() as folder:
        pdf = pathlib.Path(folder, "print.pdf")
        pdf.write_bytes(base64.b64decode(coded.read_text()))
        run = lambda *words: subprocess.run(words, check=True, capture_output=True).stdout
        text = run("pdftotext", "-layout", pdf, "-").decode().split("\f")
        run("pdftoppm", "-r", str(DOTS), "-gray", pdf, str(pathlib.Path(folder, "page")))
        pictures = [picture(path.read_bytes()) for path in sorted(pathlib.Path(folder).glob("page*.pgm"))]
        named = tree.fromstring(run("pdftohtml", "-xml", "-i", "-zoom", "3", "-stdout", pdf))
    sizes, found = {}, []
    for page, grey, words in zip(named.iter("page"), pictures, text):
        for font in page.iter("fontspec"):
            sizes[font.get("id")] = float(font.get("size")) / 3
        # Marks of a list and other lone signs are no words.
        told = [(sizes[t.get("font")], "".join(t.itertext()).strip()) for t in page.iter("text")]
        told = [(size, said) for size, said in told if sum(map(str.isalnum, said)) > 1]
        smallest = min(told, default=(99.0, ""))
        found.append({
            "width_mm": float(page.get("width")) / 3 * POINT_MM,
            "height_mm": float(page.get("height")) / 3 * POINT_MM,
            "text": words,
            "used": used(grey),
            "smallest_pt": smallest[0],
            "smallest_words": smallest[1][:60],
        })
    return found


if __name__ == "__main__":
    with ThreadPoolExecutor(2) as pool:
        json.dump(list(pool.map(pages, sorted(pathlib.Path(sys.argv[1]).glob("*.base64")))), sys.stdout)
