package main

import (
	"fmt"

	"coldbay/scenarios"
	"coldbay/sim"
)

// span is the length of the cold start in tenths of a second, from the turn of the key to crank.
const span = 1220

// ownWorld steps the program's own car A, cold, a second after key-on.
func ownWorld() (*way, error) {
	lib, err := scenarios.Builtin()
	if err != nil {
		return nil, err
	}
	a, err := lib.Car("car_a")
	if err != nil {
		return nil, err
	}
	base, err := sim.New(a.Car, sim.Conditions{AmbientK: 293.15, AmbientPa: 101325})
	if err != nil {
		return nil, err
	}
	base.SetKey(true)
	base.Step(10)
	base.SetStarter(true)
	return &way{name: "Coldbay's world", reference: "tight.csv", tol: "its own strides",
		trace: func(string) (table, error) {
			w, rows := base.Clone(), table{}
			for tick := 1; tick <= span; tick++ {
				w.Step(1)
				if w.Running() {
					w.SetStarter(false)
				}
				if tick%10 == 0 {
					rows[fmt.Sprintf("%.1f", float64(tick)/10)] = row(w)
				}
			}
			return rows, w.Err()
		},
		run: func(_ string, n int) ([]float64, string, error) {
			var all []float64
			for range n {
				s, err := timed(func() error {
					w := base.Clone()
					for !w.Running() {
						w.Step(1)
					}
					w.SetStarter(false)
					w.Step(span - 12)
					return w.Err()
				})
				if err != nil {
					return nil, "", err
				}
				all = append(all, s)
			}
			return all, "strides of 5 to 50 ms", nil
		}}, nil
}

func row(w *sim.World) map[string]float64 {
	vac := func(id string) float64 { v, _ := w.Vacuum(id); return v / 1000 }
	volts := func(a, b string) float64 { v, _ := w.Volts(a, b); return v }
	return map[string]float64{
		"speed_rpm": w.Rpm(), "manifold_kPa": vac("manifold"), "reservoir_kPa": vac("reservoir"), "chamber_kPa": vac("chamber"),
		"pump_A": w.MotorAmps("pump_motor"), "pump_V": volts("pump_1h", "pump_2h"), "bus_V": volts("bat_pos", "bat_neg"),
		"air_kg_h": w.AirFlow() * 3600, "pipe_kPa": -vac("pressure_pipe"), "coolant_C": w.CoolantK() - 273.15,
		"ex_manifold_C": w.ExhaustPartK() - 273.15, "front_C": w.CatalystK(0) - 273.15, "rear_C": w.CatalystK(9) - 273.15,
		"lambda_seen": w.SeenRatio(), "lit_s": w.LitAt(),
	}
}
