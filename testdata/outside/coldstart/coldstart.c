/* A cold start of training car A as one system of ordinary differential equations, for SUNDIALS CVODE (BDF, dense Newton).
 *
 *     cc -O2 -o coldstart coldstart.c -lsundials_cvode -lsundials_nvecserial -lsundials_sunmatrixdense -lsundials_sunlinsoldense -lm
 *     ./coldstart car_a.txt trace 1e-10 exact sampled > tight.csv   the readings
 *     ./coldstart car_a.txt time 1e-4 5 0 sampled                   seconds, steps, evaluations, Jacobians, light-off of five solutions
 *
 * The equations are those that the program's own world steps, written down anew from the documents of the model: battery, charging source
 * and loads with the two switched branches and the pump motor (the network reduced by hand to one unknown), twelve pressures, the
 * diaphragm's stem, the pump's rotor, winding and warmth, the warmth of both coils, the battery's charge and how far its charging current has
 * fallen off, crankshaft and governor, spark, fuel, coolant and block, exhaust manifold, pipe and ten cells of catalyst, oxygen sensor, trims: 43 states. With "sampled" the controller measures air and computes
 * fuel ten times a second, as in the world, and the solver goes from tenth to tenth (40 states); it begins anew only where something is
 * switched. Without it that is continuous, and only the switching keeps to the tenths. Time 0 is the turn of the key to crank.
 *
 * The flow function of an orifice is read from the same table of 1024 straight pieces as in the world; with "exact" it is computed.
 */
#include <cvode/cvode.h>
#include <math.h>
#include <nvector/nvector_serial.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sundials/sundials_types.h>
#include <sunlinsol/sunlinsol_dense.h>
#include <sunmatrix/sunmatrix_dense.h>
#include <time.h>

enum { ROTOR, WINDING, WARMTH, FIELD, CHARGE, MANIFOLD, RESERVOIR, CONTENT, AIRBOX, SCROLL, GALLERY, LINE_MAN, LINE_CHECK, LINE_SUPPLY,
       LINE_VALVE, INLET, PIPE, LIFT, CRANK, GOVERNOR, SPARK, COOLANT, BLOCK, EX_MAN, EX_PIPE, RELAY_K, SOL_K, TAPER, CELL, SEEN = CELL + 10, SENSOR,
       METERED, SHORT, LONG, STATES, SAMPLED = METERED /* without what the controller keeps when it samples */ };

#define RGAS 287.05
#define UCRIT (1 - 0.528281787717174)
#define PSIMAX 0.6847314563772704
#define TABLE 1024
#define PI 3.14159265358979323846

/* The instants at which the controller switches, s. It samples every 0.1 s; the test compares them with the world's. */
#define T_FIRE 1.0      /* first combustion, 1.1 s after cranking began as it counts */
#define T_START 1.1     /* above 500 r/min */
#define T_RELEASE 1.2   /* starter let go */
#define T_AIR 2.1       /* pump and solenoid on */
#define T_METER 3.0     /* fuel follows the air meter */
#define T_AIR_END 82.0  /* pump and solenoid off */
#define T_HEAT_END 91.1 /* ignition back to its normal timing */
#define T_CLOSED 100.8  /* closed loop */
#define T_END 122.0
#ifndef RESTART
#define RESTART 300 /* a jump of fuel of so many relative tolerances lets the solver begin anew */
#endif

/* The car's numbers; the file gives them by these names, in this order. */
#define NUMBERS                                                                                                                                     \
  X(ambient_k) X(ambient_pa) X(batt_emf) X(batt_dis) X(batt_chg) X(batt_ah) X(batt_taper) X(alt_emf) X(alt_ohm) X(alt_limit) X(alt_lag) X(g_body) X(g_engine)      \
  X(starter_a) X(main_ohm) X(ecm_a) X(ignition_a) X(fuel_ohm) X(fuel_a) X(feed_ohm) X(plug_ohm) X(ground_ohm) X(ra) X(brush) X(ke) X(rotor_j)         \
  X(bearing) X(cv) X(wind_heat) X(wind_cool) X(coil_ohm) X(coil_cu) X(coil_heat) X(coil_cool) X(coil_on) X(sol_ohm) X(sol_cu) X(sol_heat) X(sol_cool) X(sol_on) X(v_manifold) X(v_reservoir) X(v_chamber) X(v_airbox)       \
  X(v_scroll) X(v_gallery) X(v_line_manifold) X(v_line_check) X(v_line_supply) X(v_line_valve) X(v_inlet) X(v_pipe) X(warm_k) X(a_man_nipple)        \
  X(a_res_in) X(a_res_out) X(a_valve_nipple) X(nipple_laminar) X(a_stub) X(a_outlet) X(a_filter) X(a_creep) X(a_tear) X(a_check) X(check_crack) X(a_sol)       \
  X(a_vent) X(w0) X(head) X(free_flow) X(torque0) X(torque1) X(w_reg) X(seat) X(a_reed) X(reed_crack) X(dia) X(lift0) X(lift1) X(lift_m) X(lift_tau)  \
  X(a_passages) X(displacement) X(ve_slope) X(ve_offset) X(charge_cold) X(charge_rise) X(hv) X(afr) X(eta) X(spark_idle) X(spark_heat) X(spark_tau)  \
  X(spark_slope) X(fmep0) X(fmep1) X(fmep_cold) X(inertia) X(starter_nm) X(starter_rad) X(alt_eta) X(area_max) X(area_min) X(ff_cold) X(ff_warm)     \
  X(kp) X(ki) X(idle_cold) X(idle_warm) X(heat_coolant) X(heat_block) X(link) X(block_loss) X(radiator) X(thermostat_k) X(mix_start) X(mix_end)      \
  X(tail_s) X(trim_max) X(trim_rate) X(trim_soft) X(long_rate) X(lag_s) X(sensor_tau) X(sensor_final) X(back) X(cp_gas) X(cp_air) X(share0)          \
  X(share1) X(cool_share) X(ox_k) X(ox_width) X(ox_max) X(mix_share) X(unburned0) X(man_jk) X(man_ha) X(man_loss) X(pipe_jk) X(pipe_ha)              \
  X(pipe_loss) X(ex_ref) X(cells) X(cat_jk) X(cat_ha) X(cat_loss) X(cat_axial) X(t50) X(ea_r) X(cat_ref) X(run_k1) X(run_s1) X(run_k2) X(run_s2)

