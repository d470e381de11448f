package score

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"slices"
	"strings"

	"coldbay/grading/dictionary"
	"coldbay/grading/plan"
	"coldbay/scenarios"
)

// reckoned is a candidate as it is shipped, with the dictionary that it was reckoned from. Reckoning one again takes a browser
// more than a second, and nobody is to wait for that at the end of a job.
type reckoned struct {
	Candidate
	Dictionary string // sha256 of the packed file, hex
}

// Candidates are the library's orders that come with a dictionary, for [Case.Candidates]. Orders without one are left out. What comes
// with the program is taken as it is where it was made from the dictionary of today, and reckoned again where it was not.
func Candidates(ctx context.Context, lib *scenarios.Library) ([]Candidate, error) {
	shipped, err := shippedCandidates()
	if err != nil {
		return nil, err
	}
	var out []Candidate
	for _, id := range lib.OrderIDs() {
		o, err := lib.Load(id)
		if err != nil {
			return nil, err
		}
		if !lib.Shipped(o) {
			continue // a school's own order, or its own tariff: nothing that comes with the program was reckoned from it
		}
		file, packed, err := scenarios.DictionaryFile(id)
		if errors.Is(err, fs.ErrNotExist) {
			continue
		}
		if err != nil {
			return nil, err
		}
		if i := slices.IndexFunc(shipped, func(r reckoned) bool { return r.Order == id && r.Dictionary == digest(packed) }); i >= 0 {
			c := shipped[i].Candidate
			c.Title = o.Order.Title
			out = append(out, c)
			continue
		}
		cfg, procs, err := frame(lib, o, "")
		if err != nil {
			return nil, err
		}
		d, err := dictionary.Unpack(file, packed, dictionary.Name(cfg.Config, procs.Source()))
		if err != nil {
			continue // an author's own order under a shipped id
		}
		c, err := candidate(ctx, d, procs)
		if err != nil {
			return nil, fmt.Errorf("order %s: %w", id, err)
		}
		c.Order, c.Title = id, o.Order.Title
		out = append(out, c)
	}
	return out, nil
}

func shippedCandidates() ([]reckoned, error) {
	name, data, err := scenarios.PractiseFile()
	if err != nil {
		return nil, err
	}
	return parseCandidates(name, data)
}

func parseCandidates(name string, data []byte) ([]reckoned, error) {
	var list []reckoned
	if err := json.Unmarshal(data, &list); err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	return list, nil
}

// Reckon puts an order's candidate, made from its dictionary, into the file of candidates that is shipped, and returns the file as it
// is to be written. Packed is the dictionary as it is shipped. The file is in the order of the ids; one that is empty begins.
func Reckon(ctx context.Context, file []byte, order string, d *plan.Dictionary, packed []byte, procs *dictionary.Procedures) ([]byte, error) {
	var list []reckoned
	if len(file) > 0 {
		var err error
		if list, err = parseCandidates("candidates", file); err != nil {
			return nil, err
		}
	}
	c, err := candidate(ctx, d, procs)
	if err != nil {
		return nil, fmt.Errorf("order %s: %w", order, err)
	}
	c.Order = order
	list = slices.DeleteFunc(list, func(r reckoned) bool { return r.Order == order })
	list = append(list, reckoned{Candidate: c, Dictionary: digest(packed)})
	slices.SortFunc(list, func(a, b reckoned) int { return strings.Compare(a.Order, b.Order) })
	out, err := json.MarshalIndent(list, "", "  ")
	return append(out, '\n'), err
}

func digest(data []byte) string {
	sum := sha256.Sum256(data)
	return hex.EncodeToString(sum[:])
}

// candidate divides the plan's expected minutes by kind, weighing each place of its tree by the suspects that come there.
func candidate(ctx context.Context, d *plan.Dictionary, procs *dictionary.Procedures) (Candidate, error) {
	c := Candidate{Kinds: map[string]float64{}}
	p, err := plan.New(d, plan.Options{Nodes: d.Effort()})
	if err != nil {
		return c, err
	}
	root, _, err := p.Policy(ctx, d.All(), d.Start)
	if err != nil {
		return c, err
	}
	all := float64(d.Weight(d.All()))
	c.Minutes = float64(root.Value.Hi) / all / 60
	var walk func(n *plan.Node) error
	walk = func(n *plan.Node) error {
		share := float64(d.Weight(n.Left)) / all
		for _, s := range n.Do {
			kind := KindSetUp
			switch s.Act {
			case plan.ActTest:
				id, _, _ := strings.Cut(d.Tests[s.Index].ID, "@")
				proc, err := procs.Find(id)
				if err != nil {
					return err
				}
				kind = kindOfSteps(proc.Steps)
			case plan.ActRepair, plan.ActVerify:
				kind = KindParts
			}
			c.Kinds[kind] += share * float64(s.Seconds) / 60
		}
		for _, b := range n.Branches {
			if b.Next != nil {
				if err := walk(b.Next); err != nil {
					return err
				}
			}
		}
		return nil
	}
	return c, walk(root)
}
