package scan

import "fmt"

// Monitor is one on-board monitor of a spark-ignition engine.
type Monitor uint8

// The monitors: three continuous ones, then those that need their conditions.
const (
	Misfire Monitor = iota
	FuelSystem
	Components
	Catalyst
	HeatedCatalyst
	Evaporative
	SecondaryAir
	Refrigerant
	OxygenSensor
	OxygenHeater
	EGR
	monitorCount

	continuous = 3
)

var monitorNames = [monitorCount]string{
	"Misfire", "Fuel system", "Comprehensive components",
	"Catalyst", "Heated catalyst", "Evaporative system", "Secondary air system",
	"Air conditioning refrigerant", "Oxygen sensor", "Oxygen sensor heater", "EGR or valve timing",
}

// String is the monitor's name.
func (m Monitor) String() string {
	if m >= monitorCount {
		return fmt.Sprintf("monitor %d", uint8(m))
	}
	return monitorNames[m]
}

// Monitors lists all monitors in the order of the status bytes.
func Monitors() []Monitor {
	all := make([]Monitor, monitorCount)
	for i := range all {
		all[i] = Monitor(i)
	}
	return all
}

// MonitorSet is a set of monitors.
type MonitorSet uint16

// MonitorsOf makes a set.
func MonitorsOf(ms ...Monitor) (s MonitorSet) {
	for _, m := range ms {
		s |= 1 << m
	}
	return s
}

// Has says whether m is in the set.
func (s MonitorSet) Has(m Monitor) bool { return s>>m&1 == 1 }

// Readiness is the content of PID $01 (since codes were cleared) and of $41
// (this driving cycle, where lamp and count are zero and Supported means
// enabled).
type Readiness struct {
	Lamp        bool  // malfunction indicator lamp commanded on
	Count       uint8 // confirmed codes, 0 to 127
	Compression bool  // compression ignition; false for a spark engine
	Supported   MonitorSet
	Incomplete  MonitorSet
}

// Bytes writes the four data bytes: A7 lamp, A6-0 count; B2-0 continuous
// monitors supported, B3 ignition, B6-4 incomplete; C the other monitors
// supported, D incomplete (SAE J1979 as in an open decoder and its unit tests;
// secondary air is bit 3 of C and D). A count above 127 is sent as 127.
func (r Readiness) Bytes() [4]byte {
	a := min(r.Count, 127)
	if r.Lamp {
		a |= 0x80
	}
	const low = 1<<continuous - 1
	b := byte(r.Supported&low) | byte(r.Incomplete&low)<<4
	if r.Compression {
		b |= 0x08
	}
	return [4]byte{a, b, byte(r.Supported >> continuous), byte(r.Incomplete >> continuous)}
}

// ParseReadiness reads the four data bytes. The reserved bit B7 is ignored.
func ParseReadiness(d [4]byte) Readiness {
	const low = 1<<continuous - 1
	return Readiness{
		Lamp:        d[0]&0x80 != 0,
		Count:       d[0] & 0x7F,
		Compression: d[1]&0x08 != 0,
		Supported:   MonitorSet(d[1]&low) | MonitorSet(d[2])<<continuous,
		Incomplete:  MonitorSet(d[1]>>4&low) | MonitorSet(d[3])<<continuous,
	}
}

// Complete says whether every supported monitor has run.
func (r Readiness) Complete() bool { return r.Supported&r.Incomplete == 0 }

// readings lists the lamp, the count and each monitor.
func (r Readiness) readings(pid byte) []Reading {
	out := make([]Reading, 0, 2+int(monitorCount))
	lamp := Reading{PID: pid, Name: "Malfunction indicator lamp", Text: "off"}
	if r.Lamp {
		lamp.Value, lamp.Text = 1, "on"
	}
	out = append(out, lamp, Reading{PID: pid, Name: "Confirmed codes", Value: float64(r.Count), Resolution: 1})
	for _, m := range Monitors() {
		text, value := "complete", 1.0
		switch {
		case !r.Supported.Has(m):
			text, value = "not supported", -1
		case r.Incomplete.Has(m):
			text, value = "incomplete", 0
		}
		out = append(out, Reading{PID: pid, Name: m.String(), Value: value, Text: text})
	}
	return out
}
