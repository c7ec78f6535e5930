"""The app's icon: a tussock of grass on paper, drawn here from curves, as SVG and as PNG.

Plain Python: a small scan-line filler with supersampling is enough for three pictures.
"""

import struct
import zlib
from pathlib import Path

PAPER, INK, ACCENT = (0xF6, 0xF1, 0xE4), (0x1F, 0x2A, 0x24), (0xB0, 0x4A, 0x1E)

#: Each blade of grass: foot on the ground, bend, tip; half its width at the foot. The square is 100 by 100.
BLADES = (
    ((38, 76), (30, 50), (12, 40), 4.5),
    ((43, 76), (40, 44), (28, 22), 4.5),
    ((50, 76), (50, 40), (54, 12), 5.0),
    ((57, 76), (61, 44), (74, 24), 4.5),
    ((62, 76), (70, 52), (90, 44), 4.5),
)
GROUND = ((14, 76), (86, 76), (86, 81), (14, 81))

#: Pixels; a maskable icon keeps its drawing inside the middle four fifths.
PNGS = {
    "icon-192.png": (192, 1.0),
    "icon-512.png": (512, 1.0),
    "maskable-512.png": (512, 0.72),
    "touch-180.png": (180, 0.9),
}
FINE = 4

Point = tuple[float, float]


def blade(foot: Point, bend: Point, tip: Point, half: float) -> list[Point]:
    """A closed outline: up the left edge and down the right one, both quadratic curves ending in the tip."""
    outline: list[Point] = []
    for side, steps in ((-1, range(13)), (1, range(12, -1, -1))):
        for k in steps:
            t = k / 12
            a, b, c = (1 - t) ** 2, 2 * t * (1 - t), t * t
            x = a * (foot[0] + side * half) + b * (bend[0] + side * half) + c * tip[0]
            y = a * foot[1] + b * bend[1] + c * tip[1]
            outline.append((x, y))
    return outline


def shapes() -> list[tuple[list[Point], tuple[int, int, int]]]:
    drawn = [(blade(*one), INK) for one in BLADES]
    drawn[2] = (drawn[2][0], ACCENT)
    return [*drawn, (list(GROUND), INK)]


def svg() -> str:
    paths = "".join(
        f'<path fill="{_hex(colour)}" d="M{"L".join(f"{x:.2f} {y:.2f}" for x, y in outline)}Z"/>'
        for outline, colour in shapes()
    )
    head = '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 100 100">'
    return f'{head}<rect width="100" height="100" fill="{_hex(PAPER)}"/>{paths}</svg>\n'


def png(size: int, scale: float) -> bytes:
    """The drawing as a PNG of `size` by `size` pixels, shrunk towards the middle by `scale`."""

    def to_fine(x: float) -> float:
        return (50 + (x - 50) * scale) * size * FINE / 100

    rows = [[[float(part) for part in PAPER] for _ in range(size)] for _ in range(size)]
    for outline, colour in shapes():
        fine = [(to_fine(x), to_fine(y)) for x, y in outline]
        for (row, column), share in _cover(fine, size).items():
            pixel = rows[row][column]
            for channel in range(3):
                pixel[channel] += (colour[channel] - pixel[channel]) * share
    raw = b"".join(b"\0" + bytes(round(value) for pixel in row for value in pixel) for row in rows)
    header = struct.pack(">IIBBBBB", size, size, 8, 2, 0, 0, 0)
    chunks = ((b"IHDR", header), (b"IDAT", zlib.compress(raw, 9)), (b"IEND", b""))
    return b"\x89PNG\r\n\x1a\n" + b"".join(_chunk(name, data) for name, data in chunks)


def _cover(outline: list[Point], size: int) -> dict[tuple[int, int], float]:
    """How much of each pixel lies inside, by counting finer points (even-odd rule, row by row)."""
    hits: dict[tuple[int, int], float] = {}
    edges = list(zip(outline, outline[1:] + outline[:1], strict=True))
    for line in range(size * FINE):
        y = line + 0.5
        crossings = sorted(
            x0 + (y - y0) * (x1 - x0) / (y1 - y0) for (x0, y0), (x1, y1) in edges if (y0 <= y) != (y1 <= y)
        )
        for left, right in zip(crossings[::2], crossings[1::2], strict=True):
            for point in range(max(0, round(left)), min(size * FINE, round(right))):
                place = (line // FINE, point // FINE)
                hits[place] = hits.get(place, 0.0) + 1 / FINE**2
    return hits


def _chunk(name: bytes, data: bytes) -> bytes:
    return struct.pack(">I", len(data)) + name + data + struct.pack(">I", zlib.crc32(name + data))


def _hex(colour: tuple[int, int, int]) -> str:
    return "#{:02x}{:02x}{:02x}".format(*colour)


def write(folder: Path) -> None:
    """All icons into `folder`."""
    folder.mkdir(parents=True, exist_ok=True)
    (folder / "icon.svg").write_text(svg(), encoding="utf-8")
    for name, (size, scale) in PNGS.items():
        (folder / name).write_bytes(png(size, scale))
