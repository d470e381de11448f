package trace

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"coldbay/sim"
	"coldbay/sim/air"
	"coldbay/sim/car"
)

// Channel is one recorded quantity, in the trade's unit.
type Channel struct {
	ID   string
	Name string // words for a legend
	Unit string // "" for a ratio
	read func(*sim.World) float64
}

// Head is the channel's name with its unit, as it stands over a column: "pump_current (A)".
func (c Channel) Head() string {
	if c.Unit == "" {
		return c.ID
	}
	return c.ID + " (" + c.Unit + ")"
}

// Channels lists what can be recorded of a car: first those that every car has, then the roles (pump_current, chamber_vacuum ...) that this
// car fills, then everything by its id in the car file: "ELEMENT.current", "COIL.pulled", "MOTOR.speed", "HOSE_OR_VOLUME.vacuum",
// "VALVE.lift", "PART.flow".
func Channels(c *car.Car) []Channel {
	list := common(c)
	if c.Banks == 2 {
		list = append(list, secondBank(c)...)
	}
	list = append(list, roles(c)...)
	for _, e := range c.Electrical.Elements {
		list = append(list, electrical(e.ID, e.Kind)...)
	}
	for _, v := range c.Pneumatic.Volumes {
		list = append(list, gauge(v.ID))
	}
	for _, h := range c.Pneumatic.Hoses {
		list = append(list, gauge(h.ID))
	}
	for _, p := range c.Pneumatic.Parts {
		if strings.HasSuffix(p.Kind, "valve") {
			list = append(list, lift(p.ID+".lift", p.ID+", lift", p.ID))
		}
		list = append(list, Channel{p.ID + ".flow", p.ID + ", flow", "kg/h", func(w *sim.World) float64 { return orNaN(w.PartFlow(p.ID)) * 3600 }})
	}
	return list
}

func common(c *car.Car) []Channel {
	last := c.Exhaust.Catalyst.Cells - 1
	k := func(id, name string, f func(*sim.World) float64) Channel {
		return Channel{id, name, "°C", func(w *sim.World) float64 { return f(w) - 273.15 }}
	}
	list := []Channel{
		{"run", "time since the engine started", "s", (*sim.World).RunS},
		{"rpm", "engine speed", "rpm", (*sim.World).Rpm},
		k("coolant", "coolant", (*sim.World).CoolantK),
		k("exhaust_skin", "exhaust manifold, skin", (*sim.World).ExhaustPartK),
		{"air_flow", "air into the exhaust", "kg/h", func(w *sim.World) float64 { return w.AirFlow() * 3600 }},
		{"engine_air", "air into the cylinders", "kg/h", func(w *sim.World) float64 { return w.EngineAir() * 3600 }},
		{"metered_air", "air past the meter", "kg/h", func(w *sim.World) float64 { return w.ThrottleFlow() * 3600 }},
		{"fuel", "fuel", "kg/h", func(w *sim.World) float64 { return w.FuelRate() * 3600 }},
		{"exhaust_ratio", "exhaust air-fuel ratio, relative", "", (*sim.World).Lambda},
		{"sensor_ratio", "the same as the sensor has it", "", (*sim.World).SeenRatio},
		{"short_trim", "short fuel trim", "%", func(w *sim.World) float64 { v, _ := w.FuelTrims(0); return v * 100 }},
		{"long_trim", "long fuel trim", "%", func(w *sim.World) float64 { _, v := w.FuelTrims(0); return v * 100 }},
		{"port_pressure", "pressure at the exhaust ports", "kPa", func(w *sim.World) float64 { return w.PortPa() / 1000 }},
		k("catalyst_front", "catalyst, front", func(w *sim.World) float64 { return w.CatalystK(0) }),
		k("catalyst_middle", "catalyst, middle", func(w *sim.World) float64 { return w.CatalystK(last / 2) }),
		k("catalyst_rear", "catalyst, rear", func(w *sim.World) float64 { return w.CatalystK(last) }),
		{"conversion", "the bed's own conversion", "%", func(w *sim.World) float64 { return w.Conversion() * 100 }},
		{"charge", "battery, state of charge", "%", func(w *sim.World) float64 { return w.Charge() * 100 }},
		{"pump_command", "pump relay driven", "", func(w *sim.World) float64 { return bit(w.PumpCommand()) }},
		{"valve_command", "solenoid driven", "", func(w *sim.World) float64 { return bit(w.ValveCommand()) }},
		{"lamp", "malfunction lamp", "", func(w *sim.World) float64 { return bit(w.Lamp()) }},
		{"tool_vacuum", "hand pump's gauge", "kPa", func(w *sim.World) float64 { return w.ToolVacuum() / 1000 }},
	}
	for _, v := range c.Pneumatic.Volumes {
		if v.ID == "manifold" {
			list = append(list, named(gauge(v.ID), "manifold_vacuum", "manifold vacuum"))
		}
	}
	for _, e := range c.Electrical.Elements {
		if e.Kind == "battery" {
			list = append(list, Channel{"battery_voltage", "battery", "V", func(w *sim.World) float64 { return orNaN(w.Volts(e.A, e.B)) }})
		}
	}
	return list
}

