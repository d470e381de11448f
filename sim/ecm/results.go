package ecm

import (
	"slices"

	"coldbay/sim/scan"
)

// The results of service 06, in the state's order.
const (
	resultFlow = iota
	resultFlow2
	resultAfter
	resultAnswer
	resultShut
	resultOpen
	resultCount
)

// result is a monitor's last outcome: the value and its limits, in kg/h, % or kPa.
type result struct{ value, lo, hi float32 }

// resultRows name each result on the wire: the first bank is monitor $71, the second $72; test identifiers are the maker's own ($80 and up),
// scalings are those of SAE J1979.
var resultRows = [resultCount]struct {
	mid, tid, scaling byte
}{
	resultFlow:   {scan.MIDSecondaryAir1, scan.TIDAirFlow, 0x2A},
	resultFlow2:  {scan.MIDSecondaryAir2, scan.TIDAirFlow, 0x2A},
	resultAfter:  {scan.MIDSecondaryAir1, scan.TIDAirAfter, 0x2A},
	resultAnswer: {scan.MIDSecondaryAir1, scan.TIDAirAnswer, 0x2F},
	resultShut:   {scan.MIDSecondaryAir1, scan.TIDPipeShut, 0x17},
	resultOpen:   {scan.MIDSecondaryAir1, scan.TIDPipeOpen, 0x17},
}

// Results are the on-board monitor results of one monitor of the secondary air system. A test that has not run since the codes were erased
// has value and limits of zero, as SAE J1979 wants it [memory].
func Results(p *Spec, s *State, mid byte) ([]scan.Result, error) {
	var out []scan.Result
	for i, row := range resultRows {
		if row.mid != mid || !p.gives(i) {
			continue
		}
		if p.NarrowBand && row.tid == scan.TIDAirFlow {
			row.tid, row.scaling = scan.TIDAirLean, 0x2F
		}
		r := s.result(i)
		one, err := scan.NewResult(mid, row.tid, row.scaling, float64(r.value), float64(r.lo), float64(r.hi))
		if err != nil {
			return nil, err
		}
		out = append(out, one)
	}
	return out, nil
}

// gives says whether a controller has the test behind a result.
func (p *Spec) gives(i int) bool {
	switch i {
	case resultFlow:
		return p.Codes.FlowLow != ""
	case resultFlow2:
		return p.Codes.FlowLow2 != ""
	case resultAfter:
		return p.Codes.AirAfter != "" && p.Flow.After.DelayS > 0
	case resultAnswer:
		return p.Active.OnS > 0
	}
	return p.Pipe.TestS > 0
}

// mids lists the monitors that have results.
func (p *Spec) mids() []byte {
	var out []byte
	for i, row := range resultRows {
		if p.gives(i) && !slices.Contains(out, row.mid) {
			out = append(out, row.mid)
		}
	}
	return out
}

// supported lists the monitors of readiness that this controller has.
func (p *Spec) supported() scan.MonitorSet {
	set := scan.MonitorsOf(scan.Components)
	add := func(m scan.Monitor, has bool) {
		if has {
			set |= scan.MonitorsOf(m)
		}
	}
	add(scan.FuelSystem, p.Other.TrimLimit > 0)
	add(scan.SecondaryAir, p.Codes.FlowLow != "")
	add(scan.Catalyst, p.Other.CatalystS > 0)
	add(scan.OxygenSensor, p.Other.SensorRunS > 0)
	add(scan.OxygenHeater, p.Other.SensorS > 0)
	return set
}

// missing turns what has completed into the set of monitors that have not; the continuous ones always have.
func missing(done uint8) (set scan.MonitorSet) {
	for _, m := range [...]struct {
		bit uint8
		m   scan.Monitor
	}{{didAir, scan.SecondaryAir}, {didCatalyst, scan.Catalyst}, {didSensor, scan.OxygenSensor}, {didHeater, scan.OxygenHeater}} {
		if done&m.bit == 0 {
			set |= scan.MonitorsOf(m.m)
		}
	}
	return set
}

// Readiness is the monitor status since the codes were erased, or of this driving cycle.
func Readiness(p *Spec, s *State, thisCycle bool) scan.Readiness {
	r := scan.Readiness{Supported: p.supported()}
	if thisCycle {
		r.Incomplete = missing(s.done) & r.Supported
		return r
	}
	r.Incomplete = missing(s.ready) & r.Supported
	r.Lamp = s.LampCommanded()
	r.Count = uint8(len(List(p, s, Confirmed)))
	return r
}
