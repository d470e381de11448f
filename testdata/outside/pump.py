"""The air pump of car A spinning up on the battery, engine off, in an actuator test: circuit, motor, winding, air path, as ordinary
differential equations for SciPy's Radau solver. The circuit is written as the loop that it is, not as a nodal matrix.

    python3 testdata/outside/pump.py testdata/outside/car_a.json > testdata/outside/pump.csv
"""
import math

import numpy as np
from scipy.integrate import solve_ivp

from physics import R, orifice, read_car

car = read_car()
vol, amb, t0 = car["volumes"], car["ambient_pa"], car["ambient_k"]
AWG12, AWG20 = 5.2106e-3, 33.308e-3  # ohm/m at 20 degC, ASTM B258
ALPHA = 0.00393
TIMES = [0.05, 0.1, 0.2, 0.3, 0.5, 0.7, 1.0, 1.9, 2.0, 4.0]


def current(p, case, w, wound):
    """Battery, loads and the pump's loop, engine off. Linear in the bus voltage but for the brushes."""
    wire = 1 + ALPHA * (t0 - 293.15)
    r_batt = p["battery.discharge_ohm"] * (1 + max(0.0, (298.15 - t0) / 43))
    ra = p["pump_motor.ra_ohm"] * (1 + ALPHA * (wound - 293.15))
    feed = (p["c_fuse40.ohm"] + p["fuse40.ohm"] + p["c_relay30.ohm"] + 2 * p["pump_relay_socket.ohm"] + p["pump_relay.contact_ohm"]
            + p["w_feed.length_m"] * AWG12 * wire + p["w_feed.add_ohm"])
    ground = p["w_gnd.length_m"] * AWG12 * wire + p["w_gnd.add_ohm"] + p["j_gnd.ohm"]
    plug = p["pump_plug.ohm"]
    coil = (p["w_coil_feed.length_m"] + p["w_coil_drv.length_m"]) * AWG20 * wire + 2 * p["pump_relay_socket.ohm"] + p["pump_relay.coil_ohm"] + p["drv_relay.on_ohm"]
    sol = ((p["w_sol_feed.length_m"] + p["w_sol_drv.length_m"]) * AWG20 * wire + p["fuse15.ohm"] + 2 * p["sol_plug.ohm"] + p["sol_coil.ohm"]
           + p["drv_sol.on_ohm"] + p["pump_relay_out.ohm"])
    emf = p["pump_motor.ke_v_s"] * w
    # Unknowns: bus, body (V against battery minus), main relay output, motor, relay coil and solenoid currents.
    a, b = np.zeros((6, 6)), np.zeros(6)
    base = p["ecm_load.amps"] + p["fuel_pump_load.amps"]
    back = [3, 4, 5] if case["solenoid"] else [3, 4]
    a[0, 0] = 1
    a[0, back] = r_batt
    b[0] = p["battery.emf_v"] - r_batt * base
    a[1, 1] = 1
    a[1, back] = -p["g_body.ohm"]
    b[1] = p["g_body.ohm"] * base
    a[2, 0], a[2, 2] = -1, 1
    a[2, back[1:]] = p["main_relay.ohm"]
    b[2] = -p["main_relay.ohm"] * base
    a[3, 0], a[3, 1], a[3, 3] = 1, -1, -(feed + ground + 2 * plug + ra)
    b[3] = emf + p["pump_motor.brush_v"]
    a[4, 2], a[4, 1], a[4, 4] = 1, -1, -coil
    if case["solenoid"]:
        a[5, 2], a[5, 1], a[5, 5] = 1, -1, -sol
        b[5] = p["pump_relay_out.ohm"] * p["fuel_pump_load.amps"]  # the fuel pump hangs on the same relay
    else:
        a[5, 5] = 1
    x = np.linalg.solve(a, b)
    amps = max(x[3], 0.0)
    return amps, ra, {"bus": x[0], "plug": x[0] - x[1] - amps * (feed + ground), "feed": amps * feed, "ground": x[1] + amps * ground,
                      "contact": amps * (p["pump_relay.contact_ohm"] + 2 * p["pump_relay_socket.ohm"])}


