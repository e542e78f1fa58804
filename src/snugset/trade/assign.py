"""Each row its own column, at the least cost in all, exactly."""

from collections.abc import Sequence


def assigned(costs: Sequence[Sequence[int]]) -> list[int]:
    """Give the column of each row; no column twice, and the sum of the costs the least there is.

    Whole numbers, no more rows than columns. The Hungarian method: rows are added one by one along
    the cheapest alternating path, with potentials that keep every reduced cost above nothing.
    """
    size, width = len(costs), len(costs[0]) if costs else 0
    row_of = [-1] * width
    rows, columns = [0] * size, [0] * width
    for start in range(size):
        least: list[int | None] = [None] * width
        came = [-1] * width
        done = [False] * width
        row, at = start, -1
        while row >= 0:
            if at >= 0:
                done[at] = True
            best, nearest = None, -1
            for column in range(width):
                if done[column]:
                    continue
                reduced = costs[row][column] - rows[row] - columns[column]
                known = least[column]
                if known is None or reduced < known:
                    least[column], came[column] = reduced, at
                    known = reduced
                if best is None or known < best:
                    best, nearest = known, column
            step = best or 0
            rows[start] += step
            for column in range(width):
                left = least[column]
                if done[column]:
                    rows[row_of[column]] += step
                    columns[column] -= step
                elif left is not None:
                    least[column] = left - step
            at, row = nearest, row_of[nearest]
        while at >= 0:
            before = came[at]
            row_of[at] = row_of[before] if before >= 0 else start
            at = before
    found = [0] * size
    for column, row in enumerate(row_of):
        if row >= 0:
            found[row] = column
    return found