// secondBank are what the first bank's channels are, of the second bank of a car that has one.
func secondBank(c *car.Car) []Channel {
	last := c.Exhaust.Catalyst.Cells - 1
	cell := func(id, name string, n int) Channel {
		return Channel{id, name, "°C", func(w *sim.World) float64 { return w.BankCatalystK(1, n) - 273.15 }}
	}
	return []Channel{
		{"air_flow_2", "air into the exhaust, bank 2", "kg/h", func(w *sim.World) float64 { return w.Bank(1).AirKgS * 3600 }},
		{"exhaust_ratio_2", "exhaust air-fuel ratio, relative, bank 2", "", func(w *sim.World) float64 { return w.Bank(1).Ratio }},
		{"sensor_ratio_2", "the same as the sensor of bank 2 has it", "", func(w *sim.World) float64 { return w.Bank(1).Seen }},
		{"short_trim_2", "short fuel trim, bank 2", "%", func(w *sim.World) float64 { v, _ := w.FuelTrims(1); return v * 100 }},
		{"long_trim_2", "long fuel trim, bank 2", "%", func(w *sim.World) float64 { _, v := w.FuelTrims(1); return v * 100 }},
		{"port_pressure_2", "pressure at the exhaust ports, bank 2", "kPa", func(w *sim.World) float64 { return w.Bank(1).PortPa / 1000 }},
		cell("catalyst_front_2", "catalyst of bank 2, front", 0),
		cell("catalyst_middle_2", "catalyst of bank 2, middle", last/2),
		cell("catalyst_rear_2", "catalyst of bank 2, rear", last),
		{"conversion_2", "the own conversion of bank 2's bed", "%", func(w *sim.World) float64 { return w.Bank(1).Conversion * 100 }},
	}
}

// roles are the channels that have the same name in every car that has such a thing.
func roles(c *car.Car) []Channel {
	var list []Channel
	motor, pumped := "", false
	for _, p := range c.Pneumatic.Parts {
		if (p.Kind == "pump" || p.Kind == "belt_pump") && !pumped {
			motor, pumped = p.Motor, true
			if slices.ContainsFunc(c.Pneumatic.Volumes, func(v air.Volume) bool { return v.ID == p.B }) {
				list = append(list, Channel{"pipe_pressure", "pressure in the pipe", "kPa", func(w *sim.World) float64 { return -orNaN(w.Vacuum(p.B)) / 1000 }})
			}
		}
		switch {
		case p.Chamber == "":
		case !has(list, "chamber_vacuum"):
			list = append(list, named(gauge(p.Chamber), "chamber_vacuum", "chamber vacuum"), lift("valve_lift", "valve, lift", p.ID))
		case c.Banks == 2 && !has(list, "chamber_vacuum_2"):
			list = append(list, named(gauge(p.Chamber), "chamber_vacuum_2", "chamber vacuum, bank 2"), lift("valve_lift_2", "valve of bank 2, lift", p.ID))
		}
	}
	for _, e := range c.Electrical.Elements {
		if motor == "" || e.ID != motor {
			continue
		}
		list = append(list,
			Channel{"pump_current", "pump current", "A", func(w *sim.World) float64 { return w.MotorAmps(motor) }},
			Channel{"pump_voltage", "voltage at the pump", "V", func(w *sim.World) float64 { return orNaN(w.Volts(e.A, e.B)) }},
			Channel{"pump_speed", "pump speed", "rpm", func(w *sim.World) float64 { return w.PumpSpeed(motor) * 30 / math.Pi }},
			Channel{"pump_winding", "pump, winding", "°C", func(w *sim.World) float64 { return w.MotorK(motor) - 273.15 }})
	}
	return list
}