def flows(p, case, y):
    w, box, inlet, scroll, pipe, gallery, warmth = y[0], y[1], y[2], y[3], y[4], y[5], y[7]
    hot = t0 + 30 * warmth
    free = p["air_pump.free_m3_s"] * (1 - 0.5 * p["air_pump.wear"])
    head = p["air_pump.head_pa"] * (1 - p["air_pump.wear"])
    w0 = p["air_pump.w0_rad_s"]
    q = free * w / w0 - free / head * (scroll - inlet) * w0 / math.sqrt(w * w + p["air_pump.w_reg_rad_s"] ** 2)
    pumped = inlet / (R * t0) * q
    if case["inlet_off"]:
        m_in, m_box = orifice(3.17e-4, amb, inlet, t0, t0), 0.0
    else:
        m_in = orifice(p["airbox_stub.cda_m2"], box, inlet, t0, t0)
        m_box = orifice(p["filter.cda_m2"], amb, box, t0, t0)
    m_pipe = orifice(p["pump_outlet.cda_m2"] * (1 - p["pressure_pipe.clog"]), scroll, pipe, hot, hot)
    m_valve = 0.0
    if case["solenoid"]:
        av, ar = p["air_valve.area_m2"] * p["air_valve.cd"], p["air_valve.reed_cda_m2"]
        x = (pipe - gallery - p["air_valve.reed_crack_pa"]) / p["air_valve.reed_crack_pa"]
        opened = 0.0 if x <= 0 else 1.0 if x >= 1 else x * x * (3 - 2 * x)
        m_valve = opened * orifice(av * ar / math.hypot(av, ar), pipe, gallery, hot, hot) if opened else 0.0
    # The tailpipe's pressure is that of the pumped air alone.
    def port(m):
        return amb + car["exhaust_back"] * m * m
    m_pass = 0.0
    for _ in range(30):
        m_pass = 0.5 * (m_pass + orifice(p["passages.cda_m2"] * (1 - p["passages.clog"]), gallery, port(m_pass), hot, hot))
    return pumped, m_in, m_box, m_pipe, m_valve, m_pass, hot


def rhs(case):
    p = case["params"]

    def f(_, y):
        w, wound = y[0], y[6]
        amps, ra, _ = current(p, case, w, wound)
        pumped, m_in, m_box, m_pipe, m_valve, m_pass, hot = flows(p, case, y)
        x = w / p["air_pump.w0_rad_s"]
        share = min(max(pumped / (amb / (R * t0)) / (p["air_pump.free_m3_s"] * max(x, 1e-6)), 0.0), 1.0)
        air = x * x * (p["air_pump.torque0_nm"] + p["air_pump.torque1_nm"] * (1 - share))
        drive = p["pump_motor.ke_v_s"] * amps
        drag = p["pump_motor.bearing_nm"] + p["pump_motor.cv_nms"] * w + air
        return [
            (drive - drag) / p["pump_motor.j_kgm2"] if w > 0 or drive > drag else 0.0,
            R * t0 / vol["airbox"] * (m_box - (0.0 if case["inlet_off"] else m_in)),
            R * t0 / vol["inlet_hose"] * (m_in - pumped),
            R * hot / vol["scroll"] * (pumped - m_pipe),
            R * hot / vol["pressure_pipe"] * (m_pipe - m_valve),
            R * hot / vol["gallery"] * (m_valve - m_pass),
            (amps * amps * ra - p["pump_motor.cool_w_k"] * (wound - t0)) / p["pump_motor.heat_j_k"],
            (min(1.0, x) - y[7]) / 3,
        ]

    return f


print("# The air pump of car A in an actuator test, engine off, battery full, from the moment that the relay's contact closes.")
print("# Source: these equations solved by SciPy (Radau, 1e-7) in pump.py. Made by: " + __doc__.strip().splitlines()[-1].strip())
print("case,time_s,speed_rad_s,current_A,bus_V,plug_V,feed_V,ground_V,contact_V,pipe_kPa,flow_kg_h")
for case in car["cases"]:
    y = [0.0, amb, amb, amb, amb, amb, t0, 0.0]
    got = solve_ivp(rhs(case), (0, TIMES[-1]), y, method="Radau", t_eval=TIMES, rtol=1e-7,
                    atol=[1e-4, 1e-2, 1e-2, 1e-2, 1e-2, 1e-2, 1e-5, 1e-7], max_step=0.02)
    peak, _, at = current(case["params"], case, 0.0, t0)
    rows = [(0.0, np.array(y))] + list(zip(got.t, got.y.T))
    for at, s in rows:
        amps, _, v = current(case["params"], case, s[0], s[6])
        flow = flows(case["params"], case, s)[5] * 3600
        print(f"{case['name']},{at:g},{s[0]:.3f},{amps:.4f},{v['bus']:.5f},{v['plug']:.5f},{v['feed']:.5f},{v['ground']:.5f},{v['contact']:.5f},"
              f"{(s[3] - amb) / 1000:.4f},{flow:.4f}")