typedef struct {
#define X(name) double name;
  NUMBERS
#undef X
} car_t;

typedef struct {
  car_t c;
  int exact, sampled;
  double held, metered, trim, learnt; /* sampled: fuel until the next tenth, air, short and long trim, kg/s */
  /* What the controller has switched in this stretch of time. */
  int fire, started, crank, pump, sol, by_meter, heating, closed, stopped;
  double start_k, air_s;
  /* Readings of the last evaluation. */
  double amps, bus, plug, coil, solenoid, flow, lambda, rate, throttle, cyl;
} world_t;

static double table[TABLE + 2];

static double smooth(double u) {
  if (u < 1e-6) return sqrt(2.0);
  double l = log1p(-u);
  return sqrt(7 * (exp(l * (2 / 1.4)) - exp(l * (2.4 / 1.4))) / u);
}

/* The flow function at u = 1 - p_down/p_up, linear below the laminar u. */
static inline double psi(const world_t *w, double u, double laminar) {
  if (!(u < UCRIT)) return PSIMAX;
  double x = u / sqrt(sqrt(u * u + laminar * laminar));
  if (w->exact) return smooth(u) * x;
  double f = u * (TABLE / UCRIT);
  int i = (int)f;
  return (table[i] + (table[i + 1] - table[i]) * (f - i)) * x;
}

/* kg/s from p0 to p1; k0 and k1 are 1/sqrt(R T) on either side. */
static inline double orifice(const world_t *w, double cda, double p0, double p1, double k0, double k1, double laminar) {
  if (p0 >= p1) return cda * k0 * p0 * psi(w, (p0 - p1) / p0, laminar / p0);
  return -cda * k1 * p1 * psi(w, (p1 - p0) / p1, laminar / p1);
}

static inline double one_way(const world_t *w, double cda, double crack, double p0, double p1, double k0, double k1) {
  double x = (p0 - p1 - crack) / crack;
  if (x <= 0) return 0;
  double m = orifice(w, cda, p0, p1, k0, k1, 30);
  return x < 1 ? m * x * x * (3 - 2 * x) : m;
}

static inline double clamp(double x, double lo, double hi) { return x < lo ? lo : x > hi ? hi : x; }

static double rest_volts(double full, double charge) {
  static const double below[] = {0.76, 0.59, 0.41, 0.20, 0};
  double x = charge * 4;
  int i = x >= 3 ? 3 : (int)x;
  return full - below[i] + (below[i] - below[i + 1]) * (x - i);
}

