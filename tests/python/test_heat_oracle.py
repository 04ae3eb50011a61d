"""The heat model against SciPy: the same equations, written again from their sources and solved by LSODA.

Properties of protein, fat, ash, ice and water come from CoolProp (``INCOMP::Food*``, Choi and Okos 1986). Only the
specific heat of water is typed here: CoolProp carries the ASHRAE Handbook's 4.1289 kJ/(kg K), the model Choi and
Okos's own 4.1762 above and 4.0817 below 0 degC, which lie nearer to real water.
"""

import numpy as np
import pytest
from CoolProp import CoolProp
from scipy import integrate, interpolate

import poulter

POUND_KG = 0.45359237
# ASHRAE Handbook, whole turkey: shares of water, protein, fat and ash, and the freezing point.
SHARES = {"water": 0.7040, "protein": 0.2042, "fat": 0.0802, "ash": 0.0088}
FREEZING = -2.8
MELTING = 333.6e3
NODES = 31
DIMENSION = 2


def coolprop(name, key, celsius):
    return CoolProp.PropsSI(key, "T", celsius + 273.15, "P", 101325, f"INCOMP::Food{name}")


def water_heat(celsius):
    """Specific heat of water, J/(kg K), Choi and Okos 1986."""
    warm = 4176.2 - 9.0864e-2 * celsius + 5.4731e-3 * celsius**2
    cold = 4081.7 - 5.3062 * celsius + 0.99516 * celsius**2
    return np.where(celsius >= 0, warm, cold)


class Turkey:
    """Temperature and the integral of conductivity as functions of enthalpy per volume."""

    def __init__(self):
        below = np.linspace(-35.0, FREEZING, 8001)
        above = np.linspace(FREEZING, 149.0, 8001)[1:]
        celsius = np.concatenate([below, above])
        total = sum(SHARES.values())
        shares = {name: np.full_like(celsius, share / total) for name, share in SHARES.items()}
        # Chen 1985: ice = (water - 0.4 protein)(1 - T_f / T).
        frozen = celsius < FREEZING
        ice = (shares["water"] - 0.4 * shares["protein"]) * np.where(
            frozen, 1 - FREEZING / np.where(frozen, celsius, -1.0), 0.0
        )
        shares["ice"], shares["water"] = ice, shares["water"] - ice
        names = {name: name.capitalize() for name in shares}
        density = {name: coolprop(names[name], "D", celsius) for name in shares}
        heat = {name: coolprop(names[name], "C", celsius) for name in shares} | {"water": water_heat(celsius)}
        conductivity = {name: coolprop(names[name], "L", celsius) for name in shares}

        volume = sum(shares[name] / density[name] for name in shares)
        part = {name: shares[name] / density[name] / volume for name in shares}

        def parallel(which):
            return sum(part[name] * conductivity[name] for name in which) / sum(part[name] for name in which)

        # Maxwell and Eucken: protein, fat and ash dispersed in water and ice.
        k_c, k_d = parallel(["water", "ice"]), parallel(["protein", "fat", "ash"])
        v_d = part["protein"] + part["fat"] + part["ash"]
        k = k_c * (2 * k_c + k_d - 2 * v_d * (k_c - k_d)) / (2 * k_c + k_d + v_d * (k_c - k_d))

        specific = sum(shares[name] * heat[name] for name in shares)
        self.density = np.interp(4.4, celsius, 1 / volume)
        sensible = integrate.cumulative_trapezoid(specific, celsius, initial=0.0)
        self.celsius = celsius
        self.enthalpy = self.density * (sensible - MELTING * ice)
        self.theta = integrate.cumulative_trapezoid(k, celsius, initial=0.0)

    def temperature(self, enthalpy):
        return np.interp(enthalpy, self.enthalpy, self.celsius)

    def kirchhoff(self, enthalpy):
        return np.interp(enthalpy, self.enthalpy, self.theta)


@pytest.fixture(scope="module")
def turkey():
    return Turkey()


def oven(skin, air=162.8, h=6.0, emissivity=0.9, h_skin=1.0, vapour=3000.0):
    """Convection, radiation and evaporation through the skin, W/m2 into the body."""
    radiation = emissivity * 5.670374419e-8 * ((air + 273.15) ** 4 - (skin + 273.15) ** 4)
    pressure = 610.94 * np.exp(17.625 * skin / (skin + 243.04))
    h_water = h_skin * h / (h_skin + h)
    water = h_water / (1007.0 * 101325.0) * 0.622 * 1.12 * (pressure - vapour)
    return h * (air - skin) + radiation - water * (2.5009e6 - 2381.0 * skin)


def solve(food, radius, start, flow, hours, target, dimension=DIMENSION, depth=0.0):
    """Temperature at this share of the radius as a function of time, and when the centre is at the target, s; all of it
    if it never is."""
    step = radius / (NODES - 1)
    faces = (np.arange(NODES - 1) + 0.5) * step
    area = (faces / radius) ** (dimension - 1)
    enclosed = np.concatenate([[0.0], faces**dimension, [radius**dimension]])
    volume = np.diff(enclosed) / (dimension * radius ** (dimension - 1))

    def change(_, enthalpy):
        inward = area * np.diff(food.kirchhoff(enthalpy)) / step
        flows = np.concatenate([[0.0], inward, [flow(food.temperature(enthalpy[-1]))]])
        return np.diff(flows) / volume

    def arrived(_, enthalpy):
        return food.temperature(enthalpy[0]) - target

    arrived.terminal = True
    began = np.full(NODES, np.interp(start, food.celsius, food.enthalpy))
    found = integrate.solve_ivp(
        change, (0, hours * 3600), began, method="LSODA", rtol=1e-7, atol=10.0, events=arrived,
        dense_output=True, lband=1, uband=1,
    )
    (times,) = found.t_events
    done = times[0] if len(times) else hours * 3600
    node = min(int(depth * (NODES - 1)), NODES - 2)
    part = depth * (NODES - 1) - node

    def temperature(t):
        before, after = food.temperature(found.sol(t)[node : node + 2])
        return before + part * (after - before)

    return temperature, done


