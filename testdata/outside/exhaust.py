"""The exhaust of car A heating up after a cold start, with and without secondary air, as ordinary differential equations for SciPy's Radau
solver. Air, fuel and secondary air are prescribed, so that nothing but the exhaust is compared.

    python3 testdata/outside/exhaust.py testdata/outside/car_a.json > testdata/outside/exhaust.csv
"""
import math

import numpy as np
from scipy.integrate import solve_ivp

from physics import read_car

car = read_car()
e, c, g = car["exhaust"], car["exhaust"]["catalyst"], car["engine"]
amb, n = car["ambient_k"], int(car["exhaust"]["catalyst"]["cells"])
TIMES = [10.0, 20.0, 30.0, 40.0, 60.0, 80.0]


def given(t, second):
    """Air, fuel, fuel burnt in the cylinders, secondary air; kg/s. Round figures near the car's own."""
    air = (32.0 - 0.06 * t) / 3600
    fuel = air / (14.6 * (0.78 + 0.12 * t / 80))
    return air, fuel, min(fuel, air / 14.6), second / 3600


def rates(t, y, second):
    man, pipe, cat = y[0], y[1], y[2:]
    air, fuel, burnt, sec = given(t, second)
    heat = burnt * g["heating_value"]
    m = air + fuel
    share = e["share0"] + e["share1"] * (1 - 0.66)
    cyl = amb + share * heat / (m * e["cp_gas"])
    c_gas = m * e["cp_gas"] + sec * e["cp_air"]
    mixed = (m * e["cp_gas"] * cyl + sec * e["cp_air"] * amb) / c_gas
    left = fuel - burnt + e["unburned0"] * burnt
    oxygen = (sec + e["unburned0"] * burnt * 14.6) / 14.6  # as the fuel that it can burn
    burn = min(left * e["oxidise_max"] / (1 + math.exp(-(mixed - e["oxidise_k"]) / e["oxidise_width_k"])), e["mix_share"] * oxygen)
    left, oxygen = left - burn, oxygen - burn
    gas = mixed + burn * g["heating_value"] / c_gas
    flow = m + sec
    scale = (flow / e["ref_kg_s"]) ** 0.7
    d = np.zeros_like(y)
    for i, (wall, ha, loss, cap) in enumerate(((man, e["man_ha_w_k"], e["man_loss_w_k"], e["man_j_k"]), (pipe, e["pipe_ha_w_k"], e["pipe_loss_w_k"], e["pipe_j_k"]))):
        out = wall + (gas - wall) * math.exp(-ha * scale / c_gas)
        d[i] = (c_gas * (gas - out) - loss * (wall - amb)) / cap
        gas = out
    total = 0.0
    for i in range(n):
        k = math.log(2) / n * c["ref_kg_s"] / flow * math.exp(-c["ea_over_r_k"] * (1 / cat[i] - 1 / c["t50_k"]))
        total += k
        burn = min(left * (1 - math.exp(-k)), max(oxygen, 0.0))
        left, oxygen = left - burn, oxygen - burn
        out = cat[i] + (gas - cat[i]) * math.exp(-c["ha_w_k"] / n / c_gas)
        q = c_gas * (gas - out) + burn * g["heating_value"] - c["loss_w_k"] / n * (cat[i] - amb)
        if i > 0:
            q += c["axial_w_k"] * (cat[i - 1] - cat[i])
        if i < n - 1:
            q += c["axial_w_k"] * (cat[i + 1] - cat[i])
        d[2 + i] = q / (c["heat_j_k"] / n)
        gas = out
    return d, 1 - math.exp(-total)


print("# Exhaust of car A after a cold start with prescribed flows: temperatures of manifold, pipe and bed, and light-off (half converted).")
print("# Source: these equations solved by SciPy (Radau, 1e-8) in exhaust.py. Made by: " + __doc__.strip().splitlines()[-1].strip())
print("case,time_s,manifold_C,pipe_C,front_C,middle_C,rear_C,light_off_s")
for name, second in (("air", 15.7), ("none", 0.0)):
    def lit(t, y):
        return rates(t, y, second)[1] - 0.5

    got = solve_ivp(lambda t, y: rates(t, y, second)[0], (0, TIMES[-1]), [amb] * (n + 2), method="Radau", t_eval=TIMES, rtol=1e-8, atol=1e-6, max_step=0.5, events=lit)
    at = got.t_events[0][0] if len(got.t_events[0]) else float("nan")
    for k, t in enumerate(got.t):
        y = got.y[:, k] - 273.15
        print(f"{name},{t:g},{y[0]:.3f},{y[1]:.3f},{y[2]:.3f},{y[2 + (n - 1) // 2]:.3f},{y[-1]:.3f},{at:.3f}")
