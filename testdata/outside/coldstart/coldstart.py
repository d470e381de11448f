"""A cold start of training car A as one system of ordinary differential equations, for SciPy's LSODA. The equations, the car's numbers
and the instants of switching are those of coldstart.c beside it, which says more about them; the controller is continuous.

    /usr/bin/python3 coldstart.py car_a.txt trace 1e-5 > lsoda.csv    the readings
    /usr/bin/python3 coldstart.py car_a.txt time 1e-5 3               seconds that each of three solutions took
    /usr/bin/python3 coldstart.py car_a.txt air 1e-5 > air.csv        light-off with and without the pump, and what moves the latter
"""
import math
import sys
import time
from math import exp, log, sqrt

import numpy as np
from scipy.integrate import solve_ivp

T_FIRE, T_START, T_RELEASE, T_AIR, T_METER, T_AIR_END, T_HEAT_END, T_CLOSED, T_END = 1.0, 1.1, 1.2, 2.1, 3.0, 82.0, 91.1, 100.8, 122.0
(ROTOR, WINDING, WARMTH, FIELD, CHARGE, MANIFOLD, RESERVOIR, CONTENT, AIRBOX, SCROLL, GALLERY, LINE_MAN, LINE_CHECK, LINE_SUPPLY, LINE_VALVE, INLET,
 PIPE, LIFT, CRANK, GOVERNOR, SPARK, COOLANT, BLOCK, METERED, SHORT, LONG, EX_MAN, EX_PIPE, RELAY_K, SOL_K, TAPER, CELL) = range(32)
SEEN, SENSOR, STATES = CELL + 10, CELL + 11, CELL + 12
R = 287.05
CRITICAL = 0.528281787717174


class Numbers:
    def __init__(self, file):
        with open(file, encoding="utf-8") as f:
            for line in f:
                if not line.startswith("#"):
                    name, value = line.split()
                    setattr(self, name, float(value))


def orifice(cda, p0, p1, k0, k1, laminar=30.0):
    """kg/s from p0 to p1; k0 and k1 are 1/sqrt(R T) on either side; straight below about the laminar difference in Pa."""
    if p0 < p1:
        return -orifice(cda, p1, p0, k1, k0, laminar)
    u = (p0 - p1) / p0
    if u >= 1 - CRITICAL:
        return cda * k0 * p0 * 0.6847314563772704
    g = math.sqrt(2)
    if u >= 1e-6:
        a = log(1 - u)
        g = sqrt(7 * (exp(a * (2 / 1.4)) - exp(a * (2.4 / 1.4))) / u)
    low = laminar / p0
    return cda * k0 * p0 * g * u / sqrt(sqrt(u * u + low * low))


def one_way(cda, crack, p0, p1, k0, k1):
    x = (p0 - p1 - crack) / crack
    if x <= 0:
        return 0.0
    m = orifice(cda, p0, p1, k0, k1)
    return m * x * x * (3 - 2 * x) if x < 1 else m


def clamp(x, lo, hi):
    return lo if x < lo else hi if x > hi else x


def rest_volts(full, charge):
    below = (0.76, 0.59, 0.41, 0.20, 0)
    i = min(int(charge * 4), 3)
    return full - below[i] + (below[i] - below[i + 1]) * (charge * 4 - i)


