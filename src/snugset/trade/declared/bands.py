"""The plausible, by what is measured: outside it a slip of unit is looked for. Common practice."""

from decimal import Decimal

from snugset.units import Band, Quantity


def _band(low: str, high: str, unit: str) -> Band:
    return Quantity(Decimal(low), unit), Quantity(Decimal(high), unit)


GAP = _band("0.5", "400", "thou")
"""Preload, lash, leaves, lifter travel, gaskets, cuts, a change of pushrod length."""
DOUBT = _band("0.05", "60", "thou")
"""Repeatability, U, tolerances."""
PUSHROD = _band("3", "20", "in")
TORQUE = _band("5", "12000", "lbf·in")
PITCH = _band("0.2", "7", "mm")
SHANK = _band("0.06", "2.5", "in")
LEVER = _band("0.25", "120", "in")
PROOF = _band("20", "300", "ksi")
DAMPER = _band("2", "40", "in")
"""A crankshaft damper's diameter."""
BORE = _band("1", "10", "in")
STROKE = _band("1", "14", "in")
CONNECTING_ROD = _band("2", "30", "in")
CHAMBER = _band("2", "1000", "cc")
"""Volumes of chamber, dish and dome."""
FACE = _band("0.5", "80", "in²")
"""The mouth of a combustion chamber."""
