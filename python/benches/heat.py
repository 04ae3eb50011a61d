"""A roast and a thaw by the model, and in the same run by SciPy's LSODA on the same equations.

``python python/benches/heat.py``. The equations are those of ``tests/python/test_heat_oracle.py``, with array operations
over the nodes as SciPy users write them, at a tolerance that gives the time to a second.
"""

import sys
import time
from pathlib import Path

import poulter

sys.path.insert(0, str(Path(__file__).parents[2] / "tests" / "python"))
from test_heat_oracle import POUND_KG, Turkey, oven, solve  # noqa: E402


def least(rounds, call):
    times = []
    for _ in range(rounds):
        begun = time.perf_counter()
        call()
        times.append(time.perf_counter() - begun)
    return min(times)


def main():
    turkey = Turkey()
    mass_kg = 12 * POUND_KG

    def roast():
        return poulter.simulate_roast(
            (mass_kg, "kg"), start="4.4 degC", oven=[{"temperature": "162.8 degC"}], target="73.89 degC"
        )

    def thaw():
        return poulter.simulate_thaw(
            (mass_kg, "kg"), start="-18 degC", surroundings={"kind": "water", "temperature": "10 degC"}
        )

    def roast_by_scipy():
        # Both zones, as the model does; the thigh only as long as the breast.
        for length in (0.0355, 0.0317):
            solve(turkey, length * mass_kg ** (1 / 3), 4.4, oven, 8, 73.89)

    def thaw_by_scipy():
        solve(turkey, 0.0343 * mass_kg ** (1 / 3), -18.0, lambda skin: 120.0 * (10.0 - skin), 24, 0.0)

    for name, ours, scipys in (("roast", roast, roast_by_scipy), ("thaw in water", thaw, thaw_by_scipy)):
        model_s, scipy_s = least(30, ours), least(3, scipys)
        print(
            f"{name:14} model {model_s * 1e3:7.2f} ms, LSODA {scipy_s * 1e3:8.1f} ms: {scipy_s / model_s:6.0f} times as long"
        )


if __name__ == "__main__":
    main()