/* The network, loads against the body: every current is a straight line of the voltage between bus and body. */
static void circuit(world_t *w, const realtype *y, double *ibatt, double *ialt) {
  const car_t *c = &w->c;
  double wound = y[WINDING], rotor = y[ROTOR], field = y[FIELD], charge = y[CHARGE];
  double rc = c->coil_ohm + c->coil_cu * 0.00393 * (y[RELAY_K] - 293.15) + (w->pump ? c->coil_on : 47000), ec = w->pump ? 0 : 2.5;
  double rs = c->sol_ohm + c->sol_cu * 0.00393 * (y[SOL_K] - 293.15) + (w->sol ? c->sol_on : 47000), es = w->sol ? 0 : 2.5;
  double ign = w->started ? c->ignition_a : 0, starter = w->crank ? c->starter_a : 0;
  double c0 = c->ecm_a + ign + c->fuel_a;
  /* [rc+rm rm; rm rs+rm+rf] (coil, solenoid) = u - offsets */
  double a = rc + c->main_ohm, b = c->main_ohm, d = rs + c->main_ohm + c->fuel_ohm, det = a * d - b * b;
  double f1 = -c->main_ohm * c0 - ec, f2 = -c->main_ohm * c0 - c->fuel_ohm * c->fuel_a - es;
  double s0 = (d * f1 - b * f2 + a * f2 - b * f1) / det, s1 = (d - b + a - b) / det; /* coil + solenoid = s0 + s1 u */
  double ra = c->ra * (1 + 0.00393 * (wound - 293.15)), rm = c->feed_ohm + c->ground_ohm + 2 * c->plug_ohm + ra;
  double emf = c->ke * rotor, m0 = 0, m1 = 0, fixed = rest_volts(c->batt_emf, charge), chg = c->batt_chg / (1 - 0.85 * y[TAPER]);
  int pieces = w->pump ? 2 : 1;
  double u = 0, amps = 0, bus = 0;
  for (int piece = 0; piece < pieces; piece++) {
    if (w->pump) { /* brushes: their drop is built up over the first ampere */
      double r = piece ? rm + c->brush : rm, e = piece ? emf : emf + c->brush;
      m0 = -e / r, m1 = 1 / r;
    }
    /* bus = u + g_body (ecm + fuel pump + coil + solenoid + motor); out of the bus goes c0 + starter + all these */
    double b0 = c->g_body * (c->ecm_a + c->fuel_a + s0 + m0), b1 = 1 + c->g_body * (s1 + m1);
    double out0 = c0 + starter + s0 + m0, out1 = s1 + m1;
    double alt_e = c->alt_emf * field, alt_r = c->alt_ohm + c->g_engine, lift = c->g_engine * (ign + starter);
    double rb = alt_e > fixed ? chg : c->batt_dis;
    int alt = alt_e > 0 ? 1 : 0;
    for (int again = 0; again < 6; again++) {
      /* (fixed - bus)/rb + alt = out */
      double g = 1 / rb, k0 = fixed / rb - out0, k1 = -out1;
      if (alt == 1) g += 1 / alt_r, k0 += (alt_e + lift) / alt_r;
      if (alt == 2) k0 += c->alt_limit;
      u = (k0 - g * b0) / (g * b1 - k1);
      bus = b0 + b1 * u;
      *ialt = alt == 1 ? (alt_e + lift - bus) / alt_r : alt == 2 ? c->alt_limit : 0;
      *ibatt = (fixed - bus) / rb;
      double want = *ibatt < 0 ? chg : c->batt_dis;
      int next = alt;
      if (alt == 1) next = *ialt < 0 ? 0 : *ialt > c->alt_limit ? 2 : 1;
      else if (alt == 2 ? alt_e + lift - bus < c->alt_limit * alt_r : alt_e + lift > bus) next = 1;
      if (want == rb && next == alt) break;
      rb = want, alt = next;
    }
    amps = m0 + m1 * u;
    if (fabs(amps) > 1 || !w->pump) break;
  }
  w->amps = amps, w->bus = bus;
  w->coil = (d * (u + f1) - b * (u + f2)) / det, w->solenoid = (a * (u + f2) - b * (u + f1)) / det;
  w->plug = amps * (ra + 2 * c->plug_ohm) + emf + (w->pump ? clamp(amps * c->brush, -c->brush, c->brush) : 0);
}

/* Fuel in kg/s for metered air, by the mixture's schedule. */
static double fuelling(const world_t *w, double run, double air, double trim) {
  const car_t *c = &w->c;
  if (!w->fire) return 0;
  double rich = clamp((330 - w->start_k) / (330 - 293.15), 0, 1.3);
  double end = 1 - rich * (1 - c->mix_end), begin = 1 - rich * (1 - c->mix_start), span = w->started ? w->air_s : 15, lambda = 1;
  if (run < span) lambda = begin + (end - begin) * run / span;
  else if (run < span + c->tail_s) lambda = end + (1 - end) * (run - span) / c->tail_s;
  return air / (c->afr * lambda) * (1 + trim);
}

