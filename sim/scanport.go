package sim

import (
	"fmt"

	"coldbay/sim/ecm"
)

// Codes lists the controller's stored or pending trouble codes.
func (w *World) Codes(pending bool) []string { return ecm.ListCodes(&w.car.Controller, &w.ec, pending) }

// FreezeFrame is the frozen readings, in SAE J1979 units, and the code that froze them; "" when there is none.
func (w *World) FreezeFrame() (code string, pids []byte, values []float64) {
	return ecm.FrameCode(&w.car.Controller, &w.ec)
}

// PIDs lists the SAE J1979 parameters that the controller answers.
func (w *World) PIDs() []byte { return ecm.PIDs(&w.car.Controller, w.car.Banks) }

// PID gives a parameter's physical values; ok is false when it is not supported or the key is off.
func (w *World) PID(pid byte) (values []float64, ok bool) {
	if !w.key {
		return nil, false
	}
	return ecm.Value(&w.car.Controller, &w.ec, pid)
}

// Actuate starts an actuator test: "pump", "solenoid", "both"; "off" ends it. The controller may refuse.
func (w *World) Actuate(name string) error {
	a := map[string]ecm.Actuator{"off": ecm.NoTest, "pump": ecm.TestPump, "solenoid": ecm.TestSolenoid, "both": ecm.TestBoth}
	act, ok := a[name]
	if !ok {
		return fmt.Errorf("actuator test %q, allowed is pump, solenoid, both, off", name)
	}
	return ecm.Actuate(&w.car.Controller, &w.ec, act)
}

// Testing says which actuator test runs: "", "pump", "solenoid" or "both".
func (w *World) Testing() string {
	switch w.ec.Testing() {
	case ecm.TestPump:
		return "pump"
	case ecm.TestSolenoid:
		return "solenoid"
	case ecm.TestBoth:
		return "both"
	}
	return ""
}

// EraseCodes clears codes, freeze frame and readiness; the key must be on and the engine off.
func (w *World) EraseCodes() error { return ecm.Erase(&w.ec) }

// Scan hands a request of SAE J1979 (or routine control of ISO 14229-1 for the output tests) to the controller and gives its answer, nil when
// it keeps silent: no socket, key off, or nothing of what was asked for is there.
func (w *World) Scan(request []byte) []byte {
	if !w.key || !w.car.ScanPort {
		return nil
	}
	return ecm.Answer(&w.car.Controller, &w.ec, request)
}

// MonitorRan says whether the flow monitor has completed since the codes were erased.
func (w *World) MonitorRan() bool { return w.ec.Ready() }

// CodeLamp says whether a confirmed fault commands the lamp on (not the bulb check). A code may be confirmed still when its lamp is out: three good
// driving cycles put the lamp out, 40 warm-ups erase the code.
func (w *World) CodeLamp() bool { return w.ec.LampCommanded() }