class World:
    def __init__(self, c):
        self.c = c
        self.fire = self.started = self.pump = self.sol = self.by_meter = self.heating = self.closed = False
        self.crank = self.stopped = True
        self.start_k, self.air_s = 0.0, 15.0
        self.amps = self.bus = self.plug = self.coil = self.solenoid = self.flow = self.rate = 0.0
        self.evals = 0

    def circuit(self, y):
        """Currents of battery and charging source; every other one is a straight line of the voltage between bus and body."""
        c = self.c
        wound, rotor, field, charge = y[WINDING], y[ROTOR], y[FIELD], y[CHARGE]
        coil, solenoid = c.coil_ohm + c.coil_cu * 0.00393 * (y[RELAY_K] - 293.15), c.sol_ohm + c.sol_cu * 0.00393 * (y[SOL_K] - 293.15)
        rc, ec = (coil + c.coil_on, 0.0) if self.pump else (coil + 47000, 2.5)
        rs, es = (solenoid + c.sol_on, 0.0) if self.sol else (solenoid + 47000, 2.5)
        ign = c.ignition_a if self.started else 0.0
        starter = c.starter_a if self.crank else 0.0
        c0 = c.ecm_a + ign + c.fuel_a
        a, b, d = rc + c.main_ohm, c.main_ohm, rs + c.main_ohm + c.fuel_ohm
        det = a * d - b * b
        f1, f2 = -c.main_ohm * c0 - ec, -c.main_ohm * c0 - c.fuel_ohm * c.fuel_a - es
        s0, s1 = (d * f1 - b * f2 + a * f2 - b * f1) / det, (d - b + a - b) / det
        ra = c.ra * (1 + 0.00393 * (wound - 293.15))
        rm, emf = c.feed_ohm + c.ground_ohm + 2 * c.plug_ohm + ra, c.ke * rotor
        fixed, chg = rest_volts(c.batt_emf, charge), c.batt_chg / (1 - 0.85 * y[TAPER])
        alt_e, alt_r, lift = c.alt_emf * field, c.alt_ohm + c.g_engine, c.g_engine * (ign + starter)
        for piece in range(2 if self.pump else 1):
            m0 = m1 = 0.0
            if self.pump:
                r, e = (rm + c.brush, emf) if piece else (rm, emf + c.brush)
                m0, m1 = -e / r, 1 / r
            b0, b1 = c.g_body * (c.ecm_a + c.fuel_a + s0 + m0), 1 + c.g_body * (s1 + m1)
            out0, out1 = c0 + starter + s0 + m0, s1 + m1
            rb, alt = (chg if alt_e > fixed else c.batt_dis), (1 if alt_e > 0 else 0)
            for _ in range(6):
                g, k0 = 1 / rb, fixed / rb - out0
                if alt == 1:
                    g, k0 = g + 1 / alt_r, k0 + (alt_e + lift) / alt_r
                elif alt == 2:
                    k0 += c.alt_limit
                u = (k0 - g * b0) / (g * b1 + out1)
                bus = b0 + b1 * u
                ialt = (alt_e + lift - bus) / alt_r if alt == 1 else c.alt_limit if alt == 2 else 0.0
                ibatt = (fixed - bus) / rb
                want = chg if ibatt < 0 else c.batt_dis
                nxt = alt
                if alt == 1:
                    nxt = 0 if ialt < 0 else 2 if ialt > c.alt_limit else 1
                elif (alt_e + lift - bus < c.alt_limit * alt_r) if alt == 2 else alt_e + lift > bus:
                    nxt = 1
                if want == rb and nxt == alt:
                    break
                rb, alt = want, nxt
            amps = m0 + m1 * u
            if abs(amps) > 1 or not self.pump:
                break
        self.amps, self.bus = amps, bus
        self.coil, self.solenoid = (d * (u + f1) - b * (u + f2)) / det, (a * (u + f2) - b * (u + f1)) / det
        self.plug = amps * (ra + 2 * c.plug_ohm) + emf + (clamp(amps * c.brush, -c.brush, c.brush) if self.pump else 0.0)
        return ibatt, ialt

    def fuelling(self, run, air, trim):
        c = self.c
        if not self.fire:
            return 0.0
        rich = clamp((330 - self.start_k) / (330 - 293.15), 0, 1.3)
        end, begin, span = 1 - rich * (1 - c.mix_end), 1 - rich * (1 - c.mix_start), self.air_s if self.started else 15.0
        ratio = 1.0
        if run < span:
            ratio = begin + (end - begin) * run / span
        elif run < span + c.tail_s:
            ratio = end + (1 - end) * (run - span) / c.tail_s
        return air / (c.afr * ratio) * (1 + trim)

    def rhs(self, t, yv):
        self.evals += 1
        c, y = self.c, yv.tolist()
        d = [0.0] * STATES
        amb, tk, rotor, crank = c.ambient_pa, c.ambient_k, y[ROTOR], y[CRANK]
        run = t - T_START + 0.05 if self.started else 0.0
        warm, warm60 = clamp((y[COOLANT] - 293.15) / 70, 0, 1), clamp((y[COOLANT] - 293.15) / 60, 0, 1)
        charge_k = tk + c.charge_cold - 293.15 + c.charge_rise * warm
        ka, kh, km = 1 / sqrt(R * tk), 1 / sqrt(R * (tk + c.warm_k * y[WARMTH])), 1 / sqrt(R * charge_k)
        density = amb * ka * ka
        ibatt, ialt = self.circuit(y)
        amps, x = self.amps, rotor / c.w0
        q = c.free_flow * x - c.free_flow / c.head * c.w0 / sqrt(rotor * rotor + c.w_reg * c.w_reg) * (y[SCROLL] - y[INLET])
        pumped = y[INLET] * ka * ka * q
        load = x * x * (c.torque0 + c.torque1 * (1 - clamp(pumped / density / (c.free_flow * x), 0, 1))) if x > 0 else 0.0
        drive, drag = c.ke * amps, c.bearing + c.cv * rotor + load
        d[ROTOR] = 0.0 if self.stopped or (rotor <= 0 and drive <= c.bearing) else (drive - drag) / c.rotor_j
        d[WINDING] = (amps * amps * c.ra * (1 + 0.00393 * (y[WINDING] - 293.15)) - c.wind_cool * (y[WINDING] - tk)) / c.wind_heat
        d[WARMTH] = (min(x, 1.0) - y[WARMTH]) / 3
        d[FIELD] = ((1.0 if self.started else 0.0) - y[FIELD]) / c.alt_lag
        d[CHARGE] = -ibatt / (c.batt_ah * 3600)
        if d[CHARGE] > 0 and y[CHARGE] >= 1:
            d[CHARGE] = 0.0
        d[TAPER] = (clamp((y[CHARGE] - 0.8) / 0.2, 0, 1) - y[TAPER]) / c.batt_taper if ibatt < 0 else -y[TAPER] / 60
        d[RELAY_K] = (self.coil**2 * c.coil_cu * (1 + 0.00393 * (y[RELAY_K] - 293.15)) - c.coil_cool * (y[RELAY_K] - tk)) / c.coil_heat
        d[SOL_K] = (self.solenoid**2 * c.sol_cu * (1 + 0.00393 * (y[SOL_K] - 293.15)) - c.sol_cool * (y[SOL_K] - tk)) / c.sol_heat
        target = (c.idle_cold + (c.idle_warm - c.idle_cold) * warm60) * (math.pi / 30)
        err, integral = (target - crank, y[GOVERNOR]) if self.fire else (0.0, 0.0)
        area = clamp(c.ff_cold + (c.ff_warm - c.ff_cold) * warm60 + integral + c.kp * err, c.area_min, c.area_max)
        d[GOVERNOR] = c.ki * err if self.fire and crank > 40 else 0.0
        swept = c.displacement * max(crank, 0.0) * (30 / math.pi) / (120 * 287.05 * charge_k)
        taken = swept * (c.ve_slope * y[MANIFOLD] - c.ve_offset)
        cyl = max(taken, 0.0)
        chamber = y[CONTENT] / (c.v_chamber - c.dia * y[LIFT])
        lam = c.nipple_laminar
        throttle = orifice(area, amb, y[MANIFOLD], ka, km)
        nipple = orifice(c.a_man_nipple, y[MANIFOLD], y[LINE_MAN], km, ka, lam)
        check = one_way(c.a_check, c.check_crack, y[LINE_CHECK], y[LINE_MAN], ka, ka)
        res_in = orifice(c.a_res_in, y[RESERVOIR], y[LINE_CHECK], ka, ka, lam)
        res_out = orifice(c.a_res_out, y[RESERVOIR], y[LINE_SUPPLY], ka, ka, lam)
        creep = orifice(c.a_creep, y[RESERVOIR], amb, ka, ka)
        tear = orifice(c.a_tear, chamber, amb, ka, ka)
        valve_line = orifice(c.a_valve_nipple, chamber, y[LINE_VALVE], ka, ka, lam)
        main_way = orifice(c.a_sol, y[LINE_SUPPLY], y[LINE_VALVE], ka, ka) if self.sol else 0.0
        vent = 0.0 if self.sol else orifice(c.a_vent, y[LINE_VALVE], amb, ka, ka)
        filt = orifice(c.a_filter, amb, y[AIRBOX], ka, ka)
        stub = orifice(c.a_stub, y[AIRBOX], y[INLET], ka, ka)
        outlet = orifice(c.a_outlet, y[SCROLL], y[PIPE], kh, kh)
        seat, valve = c.seat * y[LIFT] / c.lift_m, 0.0
        if seat > 0:
            valve = one_way(seat * c.a_reed / sqrt(seat * seat + c.a_reed * c.a_reed), c.reed_crack, y[PIPE], y[GALLERY], kh, kh)
        fuel = self.fuelling(run, y[METERED] if self.by_meter else cyl, y[SHORT] + y[LONG])
        d[METERED] = (throttle - y[METERED]) / 0.2
        if self.closed:
            d[LONG] = c.long_rate * y[SHORT]
            d[SHORT] = c.trim_rate * clamp((y[SEEN] - 1) / c.trim_soft, -1, 1) - d[LONG]
        m = fuel if crank < 1 else cyl + fuel
        kx = 1 / sqrt(R * max(tk, y[EX_MAN]))
        second = orifice(c.a_passages, y[GALLERY], amb + c.back * m * m, kh, kx)
        s0, r0 = 0.0, second
        for _ in range(20):
            total = m + max(second, 0.0)
            r = orifice(c.a_passages, y[GALLERY], amb + c.back * total * total, kh, kx) - second
            if abs(r) < 1e-13:
                break
            nxt = second - r * (second - s0) / (r - r0)
            s0, r0, second = second, r, nxt
        more = max(second, 0.0)
        flow = m + more
        self.flow = second
        ra2, rh2 = 1 / (ka * ka), 1 / (kh * kh)
        d[MANIFOLD] = (throttle - taken - nipple) / (km * km) / c.v_manifold
        d[LINE_MAN] = (nipple + check) * ra2 / c.v_line_manifold
        d[LINE_CHECK] = (res_in - check) * ra2 / c.v_line_check
        d[RESERVOIR] = -(res_in + res_out + creep) * ra2 / c.v_reservoir
        d[LINE_SUPPLY] = (res_out - main_way) * ra2 / c.v_line_supply
        d[LINE_VALVE] = (valve_line + main_way - vent) * ra2 / c.v_line_valve
        d[CONTENT] = -(valve_line + tear) * ra2
        d[LIFT] = (c.lift_m * clamp((amb - chamber - c.lift0) / (c.lift1 - c.lift0), 0, 1) - y[LIFT]) / c.lift_tau
        d[AIRBOX] = (filt - stub) * ra2 / c.v_airbox
        d[INLET] = (stub - pumped) * ra2 / c.v_inlet
        d[SCROLL] = (pumped - outlet) * rh2 / c.v_scroll
        d[PIPE] = (outlet - valve) * rh2 / c.v_pipe
        d[GALLERY] = (valve - second) * rh2 / c.v_gallery
        per, burnt, torque = c.displacement / (4 * math.pi), 0.0, 0.0
        if self.fire:
            burnt = min(fuel, cyl / c.afr)
            torque = c.eta * clamp(y[SPARK] + c.spark_slope * (target - crank), 0.3, 1) * c.hv * burnt / max(crank, 15.0)
        if self.crank:
            torque += max(0.0, c.starter_nm * (self.bus / 12 - crank / c.starter_rad))
        torque -= (amb - y[MANIFOLD]) * per + (c.fmep0 + c.fmep1 * crank) * (1 + c.fmep_cold * (1 - warm)) * per
        if crank > 5:
            torque -= ialt * self.bus / c.alt_eta / crank
        d[CRANK] = 0.0 if crank <= 0 and torque < 0 else torque / c.inertia
        d[SPARK] = ((c.spark_heat if self.heating else c.spark_idle) - y[SPARK]) / c.spark_tau
        d[SENSOR] = ((c.sensor_final if self.started else tk) - y[SENSOR]) / c.sensor_tau
        heat, n, self.rate = 0.0, int(c.cells), 0.0
        if m < 1e-5:
            d[SEEN] = (4 - y[SEEN]) / c.lag_s if more > 1e-5 else 0.0
            d[EX_MAN] = -c.man_loss * (y[EX_MAN] - tk) / c.man_jk
            d[EX_PIPE] = -c.pipe_loss * (y[EX_PIPE] - tk) / c.pipe_jk
            for i in range(n):
                d[CELL + i] = -c.cat_loss * (y[CELL + i] - tk) / c.cat_jk
        else:
            qf, share = burnt * c.hv, c.share0 + c.share1 * (1 - y[SPARK])
            heat = c.cool_share * qf * max(0.0, 1 - c.eta * y[SPARK] - share)
            cyl_k = tk + share * qf / (m * c.cp_gas)
            left = max(fuel - burnt, 0.0) + c.unburned0 * burnt
            spare = more + c.unburned0 * burnt * c.afr + max(0.0, cyl - burnt * c.afr)
            cg = m * c.cp_gas + more * c.cp_air
            mix = (m * c.cp_gas * cyl_k + more * c.cp_air * tk) / cg
            burn = min(left * c.ox_max / (1 + exp(-(mix - c.ox_k) / c.ox_width)), c.mix_share * spare / c.afr)
            left, spare = left - burn, spare - burn * c.afr
            gas, scale = mix + burn * c.hv / cg, exp(0.7 * log(flow / c.ex_ref))
            out = y[EX_MAN] + (gas - y[EX_MAN]) * exp(-c.man_ha * scale / cg)
            d[EX_MAN] = (cg * (gas - out) - c.man_loss * (y[EX_MAN] - tk)) / c.man_jk
            gas = out
            out = y[EX_PIPE] + (gas - y[EX_PIPE]) * exp(-c.pipe_ha * scale / cg)
            d[EX_PIPE] = (cg * (gas - out) - c.pipe_loss * (y[EX_PIPE] - tk)) / c.pipe_jk
            gas = out
            keeps, rate = exp(-c.cat_ha / n / cg), 0.6931471805599453 / n * c.cat_ref / flow
            self.rate = rate
            for i in range(n):
                cell = y[CELL + i]
                k = rate * exp(-c.ea_r * (1 / cell - 1 / c.t50))
                burn = min(left * (1 - exp(-k)), max(spare, 0.0) / c.afr)
                left, spare = left - burn, spare - burn * c.afr
                out = cell + (gas - cell) * keeps
                heated = cg * (gas - out) + burn * c.hv - c.cat_loss / n * (cell - tk)
                if i > 0:
                    heated += c.cat_axial * (y[CELL + i - 1] - cell)
                if i < n - 1:
                    heated += c.cat_axial * (y[CELL + i + 1] - cell)
                d[CELL + i] = heated * n / c.cat_jk
                gas = out
            ratio = min((cyl + more) / (c.afr * fuel), 4.0) if fuel > 0 else 4.0
            d[SEEN] = (ratio - y[SEEN]) / c.lag_s
        qc = heat - c.link * (y[COOLANT] - y[BLOCK])
        if y[COOLANT] > c.thermostat_k:
            qc -= c.radiator * min((y[COOLANT] - c.thermostat_k) / 3, 1.0) * (y[COOLANT] - tk) / 60
        d[COOLANT] = qc / c.heat_coolant
        d[BLOCK] = (c.link * (y[COOLANT] - y[BLOCK]) - c.block_loss * (y[BLOCK] - tk)) / c.heat_block
        return d

    def lit(self, _, y):
        c = self.c
        return sum(self.rate * exp(-c.ea_r * (1 / y[CELL + i] - 1 / c.t50)) for i in range(int(c.cells))) - 0.6931471805599453

    def row(self, t, y, lit):
        self.rhs(t, y)
        c, k = self.c, self.c.ambient_pa
        print(f"{t:.1f},{y[CRANK] * 30 / math.pi:.5f},{(k - y[MANIFOLD]) / 1000:.7f},{(k - y[RESERVOIR]) / 1000:.7f},"
              f"{(k - y[CONTENT] / (c.v_chamber - c.dia * y[LIFT])) / 1000:.6f},{y[LIFT] * 1000:.6f},{self.amps:.7f},{self.plug:.7f},{y[ROTOR]:.6f},"
              f"{self.bus:.7f},{self.flow * 3600:.7f},{(y[PIPE] - k) / 1000:.6f},{y[COOLANT] - 273.15:.6f},{y[EX_MAN] - 273.15:.6f},"
              f"{y[CELL] - 273.15:.6f},{y[CELL + 9] - 273.15:.6f},{y[SEEN]:.7f},{y[SHORT]:.8f},{lit:.5f}")