static int rhs(realtype t, N_Vector yv, N_Vector dv, void *user) {
  world_t *w = user;
  const car_t *c = &w->c;
  const realtype *y = N_VGetArrayPointer(yv);
  realtype *d = N_VGetArrayPointer(dv);
  const double amb = c->ambient_pa, tk = c->ambient_k, rotor = y[ROTOR], crank = y[CRANK];
  for (int i = MANIFOLD; i <= PIPE; i++)
    if (!(y[i] > 0)) return 1; /* a step too far: the solver tries a shorter one */
  double run = w->started ? t - T_START + 0.05 : 0; /* the mean of what the controller counts by tenths */

  /* Temperatures and capacities. */
  double warm = clamp((y[COOLANT] - 293.15) / 70, 0, 1), warm60 = clamp((y[COOLANT] - 293.15) / 60, 0, 1);
  double charge_k = tk + c->charge_cold - 293.15 + c->charge_rise * warm;
  double ka = 1 / sqrt(RGAS * tk), hot = tk + c->warm_k * y[WARMTH], kh = 1 / sqrt(RGAS * hot), km = 1 / sqrt(RGAS * charge_k);
  double density = amb * ka * ka;

  /* Circuit and pump. */
  double ibatt, ialt;
  circuit(w, y, &ibatt, &ialt);
  double amps = w->amps, x = rotor / c->w0;
  double q = c->free_flow * x - c->free_flow / c->head * c->w0 / sqrt(rotor * rotor + c->w_reg * c->w_reg) * (y[SCROLL] - y[INLET]);
  double pumped = y[INLET] * ka * ka * q;
  double load = 0;
  if (x > 0) load = x * x * (c->torque0 + c->torque1 * (1 - clamp(pumped / density / (c->free_flow * x), 0, 1)));
  double drive = c->ke * amps, drag = c->bearing + c->cv * rotor + load;
  d[ROTOR] = w->stopped || (rotor <= 0 && drive <= c->bearing) ? 0 : (drive - drag) / c->rotor_j;
  d[WINDING] = (amps * amps * c->ra * (1 + 0.00393 * (y[WINDING] - 293.15)) - c->wind_cool * (y[WINDING] - tk)) / c->wind_heat;
  d[WARMTH] = ((x < 1 ? x : 1) - y[WARMTH]) / 3;
  d[FIELD] = ((w->started ? 1 : 0) - y[FIELD]) / c->alt_lag;
  d[CHARGE] = -ibatt / (c->batt_ah * 3600);
  if (d[CHARGE] > 0 && y[CHARGE] >= 1) d[CHARGE] = 0;
  d[TAPER] = ibatt < 0 ? (clamp((y[CHARGE] - 0.8) / 0.2, 0, 1) - y[TAPER]) / c->batt_taper : -y[TAPER] / 60;
  d[RELAY_K] = (w->coil * w->coil * c->coil_cu * (1 + 0.00393 * (y[RELAY_K] - 293.15)) - c->coil_cool * (y[RELAY_K] - tk)) / c->coil_heat;
  d[SOL_K] = (w->solenoid * w->solenoid * c->sol_cu * (1 + 0.00393 * (y[SOL_K] - 293.15)) - c->sol_cool * (y[SOL_K] - tk)) / c->sol_heat;

  /* Governor. */
  double target = (c->idle_cold + (c->idle_warm - c->idle_cold) * warm60) * (PI / 30), err = w->fire ? target - crank : 0;
  double integral = w->fire ? y[GOVERNOR] : 0;
  double area = clamp(c->ff_cold + (c->ff_warm - c->ff_cold) * warm60 + integral + c->kp * err, c->area_min, c->area_max);
  d[GOVERNOR] = w->fire && crank > 40 ? c->ki * err : 0;

  /* Air. */
  double swept = c->displacement * (crank > 0 ? crank : 0) * (30 / PI) / (120 * 287.05 * charge_k);
  double taken = swept * (c->ve_slope * y[MANIFOLD] - c->ve_offset), cyl = taken > 0 ? taken : 0;
  double chamber = y[CONTENT] / (c->v_chamber - c->dia * y[LIFT]);
  double throttle = orifice(w, area, amb, y[MANIFOLD], ka, km, 30);
  double lam = c->nipple_laminar;
  double nipple = orifice(w, c->a_man_nipple, y[MANIFOLD], y[LINE_MAN], km, ka, lam);
  double check = one_way(w, c->a_check, c->check_crack, y[LINE_CHECK], y[LINE_MAN], ka, ka);
  double res_in = orifice(w, c->a_res_in, y[RESERVOIR], y[LINE_CHECK], ka, ka, lam);
  double res_out = orifice(w, c->a_res_out, y[RESERVOIR], y[LINE_SUPPLY], ka, ka, lam);
  double creep = orifice(w, c->a_creep, y[RESERVOIR], amb, ka, ka, 30);
  double tear = orifice(w, c->a_tear, chamber, amb, ka, ka, 30);
  double valve_line = orifice(w, c->a_valve_nipple, chamber, y[LINE_VALVE], ka, ka, lam);
  double main_way = w->sol ? orifice(w, c->a_sol, y[LINE_SUPPLY], y[LINE_VALVE], ka, ka, 30) : 0;
  double vent = w->sol ? 0 : orifice(w, c->a_vent, y[LINE_VALVE], amb, ka, ka, 30);
  double filter = orifice(w, c->a_filter, amb, y[AIRBOX], ka, ka, 30);
  double stub = orifice(w, c->a_stub, y[AIRBOX], y[INLET], ka, ka, 30);
  double outlet = orifice(w, c->a_outlet, y[SCROLL], y[PIPE], kh, kh, 30);
  double seat = c->seat * y[LIFT] / c->lift_m, valve = 0;
  if (seat > 0) valve = one_way(w, seat * c->a_reed / sqrt(seat * seat + c->a_reed * c->a_reed), c->reed_crack, y[PIPE], y[GALLERY], kh, kh);

  /* Fuel. */
  double fuel = w->held;
  w->throttle = throttle, w->cyl = cyl;
  if (!w->sampled) {
    fuel = fuelling(w, run, w->by_meter ? y[METERED] : cyl, y[SHORT] + y[LONG]);
    d[METERED] = (throttle - y[METERED]) / 0.2;
    d[LONG] = w->closed ? c->long_rate * y[SHORT] : 0;
    d[SHORT] = w->closed ? c->trim_rate * clamp((y[SEEN] - 1) / c->trim_soft, -1, 1) - d[LONG] : 0;
  }

  /* Secondary air into the ports, whose pressure follows the flow of both: Newton on the flow. */
  double m = crank < 1 ? fuel : cyl + fuel, second = 0, port_k = fmax(tk, y[EX_MAN]);
  double kx = 1 / sqrt(RGAS * port_k); /* only what would flow back has it; nothing does while the reed is sound */
  second = orifice(w, c->a_passages, y[GALLERY], amb + c->back * m * m, kh, kx, 30);
  double s0 = 0, r0 = second; /* secant: residual orifice(s) - s */
  for (int i = 0; i < 20; i++) {
    double total = m + (second > 0 ? second : 0);
    double r = orifice(w, c->a_passages, y[GALLERY], amb + c->back * total * total, kh, kx, 30) - second;
    if (fabs(r) < 1e-13) break;
    double slope = (r - r0) / (second - s0), next = second - r / slope;
    s0 = second, r0 = r, second = next;
  }
  double more = second > 0 ? second : 0, flow = m + more;
  w->flow = second;

  double ra2 = 1 / (ka * ka), rh2 = 1 / (kh * kh);
  d[MANIFOLD] = (throttle - taken - nipple) / (km * km) / c->v_manifold;
  d[LINE_MAN] = (nipple + check) * ra2 / c->v_line_manifold;
  d[LINE_CHECK] = (res_in - check) * ra2 / c->v_line_check;
  d[RESERVOIR] = -(res_in + res_out + creep) * ra2 / c->v_reservoir;
  d[LINE_SUPPLY] = (res_out - main_way) * ra2 / c->v_line_supply;
  d[LINE_VALVE] = (valve_line + main_way - vent) * ra2 / c->v_line_valve;
  d[CONTENT] = -(valve_line + tear) * ra2;
  d[LIFT] = (c->lift_m * clamp((amb - chamber - c->lift0) / (c->lift1 - c->lift0), 0, 1) - y[LIFT]) / c->lift_tau;
  d[AIRBOX] = (filter - stub) * ra2 / c->v_airbox;
  d[INLET] = (stub - pumped) * ra2 / c->v_inlet;
  d[SCROLL] = (pumped - outlet) * rh2 / c->v_scroll;
  d[PIPE] = (outlet - valve) * rh2 / c->v_pipe;
  d[GALLERY] = (valve - second) * rh2 / c->v_gallery;

  /* Crankshaft. */
  double per = c->displacement / (4 * PI), burnt = 0, torque = 0;
  if (w->fire) {
    burnt = fmin(fuel, cyl / c->afr);
    torque = c->eta * clamp(y[SPARK] + c->spark_slope * (target - crank), 0.3, 1) * c->hv * burnt / (crank > 15 ? crank : 15);
  }
  if (w->crank) torque += fmax(0, c->starter_nm * (w->bus / 12 - crank / c->starter_rad));
  torque -= (amb - y[MANIFOLD]) * per + (c->fmep0 + c->fmep1 * crank) * (1 + c->fmep_cold * (1 - warm)) * per;
  if (crank > 5) torque -= ialt * w->bus / c->alt_eta / crank;
  d[CRANK] = crank <= 0 && torque < 0 ? 0 : torque / c->inertia;
  d[SPARK] = ((w->heating ? c->spark_heat : c->spark_idle) - y[SPARK]) / c->spark_tau;

  /* Exhaust. */
  double heat = 0;
  d[SENSOR] = ((w->started ? c->sensor_final : tk) - y[SENSOR]) / c->sensor_tau;
  w->lambda = 4, w->rate = 0;
  if (m < 1e-5) {
    d[SEEN] = more > 1e-5 ? (4 - y[SEEN]) / c->lag_s : 0;
    d[EX_MAN] = -c->man_loss * (y[EX_MAN] - tk) / c->man_jk;
    d[EX_PIPE] = -c->pipe_loss * (y[EX_PIPE] - tk) / c->pipe_jk;
    for (int i = 0; i < (int)c->cells; i++) d[CELL + i] = -c->cat_loss * (y[CELL + i] - tk) / c->cat_jk;
  } else {
    double qf = burnt * c->hv, share = c->share0 + c->share1 * (1 - y[SPARK]);
    heat = c->cool_share * qf * fmax(0, 1 - c->eta * y[SPARK] - share);
    double cyl_k = tk + share * qf / (m * c->cp_gas);
    double left = fmax(fuel - burnt, 0) + c->unburned0 * burnt;
    double spare = more + c->unburned0 * burnt * c->afr + fmax(0, cyl - burnt * c->afr);
    double cg = m * c->cp_gas + more * c->cp_air, mix = (m * c->cp_gas * cyl_k + more * c->cp_air * tk) / cg;
    double burn = fmin(left * c->ox_max / (1 + exp(-(mix - c->ox_k) / c->ox_width)), c->mix_share * spare / c->afr);
    left -= burn, spare -= burn * c->afr;
    double gas = mix + burn * c->hv / cg, scale = exp(0.7 * log(flow / c->ex_ref));
    double out = y[EX_MAN] + (gas - y[EX_MAN]) * exp(-c->man_ha * scale / cg);
    d[EX_MAN] = (cg * (gas - out) - c->man_loss * (y[EX_MAN] - tk)) / c->man_jk;
    gas = out, out = y[EX_PIPE] + (gas - y[EX_PIPE]) * exp(-c->pipe_ha * scale / cg);
    d[EX_PIPE] = (cg * (gas - out) - c->pipe_loss * (y[EX_PIPE] - tk)) / c->pipe_jk;
    gas = out;
    int n = (int)c->cells;
    double keeps = exp(-c->cat_ha / n / cg), rate = 0.6931471805599453 / n * c->cat_ref / flow;
    const realtype *cell = y + CELL;
    for (int i = 0; i < n; i++) {
      double k = rate * exp(-c->ea_r * (1 / cell[i] - 1 / c->t50));
      burn = fmin(left * (1 - exp(-k)), fmax(spare, 0) / c->afr);
      left -= burn, spare -= burn * c->afr;
      out = cell[i] + (gas - cell[i]) * keeps;
      double in = cg * (gas - out) + burn * c->hv - c->cat_loss / n * (cell[i] - tk);
      if (i > 0) in += c->cat_axial * (cell[i - 1] - cell[i]);
      if (i < n - 1) in += c->cat_axial * (cell[i + 1] - cell[i]);
      d[CELL + i] = in * n / c->cat_jk;
      gas = out;
    }
    w->rate = rate;
    if (fuel > 0) w->lambda = fmin((cyl + more) / (c->afr * fuel), 4);
    d[SEEN] = (w->lambda - y[SEEN]) / c->lag_s;
  }
  double qc = heat - c->link * (y[COOLANT] - y[BLOCK]);
  if (y[COOLANT] > c->thermostat_k) qc -= c->radiator * fmin((y[COOLANT] - c->thermostat_k) / 3, 1) * (y[COOLANT] - tk) / 60;
  d[COOLANT] = qc / c->heat_coolant;
  d[BLOCK] = (c->link * (y[COOLANT] - y[BLOCK]) - c->block_loss * (y[BLOCK] - tk)) / c->heat_block;
  return 0;
}

