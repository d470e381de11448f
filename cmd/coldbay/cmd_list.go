package main

import (
	"context"
	"fmt"

	"coldbay/scenarios"
	"coldbay/scenarios/lessons"
)

const listUsage = `Usage: coldbay list [--json]

Lists the work orders from the easiest to the hardest, the lessons, the cars, and
the faults that a car can have. It does not say which order has which fault.

Options:
  --json   a JSON object: orders (id, title, car, minutes, level 1 to 4,
           suspects), lessons (id, number, title, aim, car, minutes) and cars
           (id, name, summary, faults with id, name, unit, weight)

Examples:
  coldbay list
  coldbay list --json
`

func listCommand() command {
	return command{name: "list", summary: "orders, lessons, cars, faults", usage: listUsage, run: runList}
}

type listing struct {
	Orders  []listedOrder  `json:"orders"`
	Lessons []listedLesson `json:"lessons"`
	Cars    []listedCar    `json:"cars"`
}

type listedOrder struct {
	ID       string `json:"id"`
	Title    string `json:"title"`
	Car      string `json:"car"`
	Minutes  int    `json:"minutes"`
	Level    int    `json:"level"`
	Suspects int    `json:"suspects"`
}

type listedLesson struct {
	ID      string `json:"id"`
	Number  int    `json:"number"`
	Title   string `json:"title"`
	Aim     string `json:"aim"`
	Car     string `json:"car"`
	Minutes int    `json:"minutes"`
}

type listedCar struct {
	ID      string        `json:"id"`
	Name    string        `json:"name"`
	Summary string        `json:"summary"`
	Faults  []listedFault `json:"faults"`
}

type listedFault struct {
	ID     string `json:"id"`
	Name   string `json:"name"`
	Unit   string `json:"unit"`
	Weight int    `json:"weight"`
}

func runList(_ context.Context, p *Program, args []string) error {
	flags := newFlags("list")
	asJSON := flags.Bool("json", false, "")
	if err := flags.none(args); err != nil {
		return err
	}
	lib, err := scenarios.Builtin()
	if err != nil {
		return err
	}
	var out listing
	for _, o := range lib.ByLevel() {
		out.Orders = append(out.Orders, listedOrder{ID: o.Order.ID, Title: o.Order.Title, Car: o.Order.Car, Minutes: o.Order.Minutes,
			Level: int(o.Level()), Suspects: o.Suspects()})
	}
	shelf, err := lessons.Builtin()
	if err != nil {
		return err
	}
	for _, l := range shelf.Lessons {
		out.Lessons = append(out.Lessons, listedLesson{ID: l.ID, Number: l.Number, Title: l.Title, Aim: l.Aim, Car: l.Car, Minutes: l.Minutes})
	}
	for _, id := range lib.CarIDs() {
		c, err := lib.Car(id)
		if err != nil {
			return err
		}
		lc := listedCar{ID: id, Name: c.Car.Name, Summary: c.Car.Summary}
		for _, f := range c.Car.Faults {
			lc.Faults = append(lc.Faults, listedFault{f.ID, f.Name, f.Unit, f.Weight})
		}
		for _, s := range c.Car.Sets {
			lc.Faults = append(lc.Faults, listedFault{s.ID, s.Name, s.Root, s.Weight})
		}
		out.Cars = append(out.Cars, lc)
	}
	if *asJSON {
		return p.writeJSON(out)
	}
	fmt.Fprintln(p.Stdout, "Work orders, the easiest first")
	for _, o := range out.Orders {
		fmt.Fprintf(p.Stdout, "  %-16s %s (about %d minutes, %s, level %d of %d)\n", o.ID, o.Title, o.Minutes, o.Car, o.Level, scenarios.Hardest)
	}
	fmt.Fprintln(p.Stdout, "\nLessons, played in the window: bay -lesson ID")
	for _, l := range out.Lessons {
		fmt.Fprintf(p.Stdout, "  %-16s %d. %s (about %d minutes, %s)\n", l.ID, l.Number, l.Title, l.Minutes, l.Car)
	}
	for _, c := range out.Cars {
		fmt.Fprintf(p.Stdout, "\n%s: %s. %s\nFaults it can have, with their rough weight [common practice, no source]\n", c.ID, c.Name, c.Summary)
		for _, f := range c.Faults {
			fmt.Fprintf(p.Stdout, "  %-22s %3d  %s\n", f.ID, f.Weight, f.Name)
		}
	}
	return nil
}