def kept(t):
    return t < 4.99 or 81.05 < t < 84.99 or abs(t - round(t)) < 1e-6


def solve(c, rtol, show, exact=False):
    """One cold start; the states are asked for only where they are shown. With exact, the search for light-off evaluates the flow anew."""
    w = World(c)
    y, atol = np.zeros(STATES), np.full(STATES, rtol)
    y[MANIFOLD:PIPE + 1] = c.ambient_pa
    atol[MANIFOLD:PIPE + 1] = rtol * 1e4
    y[CONTENT] *= c.v_chamber
    atol[CONTENT] = rtol * 1e4 * c.v_chamber
    atol[[ROTOR, CRANK]] = rtol * 10
    atol[LIFT], atol[GOVERNOR], atol[METERED] = rtol * c.lift_m, rtol * 1e-5, rtol * 1e-2
    atol[[SHORT, LONG]] = rtol * 0.1
    y[[WINDING, COOLANT, BLOCK, EX_MAN, EX_PIPE, RELAY_K, SOL_K, SENSOR]] = c.ambient_k
    y[CELL:CELL + 10] = c.ambient_k
    y[CHARGE], y[SPARK], y[SEEN] = 1.0, c.spark_idle, 1.0
    t, lit = 0.0, 0.0

    def conversion(at, state):
        if exact:
            w.rhs(at, state)
        return w.lit(at, state)

    def standing(_, state):
        return state[ROTOR] - 1e-9

    standing.terminal, standing.direction = True, -1
    for k, end in enumerate((T_FIRE, T_START, T_RELEASE, T_AIR, T_METER, T_AIR_END, T_HEAT_END, T_CLOSED, T_END)):
        while t < end - 1e-9:
            events = [conversion]
            if not w.stopped and not w.pump:
                events.append(standing)
            times = None
            if show:
                times = [x / 10 for x in range(1, 1221) if t + 1e-9 < x / 10 <= end + 1e-9 and kept(x / 10)]
                times = [min(x, end) for x in times]
                if not times or times[-1] < end:
                    times.append(end)
            got = solve_ivp(w.rhs, (t, end), y, method="LSODA", rtol=rtol, atol=atol, events=events, t_eval=times)
            if not got.success:
                raise SystemExit("the solver gives up: " + got.message)
            if lit == 0 and w.started and len(got.t_events[0]):
                lit = float(got.t_events[0][0]) - T_START
            if show:
                for at, state in zip(got.t, got.y.T):
                    if kept(at) and abs(at * 10 - round(at * 10)) < 1e-6:
                        w.row(at, state, lit if lit and at - T_START >= lit else 0.0)
            if got.status == 1:
                t, y = float(got.t_events[1][0]), got.y_events[1][0].copy()
                w.stopped, y[ROTOR] = True, 0.0
            else:
                t, y = end, got.y[:, -1].copy()
        if k == 0:
            w.fire = True
        elif k == 1:
            w.started = w.heating = True
            w.start_k = float(y[COOLANT])
            w.air_s = c.run_s1 + (c.run_s2 - c.run_s1) * clamp((w.start_k - c.run_k1) / (c.run_k2 - c.run_k1), 0, 1)
        elif k == 2:
            w.crank = False
        elif k == 3:
            w.pump, w.sol, w.stopped = True, True, False
        elif k == 4:
            w.by_meter = True
        elif k == 5:
            w.pump = w.sol = False
        elif k == 6:
            w.heating = False
        elif k == 7:
            w.closed = True
    return lit, w.evals