/* Zero when the bed converts half, and when the pump's rotor stands. The flow is that of the last evaluation, a Newton step away. */
static int roots(realtype t, N_Vector yv, realtype *g, void *user) {
  world_t *w = user;
  const realtype *y = N_VGetArrayPointer(yv);
  (void)t;
  double sum = 0;
  if (w->started)
    for (int i = 0; i < (int)w->c.cells; i++) sum += w->rate * exp(-w->c.ea_r * (1 / y[CELL + i] - 1 / w->c.t50));
  g[0] = sum - 0.6931471805599453;
  g[1] = w->stopped || w->pump ? 1 : y[ROTOR] - 1e-9;
  return 0;
}

static void die(const char *what) {
  fprintf(stderr, "coldstart: %s\n", what);
  exit(1);
}

static void read_car(car_t *c, const char *file) {
  FILE *f = fopen(file, "r");
  if (!f) die("cannot open the car's numbers");
  char name[64], line[256];
  double v;
  int got = 0, want = 0;
#define X(n) want++;
  NUMBERS
#undef X
  while (fgets(line, sizeof line, f)) {
    if (sscanf(line, "%63s %lf", name, &v) != 2 || name[0] == '#') continue;
#define X(n) if (!strcmp(name, #n)) c->n = v, got++;
    NUMBERS
#undef X
  }
  fclose(f);
  if (got != want) die("the car's numbers are not complete");
}

