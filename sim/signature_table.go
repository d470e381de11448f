package sim

import (
	"context"
	"errors"
	"fmt"
	"slices"

	"coldbay/sim/car"
)

// SignatureTable is the signatures of a car: of a sound one, and of those with one fault each.
type SignatureTable struct {
	Car    *car.Car
	Probes SignatureProbes
	Cond   Conditions
	Sound  Signature
	Rows   []Signature // one fault's severities follow one another
}

// ReferenceConditions are those that the kept tables of signatures are read in: 20 degrees Celsius, sea level, the nominal car.
func ReferenceConditions() Conditions { return Conditions{AmbientK: 293.15, AmbientPa: 101325} }

// SignatureSeverities are those that a fault is read at: faint, plain, as bad as it gets.
func SignatureSeverities() []float64 { return []float64{0.3, 0.6, 1} }

// Graded says whether a fault or fault set of the car has severities: another is there or not.
func Graded(c *car.Car, fault string) (bool, error) {
	members, err := c.Members(fault)
	if err != nil {
		return false, err
	}
	return slices.ContainsFunc(members, func(f *car.Fault) bool { return !f.Fixed }), nil
}

// FaultName is the name of a fault or fault set of the car, "" for another.
func FaultName(c *car.Car, id string) string {
	if f, ok := c.Fault(id); ok {
		return f.Name
	}
	for _, s := range c.Sets {
		if s.ID == id {
			return s.Name
		}
	}
	if id == c.NoFault.ID {
		return c.NoFault.Name
	}
	return ""
}

// Catalogue is the car's faults and fault sets in the order of its file, each at the severities of a table; one that has none, at 1.
func Catalogue(c *car.Car) ([]FaultChoice, error) {
	var ids []string
	for _, f := range c.Faults {
		ids = append(ids, f.ID)
	}
	for _, s := range c.Sets {
		ids = append(ids, s.ID)
	}
	var all []FaultChoice
	for _, id := range ids {
		some, err := AtSeverities(c, id)
		if err != nil {
			return nil, err
		}
		all = append(all, some...)
	}
	return all, nil
}

// AtSeverities is one fault at the severities of a table.
func AtSeverities(c *car.Car, id string) ([]FaultChoice, error) {
	graded, err := Graded(c, id)
	if err != nil {
		return nil, err
	}
	if !graded {
		return []FaultChoice{{id, 1}}, nil
	}
	var all []FaultChoice
	for _, severity := range SignatureSeverities() {
		all = append(all, FaultChoice{id, severity})
	}
	return all, nil
}

// InTurn does n things one after another.
func InTurn(n int, do func(i int)) {
	for i := range n {
		do(i)
	}
}

// SignAll reads the signatures of a sound car and of the choices. Worlds share nothing, so each may do them at the same time: it calls
// do once for every number from 0 to n-1 and returns when all are done, as [InTurn] does. SignAll ends early when ctx does.
func SignAll(ctx context.Context, c *car.Car, p SignatureProbes, cond Conditions, choices []FaultChoice, each func(n int, do func(i int))) (*SignatureTable, error) {
	t := &SignatureTable{Car: c, Probes: p, Cond: cond}
	var err error
	if t.Sound, err = Sign(c, p, cond, "", 0); err != nil {
		return nil, fmt.Errorf("signatures of %s: %w", c.ID, err)
	}
	t.Rows = make([]Signature, len(choices))
	errs := make([]error, len(choices))
	each(len(choices), func(i int) {
		if errs[i] = ctx.Err(); errs[i] == nil {
			t.Rows[i], errs[i] = Sign(c, p, cond, choices[i].ID, choices[i].Severity)
		}
	})
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	if err := errors.Join(errs...); err != nil {
		return nil, fmt.Errorf("signatures of %s: %w", c.ID, err)
	}
	return t, nil
}

// columns are those of the car.
func (t *SignatureTable) columns() []SignatureColumn {
	return slices.DeleteFunc(SignatureColumns(), func(k SignatureColumn) bool { return !k.On(t.Car, t.Probes) })
}

// lacks names what the car has not.
func (t *SignatureTable) lacks() []string {
	var out []string
	for _, x := range []struct {
		has  bool
		name string
	}{
		{t.Probes.Motor != "", "electric pump"}, {t.Probes.Chamber != "", "vacuum chamber"}, {t.Probes.LineEnd != "", "vacuum line to the valve"},
		{t.Probes.Reservoir != "", "vacuum reservoir"}, {t.Probes.CoilPlug != "", "solenoid"}, {t.Car.Banks == 2, "second bank"}, {t.Car.ScanPort, "socket for a scan tool"},
	} {
		if !x.has {
			out = append(out, x.name)
		}
	}
	return out
}
