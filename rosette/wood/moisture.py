"""How much water wood holds in a climate, and how far that moves it.

Source: USDA Forest Products Laboratory, *Wood Handbook* (FPL-GTR-282), Eq. 4-5 for the
equilibrium moisture content and Eq. 13-2 for the change of a dimension.
"""

from __future__ import annotations

LOWEST_LINEAR, HIGHEST_LINEAR = 6.0, 14.0
"""Moisture contents (percent) between which Eq. 13-2 holds."""


def equilibrium_moisture(*, temperature: float, humidity: float) -> float:
    """Equilibrium moisture content in percent at °C and percent relative humidity (Eq. 4-5).

    >>> round(equilibrium_moisture(temperature=20, humidity=45), 4)
    8.4852
    """
    t, h = temperature, humidity / 100.0
    w = 349.0 + 1.29 * t + 0.0135 * t**2
    k = 0.805 + 0.000736 * t - 0.00000273 * t**2
    k1 = 6.27 - 0.00938 * t - 0.000303 * t**2
    k2 = 1.91 + 0.0407 * t - 0.000293 * t**2
    kh = k * h
    bound = (k1 * kh + 2.0 * k1 * k2 * kh**2) / (1.0 + k1 * kh + k1 * k2 * kh**2)
    return 1800.0 / w * (kh / (1.0 - kh) + bound)


def dimension_change(dimension: float, coefficient: float, moisture_change: float) -> float:
    """Change of a dimension (its own unit) for a change of moisture in percent (Eq. 13-2).

    ΔD = D·C·(M_F − M_I), C per percent, from 6 to 14 % moisture.

    >>> round(dimension_change(232, 0.00245, 3), 3)
    1.705
    """
    return dimension * coefficient * moisture_change


def coefficient_from_shrinkage(shrinkage: float) -> float:
    """Dimensional change per percent of moisture from total shrinkage S % (from Eq. 13-3 at 10 %).

    C = 1/(3000/S − 20).

    >>> round(coefficient_from_shrinkage(7.8), 5)
    0.00274
    """
    return 1.0 / (3000.0 / shrinkage - 20.0)