/* Sets the readings to those of the states. */
static void look(world_t *w, double t, N_Vector yv) {
  double scratch[STATES];
  N_Vector dv = N_VMake_Serial(N_VGetLength(yv), scratch, yv->sunctx);
  rhs(t, yv, dv, w);
  N_VDestroy(dv);
}

static void row(world_t *w, double t, N_Vector yv, double lit) {
  look(w, t, yv);
  const realtype *y = N_VGetArrayPointer(yv);
  const double kpa = w->c.ambient_pa;
  printf("%.1f,%.5f,%.7f,%.7f,%.6f,%.6f,%.7f,%.7f,%.6f,%.7f,%.7f,%.6f,%.6f,%.6f,%.6f,%.6f,%.7f,%.8f,%.5f\n", t, y[CRANK] * 30 / PI,
         (kpa - y[MANIFOLD]) / 1000, (kpa - y[RESERVOIR]) / 1000, (kpa - y[CONTENT] / (w->c.v_chamber - w->c.dia * y[LIFT])) / 1000, y[LIFT] * 1000,
         w->amps, w->plug, y[ROTOR], w->bus, w->flow * 3600, (y[PIPE] - kpa) / 1000, y[COOLANT] - 273.15, y[EX_MAN] - 273.15, y[CELL] - 273.15,
         y[CELL + 9] - 273.15, y[SEEN], w->sampled ? w->trim : y[SHORT], lit);
}

