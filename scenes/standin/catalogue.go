package standin

import (
	"fmt"
	"os"
	"path/filepath"

	"gopkg.in/yaml.v3"

	"coldbay/sim/bench"
	"coldbay/sim/car"
)

type thing struct {
	ID, Name, Place string
	WhenOpen        string `yaml:"when_open"`
	WhenRemoved     string `yaml:"when_removed"`
}

type carFile struct {
	Name string
	Bay  struct{ Places, Terminals, Ports, Hoses, Connectors, Parts, Clamps []thing }
	Air  struct {
		Hoses []struct{ ID, A, B string }
	}
	Units []struct {
		ID, Name      string
		Part, Minutes int
		Mend          bool
	}
	Faults []struct {
		ID, Name, Unit string
		Weight         int
	}
	Spec []struct{ Item, Value string }
}

// root is the module's folder.
func root() string {
	dir, err := os.Getwd()
	if err != nil {
		return "."
	}
	for {
		if _, err := os.Stat(filepath.Join(dir, "go.mod")); err == nil || dir == filepath.Dir(dir) {
			return dir
		}
		dir = filepath.Dir(dir)
	}
}

// Plan is a car read from its file.
func Plan(id string) (*car.Car, error) {
	name := filepath.Join(root(), "scenarios", "cars", id+".yaml")
	raw, err := os.ReadFile(name)
	if err != nil {
		return nil, fmt.Errorf("read car: %w", err)
	}
	return car.Parse(name, raw)
}

// Catalogue is a car's, read from its file, with an invented order.
func Catalogue(id string) (bench.Catalogue, error) {
	var c bench.Catalogue
	raw, err := os.ReadFile(filepath.Join(root(), "scenarios", "cars", id+".yaml"))
	if err != nil {
		return c, fmt.Errorf("read car: %w", err)
	}
	var f carFile
	if err := yaml.Unmarshal(raw, &f); err != nil {
		return c, fmt.Errorf("read car: %w", err)
	}
	c.Car = "Training car A"
	if id != "car_a" {
		c.Car = f.Name
	}
	c.Order = bench.OrderInfo{ID: "first", Title: "Cold start, lamp on", Customer: "Mrs Adelaar",
		Vehicle:   "Training car A, 2.0 l, seven years old, 96 000 km",
		Complaint: "The yellow lamp came on two days ago, on a cold morning. The car drives as always. It was serviced last month.",
		History:   "Two cold starts since; the lamp stayed on. At the service last month the air filter was renewed and the battery checked. Nothing else is known.",
		Minutes:   60}
	spots := func(in []thing) []bench.Spot {
		out := make([]bench.Spot, len(in))
		for i, t := range in {
			out[i] = bench.Spot{ID: t.ID, Name: t.Name, Place: t.Place}
			if t.WhenOpen != "" {
				out[i].When = "open:" + t.WhenOpen
			}
			if t.WhenRemoved != "" {
				out[i].When = "removed:" + t.WhenRemoved
			}
		}
		return out
	}
	for _, p := range f.Bay.Places {
		c.Places = append(c.Places, bench.Named{ID: p.ID, Name: p.Name})
	}
	c.Terminals, c.Ports, c.Connectors = spots(f.Bay.Terminals), spots(f.Bay.Ports), spots(f.Bay.Connectors)
	c.Parts, c.Clamps = spots(f.Bay.Parts), spots(f.Bay.Clamps)
	place := map[string]string{}
	for _, p := range c.Ports {
		place[p.ID] = p.Place
	}
	names := map[string]string{}
	for _, h := range f.Bay.Hoses {
		names[h.ID] = h.Name
	}
	for _, h := range f.Air.Hoses {
		c.Hoses = append(c.Hoses, bench.HoseInfo{ID: h.ID, Name: names[h.ID], PortA: h.A, PortB: h.B, PlaceA: place[h.A], PlaceB: place[h.B]})
	}
	for _, u := range f.Units {
		c.Units = append(c.Units, bench.UnitInfo{ID: u.ID, Name: u.Name, Price: u.Part, Minutes: u.Minutes, Mend: u.Mend})
	}
	total := 10
	for _, x := range f.Faults {
		total += x.Weight
	}
	for _, x := range f.Faults {
		c.Suspects = append(c.Suspects, bench.Suspect{ID: x.ID, Name: x.Name, Units: []string{x.Unit}, Share: (100*x.Weight + total/2) / total})
	}
	c.Suspects = append(c.Suspects,
		bench.Suspect{ID: "inlet_off_worn_pump", Name: "air pump worn, because the inlet hose is off", Units: []string{"inlet_hose", "air_pump"}, Share: 4},
		bench.Suspect{ID: "no_fault_found", Name: "no fault found", Share: 6})
	c.Tools = []string{"meter", "clamp", "lamp", "jumper", "handpump", "blow", "scan", "helper", "smoke", "analyser"}
	c.Outputs = []string{"pump", "solenoid", "both"}
	c.PIDs = []bench.PIDInfo{{PID: "0C", Name: "engine speed", Unit: "rpm"}, {PID: "05", Name: "coolant temperature", Unit: "degC"},
		{PID: "10", Name: "air mass flow", Unit: "g/s"}, {PID: "06", Name: "short fuel trim, bank 1", Unit: "%"}, {PID: "12", Name: "commanded secondary air", Unit: ""},
		{PID: "42", Name: "control module voltage", Unit: "V"}, {PID: "0B", Name: "manifold pressure", Unit: "kPa"}}
	for _, s := range f.Spec {
		c.Spec = append(c.Spec, [2]string{s.Item, s.Value})
	}
	c.Cautions = []string{
		"This is training only. The vehicle's own service information, local rules and licensed practice come first.",
		"Run an engine indoors only with the exhaust extraction connected. Exhaust is never sniffed.",
		"Exhaust parts and an open air port burn. Keep hands, hair and leads clear of belts and fans.",
		"Use a jumper lead only with a fuse that fits its wire, and never on a control unit's driver pin.",
		"Disabling emission controls on a road vehicle is unlawful in many places.",
	}
	return c, nil
}