def main():
    if len(sys.argv) < 4:
        raise SystemExit("usage: coldstart.py NUMBERS trace RTOL | time RTOL SOLUTIONS")
    c, rtol = Numbers(sys.argv[1]), float(sys.argv[3])
    if sys.argv[2] == "trace":
        print(f"# The cold start of car A, 20 degC, sea level, from the turn of the key to crank: SciPy LSODA, relative tolerance {sys.argv[3]}, controller continuous.")
        print(f"# Source: the equations in coldstart.py. Made by: python3 coldstart.py car_a.txt trace {sys.argv[3]}")
        print("time_s,speed_rpm,manifold_kPa,reservoir_kPa,chamber_kPa,lift_mm,pump_A,pump_V,pump_rad_s,bus_V,air_kg_h,pipe_kPa,coolant_C,ex_manifold_C,"
              "front_C,rear_C,lambda_seen,short_trim,lit_s")
        solve(c, rtol, True)
        return
    if sys.argv[2] == "air":
        print(f"# Light-off of car A after a cold start, 20 degC, sea level, s from the start: SciPy LSODA, relative tolerance {sys.argv[3]}, controller continuous.")
        print(f"# Source: the equations in coldstart.py. Made by: python3 coldstart.py car_a.txt air {sys.argv[3]}")
        print("case,lit_s")
        for name, change in (("with_air", {}), ("without_air", {"feed_ohm": 1e9}), ("without_air_free_charging", {"feed_ohm": 1e9, "alt_eta": 1e9}),
                             ("without_air_spark_70", {"feed_ohm": 1e9, "spark_heat": 0.70})):
            car = Numbers(sys.argv[1])
            for key, value in change.items():
                setattr(car, key, value)
            print(f"{name},{solve(car, rtol, False, True)[0]:.3f}")
        return
    for _ in range(int(sys.argv[4]) if len(sys.argv) > 4 else 1):
        start = time.perf_counter()
        lit, evals = solve(c, rtol, False)
        print(f"{time.perf_counter() - start:.6f} {evals} {lit:.3f}")


main()