#define HEADER "time_s,speed_rpm,manifold_kPa,reservoir_kPa,chamber_kPa,lift_mm,pump_A,pump_V,pump_rad_s,bus_V,air_kg_h,pipe_kPa,coolant_C,ex_manifold_C,front_C,rear_C,lambda_seen,short_trim,lit_s\n"

typedef struct {
  long steps, evals, jacs;
} cost_t;

static void add(cost_t *cost, void *mem) {
  long n;
  CVodeGetNumSteps(mem, &n), cost->steps += n;
  CVodeGetNumRhsEvals(mem, &n), cost->evals += n;
  CVodeGetNumLinRhsEvals(mem, &n), cost->evals += n;
  CVodeGetNumJacEvals(mem, &n), cost->jacs += n;
}

/* What the controller switches when its time has come. */
static void change(world_t *w, int k, const realtype *v) {
  const car_t *c = &w->c;
  switch (k) {
  case 0: w->fire = 1; break;
  case 1:
    w->started = w->heating = 1, w->start_k = v[COOLANT];
    w->air_s = c->run_s1 + (c->run_s2 - c->run_s1) * clamp((v[COOLANT] - c->run_k1) / (c->run_k2 - c->run_k1), 0, 1);
    break;
  case 2: w->crank = 0; break;
  case 3: w->pump = w->sol = 1, w->stopped = 0; break;
  case 4: w->by_meter = 1; break;
  case 5: w->pump = w->sol = 0; break;
  case 6: w->heating = 0; break;
  case 7: w->closed = 1; break;
  }
}

/* The controller's work at a tenth of a second, as it is done in the world. */
static void sample(world_t *w, double t, const realtype *v) {
  const car_t *c = &w->c;
  double run = w->started ? t - T_START + 0.1 : 0;
  w->metered += (w->throttle - w->metered) * (0.1 / 0.3);
  if (w->closed) {
    w->trim += 0.1 * c->trim_rate * clamp((v[SEEN] - 1) / c->trim_soft, -1, 1);
    double d = 0.1 * c->long_rate * w->trim;
    w->learnt += d, w->trim -= d;
  }
  w->held = fuelling(w, run, w->by_meter ? w->metered : w->cyl, w->trim + w->learnt);
}

