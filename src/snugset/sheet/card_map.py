"""A group of fasteners drawn in letters: each key, and its number in the order of tightening."""

from snugset.files.fasteners import Group, spots

WIDTH = 72


def fastener_map(group: Group) -> tuple[str, ...]:
    """Draw a group from above, the front at the left, the upper row first: ``11(1)``.

    Places that share an x stand in one column, in order along the engine; distances are not to
    scale. Where the columns do not fit side by side, the places of each row follow each other.
    """
    known = spots(group.places)
    number = {key: at for at, key in enumerate(group.order, 1)}
    label = {key: f"{key}({number[key]})" for key in known}
    columns = sorted({x for x, _ in known.values()})
    rows = sorted({y for _, y in known.values()}, reverse=True)
    wide = max(map(len, label.values())) + 1
    fits = wide * len(columns) <= WIDTH
    lines = []
    for y in rows:
        here = sorted((x, key) for key, (x, found) in known.items() if found == y)
        if fits:
            by_column = {x: label[key] for x, key in here}
            line = "".join(f"{by_column.get(x, ''):<{wide}}" for x in columns)
        else:
            line = " ".join(label[key] for _, key in here)
        lines.append(line.rstrip())
    return tuple(lines)
