"""Reads a print back: paper, words, and the true length of the scale bars.

    python printed.py PRINT.pdf.base64 [words]

prints `pages` (width_mm, height_mm, text) and `bars_mm`, the widths of the marks in the colour that
the browser test gives to scale bars, in the order of pages and from top to bottom, measured on
pictures of the pages at 300 dots to the inch; with `words` no bar is measured.
"""

import base64
import json
import pathlib
import re
import subprocess
import sys
import tempfile

import numpy as np
from pypdf import PdfReader

POINT_MM = 25.4 / 72
DOTS = 300
BAR = np.array([255, 0, 254])


def picture(path):
    """The red, green and blue of a binary PPM file."""
    data = path.read_bytes()
    fields, at = [], 0
    while len(fields) < 4:
        end = at
        while not data[end:end + 1].isspace():
            end += 1
        fields.append(data[at:end])
        at = end + 1
    width, height = int(fields[1]), int(fields[2])
    return np.frombuffer(data, np.uint8, width * height * 3, at).reshape(height, width, 3)


def bars(page):
    """Widths in mm of the coloured marks on a page, from top to bottom."""
    # Edges are blended with white, so a dot counts by how much of it is coloured.
    cover = np.clip((255.0 - page[:, :, 1].astype(float)) / 255, 0, 1)
    pure = np.abs(page.astype(int) - BAR).max(axis=2) < 60
    rows = np.flatnonzero(pure.any(axis=1))
    found = []
    for band in np.split(rows, np.flatnonzero(np.diff(rows) > DOTS // 10) + 1) if len(rows) else []:
        columns = np.flatnonzero(pure[band].any(axis=0))
        for run in np.split(columns, np.flatnonzero(np.diff(columns) > DOTS // 25) + 1):
            # Whole dots between the outermost, and the part of the dots just beyond them.
            first, last = run[0], run[-1]
            beyond = [x for x in (first - 1, last + 1) if 0 <= x < page.shape[1]]
            parts = sum(float(cover[band, x].max()) for x in beyond)
            found.append((last - first + 1 + parts) / DOTS * 25.4)
    return found


def main(coded, words_only=False):
    with tempfile.TemporaryDirectory() as folder:
        pdf = pathlib.Path(folder, "print.pdf")
        pdf.write_bytes(base64.b64decode(pathlib.Path(coded).read_text()))
        pages = [
            {
                "width_mm": float(page.mediabox.width) * POINT_MM,
                "height_mm": float(page.mediabox.height) * POINT_MM,
            }
            for page in PdfReader(pdf).pages
        ]
        words = subprocess.run(["pdftotext", "-layout", pdf, "-"], check=True, capture_output=True, text=True)
        for page, text in zip(pages, words.stdout.split("\f")):
            page["text"] = text
        widths = []
        for number, page in enumerate(pages, 1):
            # Only a page that names a scale can bear a bar, and pictures take their time.
            if not words_only and re.search(r"1:\d+", page["text"]):
                only = ["-f", str(number), "-l", str(number), "-singlefile"]
                picked = pathlib.Path(folder, "page")
                subprocess.run(["pdftoppm", "-r", str(DOTS), *only, pdf, picked], check=True)
                widths += bars(picture(picked.with_suffix(".ppm")))
    json.dump({"pages": pages, "bars_mm": widths}, sys.stdout)


if __name__ == "__main__":
    main(sys.argv[1], sys.argv[2:] == ["words"])
