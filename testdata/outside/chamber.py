"""The diaphragm chamber of car A filled with vacuum from its reservoir through the energised solenoid, and vented again, as ordinary
differential equations for SciPy's Radau solver.

    python3 testdata/outside/chamber.py testdata/outside/car_a.json > testdata/outside/chamber.csv
"""
import numpy as np
from scipy.integrate import solve_ivp

from physics import R, orifice, read_car

car = read_car()
p, vol = car["params"], car["volumes"]
amb, t = car["ambient_pa"], car["ambient_k"]
START = car["reservoir_pa"]
TIMES = [0.02, 0.05, 0.1, 0.2, 0.3, 0.5, 1.0, 2.0]


def rhs(open_to_supply):
    def f(_, y):
        res, line2, line3, content, lift = y[0], y[1], y[2], y[3], y[4]
        area = p["air_valve.dia_m2"]
        ch = content / (vol["chamber"] - area * lift)
        m_res = orifice(p["res_out.cda_m2"], res, line2, t, t)
        creep = orifice(p["reservoir_creep.cda_m2"], amb, res, t, t)
        main = orifice(p["solenoid.cda_m2"], line2, line3, t, t) if open_to_supply else 0.0
        vent = 0.0 if open_to_supply else orifice(p["solenoid.vent_cda_m2"], line3, amb, t, t)
        m_ch = orifice(p["valve_nipple.cda_m2"], ch, line3, t, t)
        span = p["air_valve.lift1_pa"] - p["air_valve.lift0_pa"]
        goal = p["air_valve.lift_m"] * min(max((amb - ch - p["air_valve.lift0_pa"]) / span, 0.0), 1.0)
        return [
            R * t / vol["reservoir"] * (creep - m_res),
            R * t / vol["line_supply"] * (m_res - main),
            R * t / vol["line_valve"] * (m_ch + main - vent),
            -R * t * m_ch,
            (goal - lift) / p["air_valve.tau_s"],
        ]

    return f


def run(case, y, supply):
    got = solve_ivp(rhs(supply), (0, TIMES[-1]), y, method="Radau", t_eval=TIMES, rtol=1e-8, atol=[1e-3, 1e-3, 1e-3, 1e-8, 1e-9], max_step=0.01)
    for k, at in enumerate(got.t):
        res, _, _, content, lift = got.y[:, k]
        ch = content / (vol["chamber"] - p["air_valve.dia_m2"] * lift)
        print(f"{case},{at:g},{(amb - ch) / 1000:.4f},{lift * 1000:.4f},{(amb - res) / 1000:.4f}")
    return got.y[:, -1]


print("# Chamber of car A: vacuum and lift after the solenoid is energised with a charged reservoir (fill), and after it is let go (vent).")
print("# Source: these equations solved by SciPy (Radau, 1e-8) in chamber.py. Made by: " + __doc__.strip().splitlines()[-1].strip())
print("case,time_s,chamber_kPa,lift_mm,reservoir_kPa")
end = run("fill", [START, START, amb, amb * vol["chamber"], 0.0], True)
run("vent", end, False)