/* One cold start. With every > 0, the states are asked for so often (s), and with print those that the tables keep are printed. */
static double solve(world_t *w, double rtol, int print, double every, cost_t *cost, SUNContext ctx) {
  const car_t *c = &w->c;
  int n = w->sampled ? SAMPLED : STATES;
  N_Vector y = N_VNew_Serial(n, ctx), atol = N_VNew_Serial(n, ctx);
  realtype *v = N_VGetArrayPointer(y), *a = N_VGetArrayPointer(atol);
  memset(v, 0, n * sizeof *v);
  for (int i = 0; i < n; i++) a[i] = rtol;
  for (int i = MANIFOLD; i <= PIPE; i++) v[i] = c->ambient_pa, a[i] = rtol * 1e4;
  v[CONTENT] *= c->v_chamber, a[CONTENT] = rtol * 1e4 * c->v_chamber;
  a[ROTOR] = a[CRANK] = rtol * 10;
  a[LIFT] = rtol * c->lift_m;
  a[GOVERNOR] = rtol * 1e-5;
  if (!w->sampled) a[METERED] = rtol * 1e-2, a[SHORT] = a[LONG] = rtol * 0.1;
  v[WINDING] = v[COOLANT] = v[BLOCK] = v[EX_MAN] = v[EX_PIPE] = v[SENSOR] = v[RELAY_K] = v[SOL_K] = c->ambient_k;
  for (int i = 0; i < 10; i++) v[CELL + i] = c->ambient_k;
  v[CHARGE] = 1, v[SPARK] = c->spark_idle, v[SEEN] = 1;
  w->fire = w->started = w->pump = w->sol = w->by_meter = w->heating = w->closed = 0;
  w->crank = w->stopped = 1, w->start_k = 0, w->air_s = 15, w->held = w->metered = w->trim = w->learnt = 0;

  void *mem = CVodeCreate(CV_BDF, ctx);
  SUNMatrix A = SUNDenseMatrix(n, n, ctx);
  SUNLinearSolver ls = SUNLinSol_Dense(y, A, ctx);
  if (CVodeInit(mem, rhs, 0, y) || CVodeSVtolerances(mem, rtol, atol) || CVodeSetUserData(mem, w) || CVodeSetLinearSolver(mem, ls, A) ||
      CVodeSetMaxNumSteps(mem, 2000000) || CVodeRootInit(mem, 2, roots) || CVodeSetNoInactiveRootWarn(mem))
    die("the solver does not begin");
  static const double ends[] = {T_FIRE, T_START, T_RELEASE, T_AIR, T_METER, T_AIR_END, T_HEAT_END, T_CLOSED, T_END};
  double t = 0, lit = 0;
  memset(cost, 0, sizeof *cost);
  long tick = 0;
  int k = 0;
  while (t < T_END - 1e-9) {
    /* A stretch in which nothing jumps: to the next switching, or to the next tenth. */
    double stop = w->sampled ? fmin(ends[k], 0.1 * floor(t / 0.1 + 1.5)) : ends[k];
    CVodeSetStopTime(mem, stop);
    while (t < stop - 1e-9) {
      double goal = every > 0 ? fmin((tick + 1) * every, stop) : stop;
      int r = CVode(mem, goal, y, &t, CV_NORMAL);
      if (r < 0) die("the solver gives up");
      if (r == CV_ROOT_RETURN) {
        int found[2];
        CVodeGetRootInfo(mem, found);
        if (found[0] && w->started && lit == 0) lit = t - T_START;
        if (found[1]) {
          w->stopped = 1, v[ROTOR] = 0;
          add(cost, mem);
          if (CVodeReInit(mem, t, y)) die("the solver does not begin again");
          CVodeSetStopTime(mem, stop);
        }
        continue;
      }
      if (every > 0 && fabs(t - (tick + 1) * every) < 1e-9) {
        tick++;
        if (print && (t < 5 || (t > 81 && t < 85) || tick % 10 == 0)) row(w, t, y, lit);
      }
    }
    t = stop;
    int again = 0; /* a jump: from here on with short steps */
    if (t >= ends[k] - 1e-9 && t < T_END - 1e-9) change(w, k++, v), again = 1;
    if (w->sampled) {
      double before = w->held;
      look(w, t, y), sample(w, t, v);
      if (fabs(w->held - before) > RESTART * rtol * before) again = 1;
    }
    if (again) {
      add(cost, mem);
      if (CVodeReInit(mem, t, y)) die("the solver does not begin again");
    }
  }
  add(cost, mem);
  CVodeFree(&mem);
  SUNLinSolFree(ls);
  SUNMatDestroy(A);
  N_VDestroy(y);
  N_VDestroy(atol);
  return lit;
}

static double seconds(void) {
  struct timespec s;
  clock_gettime(CLOCK_MONOTONIC, &s);
  return s.tv_sec + 1e-9 * s.tv_nsec;
}

int main(int argc, char **argv) {
  if (argc < 4) die("usage: coldstart NUMBERS trace RTOL [exact] [sampled] | time RTOL SOLUTIONS [EVERY_S] [sampled]");
  static world_t w;
  read_car(&w.c, argv[1]);
  for (int i = 0; i < TABLE + 2; i++) table[i] = smooth(i * UCRIT / TABLE);
  for (int i = 4; i < argc; i++) {
    if (!strcmp(argv[i], "exact")) w.exact = 1;
    if (!strcmp(argv[i], "sampled")) w.sampled = 1;
  }
  SUNContext ctx;
  if (SUNContext_Create(NULL, &ctx)) die("no context");
  double rtol = atof(argv[3]);
  cost_t cost;
  if (!strcmp(argv[2], "trace")) {
    printf("# The cold start of car A, 20 degC, sea level, from the turn of the key to crank: SUNDIALS CVODE, relative tolerance %s, controller %s.\n",
           argv[3], w.sampled ? "sampled every 0.1 s" : "continuous");
    printf("# Source: the equations in coldstart.c. Made by: ./coldstart car_a.txt trace %s%s%s\n", argv[3], w.exact ? " exact" : "", w.sampled ? " sampled" : "");
    printf(HEADER);
    solve(&w, rtol, 1, 0.1, &cost, ctx);
    fprintf(stderr, "%ld steps, %ld evaluations, %ld Jacobians\n", cost.steps, cost.evals, cost.jacs);
    return 0;
  }
  int n = argc > 4 ? atoi(argv[4]) : 1;
  double every = argc > 5 ? atof(argv[5]) : 0;
  for (int i = 0; i < n; i++) {
    double from = seconds(), lit = solve(&w, rtol, 0, every, &cost, ctx);
    printf("%.6f %ld %ld %ld %.3f\n", seconds() - from, cost.steps, cost.evals, cost.jacs, lit);
  }
  return 0;
}
