"""What a phone's camera sees of another phone's screen: codes held askew and not quite sharp, as a film."""

from __future__ import annotations

import math
import re
from pathlib import Path

import numpy as np

Squares = np.ndarray
WIDE, HIGH = 1280, 720
#: frames a second, and how many each code is seen for
RATE, EACH = 10, 4
#: of the code [rad], and of its edges from far to near
TILT, NEARER = math.radians(7.0), 0.12
#: half of the width over which an edge is smeared [pixels]
BLUR = 1


def flags(film: Path) -> tuple[str, ...]:
    """Chromium's own, for a camera that shows a film; whether it may be used is asked as always."""
    return ("--use-fake-device-for-media-stream", f"--use-file-for-fake-video-capture={film}")


def squares(size: int, path: str) -> Squares:
    """The little squares of a code from its drawing: True is dark."""
    dark = np.zeros((size, size), dtype=bool)
    for x, y in re.findall(r"M(\d+) (\d+)h1v1h-1z", path):
        dark[int(y), int(x)] = True
    assert dark.any()
    return dark


def shoot(film: Path, codes: list[Squares]) -> None:
    """Write a film that runs in a loop: each code for a while; a grey wall where there is none."""
    wall = np.full((HIGH, WIDE), 120, dtype=np.uint8)
    chroma = np.full(WIDE * HIGH // 2, 128, dtype=np.uint8).tobytes()
    with film.open("wb") as out:
        out.write(f"YUV4MPEG2 W{WIDE} H{HIGH} F{RATE}:1 Ip A1:1 C420\n".encode())
        for turn, code in enumerate(codes or [None]):
            sign = 1.0 if turn % 2 else -1.0
            frame = wall if code is None else _seen(code, sign * TILT)
            for _ in range(EACH):
                out.write(b"FRAME\n" + frame.tobytes() + chroma)


def _seen(code: Squares, tilt: float) -> np.ndarray:
    """A frame: the code turned, its far edge shorter than its near one, on a grey wall, smeared and noisy."""
    size = len(code)
    y, x = np.mgrid[0:HIGH, 0:WIDE]
    across, down = (x - WIDE / 2) / (0.82 * HIGH), (y - HIGH / 2) / (0.82 * HIGH)
    u = across * math.cos(tilt) + down * math.sin(tilt)
    v = down * math.cos(tilt) - across * math.sin(tilt)
    u, v = u / (1.0 + NEARER * v), v / (1.0 + NEARER * v)
    column, row = np.floor((u + 0.5) * size).astype(int), np.floor((v + 0.5) * size).astype(int)
    inside = (column >= 0) & (column < size) & (row >= 0) & (row < size)
    light = np.where(code[row.clip(0, size - 1), column.clip(0, size - 1)], 45.0, 215.0)
    frame = np.where(inside, light, 120.0)
    for axis in (0, 1):
        frame = sum(np.roll(frame, by, axis) for by in range(-BLUR, BLUR + 1)) / (2 * BLUR + 1)
    noise = np.random.default_rng(5).normal(0.0, 4.0, frame.shape)
    return np.clip(frame + noise, 16, 235).astype(np.uint8)
