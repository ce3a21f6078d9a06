"""Water that boils: its pressure, its temperature, the heat that steam carries off, and what altitude does to them."""

from __future__ import annotations

import math

STANDARD_KPA = 101.325
COLDEST_C, HOTTEST_C = 0.0, 200.0
LOWEST_M, HIGHEST_M = -500.0, 9000.0

_ZERO_C_IN_K = 273.15
_CRITICAL_K, _CRITICAL_KG_M3 = 647.096, 322.0

# Saturation line (region 4), coefficients n1 to n10.
_N = (
    1167.0521452767, -724213.16703206, -17.073846940092, 12020.824702470, -3232555.0322333,
    14.915108613530, -4823.2657361591, 405113.40542057, -0.23855557567849, 650.17534844798,
)  # fmt: skip

# Densities of boiling water and of its steam: coefficient and exponent of (1 - T/Tc).
_LIQUID = (
    (1.99274064, 1 / 3), (1.09965342, 2 / 3), (-0.510839303, 5 / 3),
    (-1.75493479, 16 / 3), (-45.5170352, 43 / 3), (-6.74694450e5, 110 / 3),
)  # fmt: skip
_STEAM = (
    (-2.03150240, 2 / 6), (-2.68302940, 4 / 6), (-5.38626492, 8 / 6),
    (-17.2991605, 18 / 6), (-44.7586581, 37 / 6), (-63.9201063, 71 / 6),
)  # fmt: skip


def saturation_kpa(temp_c: float) -> float:
    """Return the pressure under which water boils at a temperature.

    Parameters
    ----------
    temp_c : float, 0 to 200
        The temperature. [C]

    Returns
    -------
    float
        Absolute pressure. [kPa]

    Raises
    ------
    ValueError
        If the temperature is outside its range.

    References
    ----------
    IAPWS Industrial Formulation 1997, region 4, equation 30 (equation number from memory).

    Examples
    --------
    >>> round(saturation_kpa(100), 2)
    101.42
    """
    _within("temp_c", temp_c, COLDEST_C, HOTTEST_C)
    temp_k = temp_c + _ZERO_C_IN_K
    theta = temp_k + _N[8] / (temp_k - _N[9])
    a = theta**2 + _N[0] * theta + _N[1]
    b = _N[2] * theta**2 + _N[3] * theta + _N[4]
    c = _N[5] * theta**2 + _N[6] * theta + _N[7]
    return math.pow(2 * c / (-b + math.sqrt(b**2 - 4 * a * c)), 4) * 1000


def saturation_c(pressure_kpa: float) -> float:
    """Return the temperature at which water boils under an absolute pressure.

    Parameters
    ----------
    pressure_kpa : float, 0.62 to 1555
        Absolute pressure. [kPa]

    Returns
    -------
    float
        The boiling point. [C]

    Raises
    ------
    ValueError
        If the pressure is outside its range.

    References
    ----------
    IAPWS Industrial Formulation 1997, region 4, equation 31 (equation number from memory).

    Examples
    --------
    >>> round(saturation_c(101.325), 2), round(saturation_c(170), 2)
    (99.97, 115.15)
    """
    _within("pressure_kpa", pressure_kpa, 0.62, 1555)
    beta = math.pow(pressure_kpa / 1000, 0.25)
    e = beta**2 + _N[2] * beta + _N[5]
    f = _N[0] * beta**2 + _N[3] * beta + _N[6]
    g = _N[1] * beta**2 + _N[4] * beta + _N[7]
    d = 2 * g / (-f - math.sqrt(f**2 - 4 * e * g))
    return (_N[9] + d - math.sqrt((_N[9] + d) ** 2 - 4 * (_N[8] + _N[9] * d))) / 2 - _ZERO_C_IN_K


def latent_heat_kj(temp_c: float) -> float:
    """Return the heat that a kilogram of water takes to become steam at a temperature.

    Parameters
    ----------
    temp_c : float, 0 to 200
        The temperature. [C]

    Returns
    -------
    float
        Latent heat. [kJ/kg]

    Raises
    ------
    ValueError
        If the temperature is outside its range.

    Notes
    -----
    T x dp/dT x (volume of steam - volume of water), the rule of Clausius and Clapeyron, with the slope of the saturation line
    and the saturated densities.

    References
    ----------
    Wagner and Pruss 1993, International equations for the saturation properties of ordinary water substance (IAPWS SR1-86);
    coefficients from memory, checked against an independent implementation in the tests.

    Examples
    --------
    >>> round(latent_heat_kj(100)), round(latent_heat_kj(121))
    (2257, 2199)
    """
    _within("temp_c", temp_c, COLDEST_C, HOTTEST_C)
    temp_k = temp_c + _ZERO_C_IN_K
    tau = 1 - temp_k / _CRITICAL_K
    liquid = _CRITICAL_KG_M3 * (1 + sum(b * math.pow(tau, power) for b, power in _LIQUID))
    steam = _CRITICAL_KG_M3 * math.exp(sum(c * math.pow(tau, power) for c, power in _STEAM))
    return temp_k * _slope_kpa_per_k(temp_c) * (1 / steam - 1 / liquid)


def air_pressure_kpa(altitude_m: float) -> float:
    """Return the air pressure at an altitude on a standard day.

    Parameters
    ----------
    altitude_m : float, -500 to 9000
        Height above the sea. [m]

    Returns
    -------
    float
        Absolute pressure. [kPa]

    Raises
    ------
    ValueError
        If the altitude is outside its range.

    Notes
    -----
    Weather moves it by some 3 kPa, the boiling point by about one degree.

    References
    ----------
    ISO 2533:1975, standard atmosphere: 101.325 (1 - 0.0065 h / 288.15) ** 5.25588.

    Examples
    --------
    >>> round(air_pressure_kpa(1500), 2)
    84.56
    """
    _within("altitude_m", altitude_m, LOWEST_M, HIGHEST_M)
    exponent = 9.80665 / (0.0065 * 287.05287)
    return STANDARD_KPA * math.pow(1 - 0.0065 * altitude_m / 288.15, exponent)


def boiling_point_c(altitude_m: float = 0.0, gauge_kpa: float = 0.0) -> float:
    """Return the temperature at which water boils at an altitude, in the open or in a pressure cooker.

    Parameters
    ----------
    altitude_m : float, -500 to 9000
        Height above the sea. [m]
    gauge_kpa : float, 0 to 200
        The cooker's pressure above the air around it. [kPa]

    Returns
    -------
    float
        The boiling point on a standard day. [C]

    Raises
    ------
    ValueError
        If an argument is outside its range.

    Examples
    --------
    >>> round(boiling_point_c(1500), 2), round(boiling_point_c(3000, 70), 1), round(boiling_point_c(0, 103.4), 1)
    (94.98, 109.3, 121.0)
    """
    _within("gauge_kpa", gauge_kpa, 0, 200)
    return saturation_c(air_pressure_kpa(altitude_m) + gauge_kpa)


def _slope_kpa_per_k(temp_c: float) -> float:
    """Slope of the saturation line by a central difference, inside the equation's range."""
    low, high = max(temp_c - 0.01, COLDEST_C), min(temp_c + 0.01, HOTTEST_C)
    return (saturation_kpa(high) - saturation_kpa(low)) / (high - low)


def _within(name: str, value: float, low: float, high: float) -> None:
    if not low <= value <= high:
        raise ValueError(f"{name} should lie between {low:g} and {high:g}, not at {value:g}")
