package ecm

import (
	"testing"

	"coldbay/sim/scan"

	"github.com/stretchr/testify/require"
)

// rig is a car for a controller: it answers pins and sensors as a sound car does, except where a test has bent it.
type rig struct {
	t     testing.TB
	p     Spec
	s     State
	in    Inputs
	share float64                        // of the expected air that comes while pump and valve are on
	stay  float64                        // of the expected air that comes while they are off
	stay2 float64                        // of its half that reaches the second bank while they are off
	bank2 float64                        // of its half of the expected air that reaches the second bank, where there is one
	pipe  func(pump, valve bool) float64 // Pa over the outside pressure
	warms bool                           // the coolant rises from 20 to 80 degC in a minute of running
	pump  pinState
	sol   pinState
}

type pinState uint8

const (
	sound pinState = iota
	openPin
	grounded
	atBattery
	dead
)

// spec is a calibration with round numbers [invented for these tests].
func spec() Spec {
	return Spec{
		VehicleNumber: "CBTRA1N0ACAR00001", Calibration: "CBA-ECM-0001",
		StartRpm: 500, FireS: 0.5, Prime: 2, BulbS: 18,
		Enable: Enable{CoolantMinK: 266, CoolantMaxK: 311, IntakeMinK: 263, IntakeMaxK: 328, BatteryMin: 11, BatteryMax: 16, DelayS: 1,
			Run: []RunPoint{{266, 60}, {286, 40}, {311, 30}}, OffCoolantK: 400, OffLoad: 0.85, OffLoadS: 2, OffThrottle: 0.6},
		Circuit: Circuit{DebounceS: 0.5, FeedMinV: 8, LowV: 0.8, OpenMinV: 1.5, OpenMaxV: 3.5, OnMaxV: 2.5},
		Flow: Flow{SettleS: 5, JudgeS: 10, Low: 0.6, High: 1.4, RpmMax: 1800, LoadMax: 0.7, BaroMinPa: 74000, SupplyMin: 11,
			Expected: Expected{KgH: 15}, After: After{DelayS: 4, LeanS: 5, Share: 0.35}},
		Active: Active{OnS: 6, WaitS: 30, CoolantK: 343, RpmMax: 950, Rise: 0.1},
		Other: Other{SupplyLowV: 10.5, SupplyLowS: 10, TrimLimit: 0.24, TrimS: 20, SensorS: 60, SensorRunS: 30, CatalystK: 623, CatalystS: 40,
			IdleRpm: 1300, DriveRpm: 1500, CountMinK: 266, CountMinPa: 75000},
		Actuator: Outputs{OnS: 5, OffS: 5, TotalS: 60, BatteryMin: 10},
		Codes: Codes{FlowLow: "P0491", FlowHigh: "P0411", AirAfter: "P0411",
			Pump:      DriverCodes{"P0418", "P2257", "P2258", "P0418"},
			Solenoid:  DriverCodes{"P0413", "P0414", "P0414", "P0412"},
			SupplyLow: "P0562", Lean: "P0171", Rich: "P0172", Heater: "P0135"},
	}
}

func newRig(t testing.TB) *rig {
	r := &rig{t: t, p: spec(), share: 1, bank2: 1, warms: true}
	require.NoError(t, r.p.Check())
	r.in = Inputs{Dt: 0.1, CoolantK: 293.15, IntakeK: 293.15, SupplyV: 13.5, FuelV: 13.5, HasPump: true, HasSol: true, BaroPa: 101325, MapPa: 50000,
		AFR: 14.6, SensorK: 293.15, CatK: 293.15, Lambda: 1, Load: 0.4,
		Air: Mixture{Start: 0.78, AirEnd: 0.9, TailS: 10, TrimMax: 0.25, TrimRate: 0.05, TrimSoft: 0.05, LongRate: 0.02, ReadyK: 623}}
	return r
}

func (p pinState) volts(on bool) (v float64, shut bool) {
	switch {
	case p == openPin && !on:
		return 2.5, false
	case p == grounded:
		return 0.05, false
	case p == atBattery && on:
		return 13.5, true
	case p == dead && on:
		return 13.5, false
	case on:
		return 0.2, false
	}
	return 13.5, false
}

// run lets seconds pass with the present inputs.
func (r *rig) run(seconds float64) {
	for range int(seconds*10 + 0.5) {
		in, s := &r.in, &r.s
		if s.started {
			in.MafKgS, in.CylKgS = 0.008, 0.008
			in.SensorK = min(in.SensorK+50, 900)
			in.CatK = min(in.CatK+3, 800)
			in.Sensor2K, in.Cat2K = in.SensorK, in.CatK
			if r.warms {
				in.CoolantK = min(in.CoolantK+0.1, 353.15)
			}
			air := r.stay
			if s.Pump && s.Sol {
				air = r.share
			}
			if s.FuelRate > 0 {
				in.Lambda = (s.maf + float64(air*15/3600)) / (in.AFR * s.FuelRate)
				in.Lambda2 = in.Lambda
				if in.Banks == 2 { // half of the air and the fuel of its own
					air2 := r.stay2
					if s.Pump && s.Sol {
						air2 = r.bank2
					}
					in.Lambda = (s.maf + float64(air*15/3600)) / 2 / (in.AFR * (s.FuelRate - s.Fuel2))
					in.Lambda2 = (s.maf + float64(air2*15/3600)) / 2 / (in.AFR * s.Fuel2)
				}
			}
		}
		in.PumpPinV, in.PumpShut = r.pump.volts(s.Pump)
		in.SolPinV, in.SolShut = r.sol.volts(s.Sol)
		if r.pipe != nil {
			in.HasPipe, in.PipePa = true, in.BaroPa+r.pipe(s.Pump, s.Sol)
		}
		Step(&r.p, s, in)
	}
}

// start turns the key, cranks, and lets the engine idle.
func (r *rig) start() {
	r.in.Key, r.in.Rpm = true, 0
	r.run(1)
	r.in.Crank, r.in.Rpm = true, 200
	r.run(0.6)
	r.in.Crank, r.in.Rpm = false, 900
	r.run(0.1)
	require.True(r.t, r.s.Started())
}

// stop turns the key off and lets the car cool down.
func (r *rig) stop() {
	r.in.Key, r.in.Rpm = false, 0
	r.run(0.5)
	require.True(r.t, r.s.Asleep())
	r.in.CoolantK, r.in.SensorK, r.in.CatK = 293.15, 293.15, 293.15
}

// cycle is one driving cycle: F with too little air, P with all of it, - started too warm for the air, w a warm-up likewise.
func (r *rig) cycle(kind rune) {
	r.share = 1
	r.warms = false
	switch kind {
	case 'F':
		r.share = 0.3
	case '-':
		r.in.CoolantK = 320
	case 'w':
		r.in.CoolantK, r.warms = 312, true
	}
	r.start()
	r.run(45)
	r.stop()
}

func (r *rig) cycles(kinds string) {
	for _, k := range kinds {
		r.cycle(k)
	}
}

// state tells where P0491 stands: p pending, c confirmed, L lamp, k permanent, f its freeze frame.
func (r *rig) state(code scan.DTC) string {
	out := ""
	for i, k := range []Kind{Pending, Confirmed, Permanent} {
		for _, c := range List(&r.p, &r.s, k) {
			if c == code {
				out += string("pck"[i])
			}
		}
	}
	if r.s.LampCommanded() {
		out += "L"
	}
	if c, _, _ := FrameCode(&r.p, &r.s); c == code.String() {
		out += "f"
	}
	return out
}
