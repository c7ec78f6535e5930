"""The container-loading problems of Bischoff and Ratcliff, made again by their published generator.

E. E. Bischoff, M. S. W. Ratcliff, "Issues in the development of approaches to container loading",
Omega 23(4), 1995, 377-390: the procedure; OR-Library, files thpack1 to thpack7: the problems. The procedure
was written from memory of the paper; that it makes the problems of the library, `test_placing` shows by
single ones.
"""

from __future__ import annotations

from collections.abc import Iterator

CONTAINER = (587, 233, 220)
#: kinds of box in the classes BR1 to BR7
KINDS = (3, 5, 8, 10, 12, 15, 20)
#: mean share filled of the authors' constructive heuristic over 100 problems of each class (H_BR; memory)
PUBLISHED = (0.8379, 0.8444, 0.8394, 0.8371, 0.8380, 0.8244, 0.8201)


def problem(kinds: int, number: int) -> tuple[list[tuple[int, int, int]], list[int], list[tuple[bool, ...]]]:
    """Edges [cm] of each kind, falling; how many of each; and which of the edges may stand upright."""
    drawn = _random(2502505 + 100 * (number - 1))
    low, high = (30, 25, 20), (120, 100, 80)
    edges = [
        sorted((a + int(next(drawn) * (b - a + 1)) for a, b in zip(low, high, strict=True)), reverse=True)
        for _ in range(kinds)
    ]
    volumes = [a * b * c for a, b, c in edges]
    counts, total = [1] * kinds, sum(volumes)
    room = CONTAINER[0] * CONTAINER[1] * CONTAINER[2]
    while True:
        kind = int(next(drawn) * kinds)
        if total + volumes[kind] > room:
            break
        counts[kind] += 1
        total += volumes[kind]
    stands = [tuple(edge / one[2] < 2.0 for edge in one) for one in edges]
    return [(a, b, c) for a, b, c in edges], counts, stands


def _random(seed: int) -> Iterator[float]:
    """Multiplicative congruential numbers, modulus 2^31 - 1, multiplier 16807; the first ten are dropped."""
    drawn = 0
    while True:
        seed = seed * 16807 % 2147483647
        drawn += 1
        if drawn > 10:
            yield seed / 2147483647