def test_a_roast_follows_scipy(turkey):
    mass_kg = 12 * POUND_KG
    centre, done = solve(turkey, 0.0355 * mass_kg ** (1 / 3), 4.4, oven, 8, 73.89)
    roast = poulter.simulate_roast(
        (mass_kg, "kg"), start="4.4 degC", oven=[{"temperature": "162.8 degC"}], target="73.89 degC"
    )
    breast = roast.zones[0]
    assert breast.zone == "breast" and breast.reached is not None
    assert breast.reached.to("min").value == pytest.approx(done / 60, abs=0.2)
    for elapsed, celsius in zip(breast.curve.elapsed_s, breast.curve.temp_degC, strict=True):
        if elapsed <= done:
            assert celsius == pytest.approx(float(centre(elapsed)), abs=0.15), elapsed


def test_a_thaw_follows_scipy(turkey):
    mass_kg = 12 * POUND_KG
    # Still water at 10 degC, 120 W/(m2 K), no radiation and no evaporation.
    centre, done = solve(
        turkey, 0.0343 * mass_kg ** (1 / 3), -18.0, lambda skin: 120.0 * (10.0 - skin), 24, 0.0
    )
    thaw = poulter.simulate_thaw(
        (mass_kg, "kg"), start="-18 degC", surroundings={"kind": "water", "temperature": "10 degC"}
    )
    # Half a minute for the rounding to whole minutes.
    assert thaw.thawed.likely.to("min").value == pytest.approx(done / 60, abs=0.5 + 0.003 * done / 60)
    # The centre leaps once its last ice is gone: 0.15 K there, or 0.3 % of the time.
    inside, _ = thaw.curves
    for elapsed, celsius in zip(inside.elapsed_s, inside.temp_degC, strict=True):
        if elapsed <= done:
            before, after = centre(0.997 * elapsed), centre(min(1.003 * elapsed, done))
            assert before - 0.15 <= celsius <= after + 0.15, elapsed


def perfringens(celsius):
    """Rate in natural logarithms an hour: the cardinal form of Rosso and others with the parameters published for
    Clostridium perfringens in roasted chicken (Food Control): Tmin 8.8, Topt 46.4, Tmax 51.5 degC, 6.06 an hour."""
    low, best, high, fastest = 8.8, 46.4, 51.5, 6.06
    below = (best - low) * ((best - low) * (celsius - best) - (best - high) * (best + low - 2 * celsius))
    rate = fastest * (celsius - high) * (celsius - low) ** 2 / below
    return np.where((celsius > low) & (celsius < high), rate, 0.0)


CARVED = {"kind": "carved", "depth": "2 in", "cooled_from": "one-face"}
SHELF = [{"surroundings": {"kind": "refrigerator", "temperature": "3.3 degC"}, "duration": "24 h"}]


def shelf(skin):
    """A bare surface in a refrigerator: 3.5 W/(m2 K), emissivity 0.9, skin 1 W/(m2 K), 0.8 kPa."""
    return oven(skin, air=3.3, h=3.5, vapour=800.0)


def grown(centre, hours):
    """Growth in powers of ten along a temperature over time."""
    seconds = np.linspace(0, hours * 3600, 20_001)
    return integrate.cumulative_simpson(perfringens(centre(seconds)), x=seconds / 3600, initial=0) / np.log(10)


def test_growth_follows_scipy(turkey):
    centre, _ = solve(turkey, 0.0508, 60.0, shelf, 24, -200.0, dimension=1)
    along = grown(lambda t: np.array([centre(at) for at in t]), 24)
    cooled = poulter.simulate_cooling(CARVED, start="60 degC", stages=SHELF, thresholds=["21 degC"])
    growth = cooled.growth
    assert growth is not None and growth.is_experimental and growth.most_at.value == 0
    # Rounded up to a thousandth, and half a percent for steps and grid.
    assert growth.without_lag == pytest.approx(along[-1], rel=0.005, abs=0.001)
    assert growth.without_lag_slow == pytest.approx(1.5 * along[-1], rel=0.005, abs=0.001)
    inside, column = cooled.curves[0], growth.zones[0].growth_log10
    wanted = np.interp(inside.elapsed_s, np.linspace(0, 24 * 3600, 20_001), along)
    assert np.asarray(column) == pytest.approx(wanted, rel=0.005, abs=0.02)


def test_growth_is_the_rate_added_up_along_the_curve():
    cooled = poulter.simulate_cooling(CARVED, start="60 degC", stages=SHELF, thresholds=["21 degC"])
    assert cooled.growth is not None
    for curve, zone in zip(cooled.curves, cooled.growth.zones, strict=True):
        assert curve.zone == zone.zone
        seconds = np.asarray(curve.elapsed_s)
        # The rows are ten minutes apart: too far for the first half hour, when the surface falls fastest.
        line = interpolate.PchipInterpolator(seconds, np.asarray(curve.temp_degC))
        along = np.interp(seconds, np.linspace(0, seconds[-1], 20_001), grown(line, seconds[-1] / 3600))
        assert np.diff(zone.growth_log10)[3:] == pytest.approx(np.diff(along)[3:], rel=0.01, abs=0.0025), zone.zone
