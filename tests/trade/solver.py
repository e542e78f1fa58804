"""An exact solver that shares nothing with the trade's own search: integer programs.

Cases are put side by side in one program, since most of a small one is setting it up. The least of
them together is the sum of their leasts. What is compared with it is a sum of costs that are had,
each of them no less than its own least: where the sums agree, every case agrees.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import Bounds, LinearConstraint, milp  # type: ignore[import-untyped]
from scipy.sparse import coo_array  # type: ignore[import-untyped]

BATCH = 25
"""Cases put into one program."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Block:
    """One case: choose columns at the least cost, so that every row has one of its own."""

    table: NDArray[np.bool_]
    costs: NDArray[np.int64]
    had: int
    """What a choice that is had costs: the least, if the solver agrees."""
    most: int | None = None
    """How many of the limited columns may be chosen; as many as liked if None."""
    limited: int | None = None
    """How many columns from the first on are limited; all of them if None."""


def fewest(table: NDArray[np.bool_], had: int) -> Block:
    """Reach every row with the fewest columns."""
    return Block(table=table, costs=np.ones(table.shape[1], np.int64), had=had)


def more_than(table: NDArray[np.bool_], count: int) -> Block:
    """Reach every row with the fewest columns, or all at once at the cost of one too many.

    The least is one too many only if so many columns do not do.
    """
    every = np.ones((len(table), 1), np.bool_)
    costs = np.append(np.ones(table.shape[1], np.int64), count + 1)
    return Block(table=np.hstack([table, every]), costs=costs, had=count + 1)


def nearest(
    prices: NDArray[np.int64], most: int, had: int, *, open_to: NDArray[np.bool_] | None = None
) -> Block:
    """Choose at most so many columns, so that the least prices of the rows sum to the least.

    A row pays its own least price, and every step up to the next one unless a column that costs no
    more is chosen. Columns that are not open to a row cannot be its own.
    """
    height, width = prices.shape
    reached: list[NDArray[np.bool_]] = []
    steps: list[int] = []
    unpaid: list[bool] = []
    base = 0
    for row in range(height):
        allowed = np.ones(width, np.bool_) if open_to is None else open_to[row]
        levels = np.unique(prices[row][allowed])
        base += int(levels[0])
        reached += [allowed & (prices[row] <= level) for level in levels]
        steps += np.diff(levels).tolist()
        unpaid += [False] * (len(levels) - 1) + [True]
    paying = np.eye(len(reached), dtype=np.bool_)[:, ~np.array(unpaid)]
    return Block(
        table=np.hstack([np.array(reached), paying]),
        costs=np.concatenate([np.zeros(width, np.int64), np.array(steps, np.int64)]),
        had=had - base,
        most=most,
        limited=width,
    )


def agree(blocks: Sequence[Block]) -> None:
    """Assert for every block that nothing cheaper can be had."""
    for start in range(0, len(blocks), BATCH):
        some = blocks[start : start + BATCH]
        assert _least(some) == sum(block.had for block in some), some


def _least(blocks: Sequence[Block]) -> int:
    """Solve to proven optimality."""
    rows, columns = [], []
    row = column = 0
    low: list[NDArray[np.float64]] = []
    high: list[NDArray[np.float64]] = []
    for block in blocks:
        height, width = block.table.shape
        at_row, at_column = np.nonzero(block.table)
        rows.append(at_row + row)
        columns.append(at_column + column)
        low.append(np.ones(height))
        high.append(np.full(height, np.inf))
        row += height
        if block.most is not None:
            limited = width if block.limited is None else block.limited
            rows.append(np.full(limited, row))
            columns.append(np.arange(limited) + column)
            low.append(np.zeros(1))
            high.append(np.full(1, block.most))
            row += 1
        column += width
    across, down = np.concatenate(columns), np.concatenate(rows)
    matrix = coo_array((np.ones(len(down)), (down, across)), shape=(row, column)).tocsc()
    found = milp(
        np.concatenate([block.costs for block in blocks]),
        integrality=np.ones(column),
        bounds=Bounds(0, 1),
        constraints=LinearConstraint(matrix, np.concatenate(low), np.concatenate(high)),
        options={"mip_rel_gap": 0},
    )
    assert found.success, found.message
    value: float = found.fun
    return round(value)