func electrical(id, kind string) []Channel {
	amps := Channel{id + ".current", id + ", current", "A", func(w *sim.World) float64 { return orNaN(w.Amps(id)) }}
	switch kind {
	case "connector":
		return nil
	case "relay", "coil":
		return []Channel{amps, {id + ".coil", id + ", coil current", "A", func(w *sim.World) float64 { return math.Abs(orNaN(w.CoilAmps(id))) }},
			{id + ".pulled", id + ", pulled in", "", func(w *sim.World) float64 { return bit(w.CoilOn(id)) }}}
	case "motor":
		return []Channel{amps, {id + ".speed", id + ", speed", "rpm", func(w *sim.World) float64 { return w.PumpSpeed(id) * 30 / math.Pi }},
			{id + ".winding", id + ", winding", "°C", func(w *sim.World) float64 { return w.MotorK(id) - 273.15 }}}
	}
	return []Channel{amps}
}

func gauge(id string) Channel {
	return Channel{id + ".vacuum", id + ", vacuum", "kPa", func(w *sim.World) float64 { return orNaN(w.Vacuum(id)) / 1000 }}
}

func lift(id, name, part string) Channel {
	return Channel{id, name, "mm", func(w *sim.World) float64 { return w.ValveLift(part) * 1000 }}
}

func named(c Channel, id, name string) Channel {
	c.ID, c.Name = id, name
	return c
}

func has(list []Channel, id string) bool {
	return slices.ContainsFunc(list, func(c Channel) bool { return c.ID == id })
}

func orNaN(v float64, err error) float64 {
	if err != nil {
		return math.NaN()
	}
	return v
}

func bit(on bool) float64 {
	if on {
		return 1
	}
	return 0
}

// UnknownError names a channel that the car does not have.
type UnknownError struct {
	Channel string
	Allowed []string
}

// Error lists what is allowed.
func (e *UnknownError) Error() string {
	return fmt.Sprintf("there is no channel %q; allowed are %s", e.Channel, strings.Join(e.Allowed, ", "))
}

// Select finds channels by id; none means the usual ones that the car has.
func Select(c *car.Car, ids []string) ([]Channel, error) {
	all := Channels(c)
	usual := len(ids) == 0
	if usual {
		ids = Usual()
	}
	var out []Channel
	for _, id := range ids {
		i := slices.IndexFunc(all, func(x Channel) bool { return x.ID == id })
		switch {
		case i >= 0:
			out = append(out, all[i])
		case !usual:
			e := &UnknownError{Channel: id}
			for _, x := range all {
				e.Allowed = append(e.Allowed, x.ID)
			}
			return nil, e
		}
	}
	return out, nil
}

// Usual are the channels recorded when none are named.
func Usual() []string {
	return []string{"run", "rpm", "pump_current", "pump_voltage", "battery_voltage", "pump_speed", "manifold_vacuum", "chamber_vacuum", "valve_lift",
		"chamber_vacuum_2", "valve_lift_2", "pipe_pressure", "air_flow", "air_flow_2", "engine_air", "exhaust_ratio", "exhaust_ratio_2",
		"catalyst_front", "catalyst_middle", "catalyst_rear", "conversion",
		"catalyst_front_2", "catalyst_middle_2", "catalyst_rear_2", "conversion_2", "coolant"}
}
