package sim

// Where the signatures of the other built-in cars are read. What a car does not have reads nothing: car B has no vacuum and no
// solenoid, car D no motor. Car C's chamber is that of its first bank; its line leads to the chambers of both.
var (
	ProbesB = SignatureProbes{Motor: "blower", PlugPlus: "mot_1h", PlugMinus: "mot_2h", Pipe: "scroll", Valve: "air_valve"}
	ProbesC = SignatureProbes{Motor: "pump_motor", PlugPlus: "pump_1h", PlugMinus: "pump_2h", Pipe: "scroll", Chamber: "chamber", Reservoir: "reservoir",
		Valve: "air_valve", LineEnd: "line_tee.b", CoilPlug: "sol_plug", CoilPlus: "sol_1", CoilMinus: "sol_2"}
	ProbesD = SignatureProbes{Pipe: "outlet", Chamber: "chamber", Valve: "diverter", LineEnd: "line_diverter.b",
		CoilPlug: "sol_plug", CoilPlus: "sol_1", CoilMinus: "sol_2"}
)

// ProbesOf gives the probes of a built-in car; ok is false for another.
func ProbesOf(carID string) (p SignatureProbes, ok bool) {
	switch carID {
	case "car_a":
		return ProbesA, true
	case "car_b":
		return ProbesB, true
	case "car_c":
		return ProbesC, true
	case "car_d":
		return ProbesD, true
	}
	return p, false
}
