package bench_test

import (
	"slices"
	"strings"
	"testing"

	"coldbay/scenarios"
	"coldbay/sim/bench"

	"github.com/stretchr/testify/require"
)

// What a thorough mechanic does with the other cars, most telling first, in pieces that each begin with the car as it came in.
var surveys = map[string][]string{
	"car_b": {
		"scan on\nextract on\nclamp w_feed zero\nmeter volts mot_1h mot_2h\nstart\nwatch 20\nlisten pump\nread clamp\nread meter\nlook dash\ndata 05 0F 42 06 07 14\nwatch 100\ncodes pending\nlisten pump\ndata 06 07\nfeel pressure_pipe\nanalyse\nstop",
		"look front bend\nlook pump bend\nlook valve bend\nlook battery bend",
		"pull inlet_hose.a\npull inlet_hose.b\nlook pump\npull pressure_pipe.b\nlook valve\nremove valve\nlook valve",
		"remove fuse40\nlook battery\nremove relay\nlook pump\nmeter ohms rel_85 rel_86",
		"open motor_plug\nmeter ohms mot_1 mot_2",
		"scan on\nkey on\nmeter volts mot_1h mot_2h\nactuator pump\nlisten pump\nfeel tailpipe",
		"pull pressure_pipe.b\nsmoke pressure_pipe.b\nsmoke valve_inlet",
	},
	"car_c": {
		"scan on\nextract on\nclamp w_feed zero\nmeter volts pump_1h pump_2h\nstart\nwatch 20\ndata 34 38\nlisten pump\nread clamp\nread meter\nlook dash\ndata 05 0F 42 06 07 08 09\nwatch 100\ncodes pending\nlisten pump\nlisten solenoid\ndata 06 07 08 09\nfeel branch_pipe\nfeel branch_pipe_2\nanalyse\nstop",
		"look front bend\nlook pump bend\nlook valve bend\nlook valve_2 bend\nlook solenoid bend\nlook battery bend",
		"pull line_supply.b\nhandpump line_supply.b\nextract on\nstart\nwatch 10\nread gauge\nstop\nwatch 60\nread gauge",
		"pull line_tee.b\nhandpump line_tee.b\nstroke 8\nholdvac 10\nrelease\nhandpump off\nsmoke sol_out\nblow sol_out",
		"pull line_tee.a\nhandpump line_tee.a\nextract on\nstart\nwatch 10\nread gauge\nwatch 90\nread gauge",
		"pull inlet_hose.b\nlook pump\npull branch_pipe.b\nlook valve\npull line_valve.a\nremove valve\nlook valve\npull branch_pipe_2.b\npull line_valve_2.a\nremove valve_2\nlook valve_2",
		"open pump_plug\nlook pump\nopen sol_plug\nmeter ohms sol_1 sol_2",
	},
	"car_d": {
		"listen pump\nextract on\nmeter volts sol_1h sol_2h\nstart\nlisten pump\nwatch 8\nread meter\nfeel div_dump\nwatch 75\nfeel div_dump\nlisten diverter\nlisten valve\nlook dash\nwatch 60\nread meter\nfeel div_dump\nfeel air_hose\nlisten solenoid\nanalyse\nstop",
		"look front bend\nlook pump bend\nlook diverter bend\nlook valve bend\nlook solenoid bend\nlook battery bend",
		"pull line_supply.b\nhandpump line_supply.b\nextract on\nstart\nwatch 10\nread gauge\nstop",
		"pull line_diverter.b\nhandpump line_diverter.b\nstroke 6\nholdvac 10\nrelease\nhandpump off\nsmoke sol_out\nblow sol_out",
		"pull line_diverter.a\nhandpump line_diverter.a\nextract on\nstart\nwatch 12\nread gauge\nwatch 130\nread gauge",
		"pull air_hose.a\nlook valve\nblow check_inlet\nremove check\nlook valve\npull inlet_hose.b\nlook pump",
		"open sol_plug\nmeter ohms sol_1 sol_2",
	},
}

// Every fault and fault set of the cars B, C and D, at its worst, changes something that the senses or an instrument get, within the survey.
// Where it does, the rest of the survey is left out.
func TestEveryFaultOfTheOtherCarsIsFelt(t *testing.T) {
	lib, err := scenarios.Builtin()
	require.NoError(t, err)
	for order, id := range map[string]string{"half_a_breath": "car_b", "left_bank": "car_c", "burnt_hose": "car_d"} {
		c, err := lib.Car(id)
		require.NoError(t, err)
		open := func(fault string) *bench.Local {
			cfg := config(t, order, fault, 1)
			o := *cfg.Order
			o.History, o.Withheld = nil, nil
			cfg.Order = &o
			s, err := bench.NewLocal(cfg)
			require.NoError(t, err)
			return s
		}
		classes := func(s *bench.Local, part string) (out []string) {
			l := s.Clone()
			tryPlay(t, l, part)
			for _, f := range l.Ledger() {
				for _, c := range f.Classes() {
					out = append(out, c.String())
				}
			}
			return out
		}
		sound := open("no_fault_found")
		var healthy []string
		for _, part := range surveys[id] {
			got := classes(sound, part)
			require.NotEmpty(t, got, part)
			healthy = append(healthy, strings.Join(got, "\n"))
		}
		faults := c.Layout.SuspectIDs()
		for _, f := range c.Car.Faults {
			if f.InSets {
				faults = append(faults, f.ID)
			}
		}
		late := 0
		for _, fault := range faults {
			if fault == "no_fault_found" {
				continue
			}
			s := open(fault)
			at := slices.IndexFunc(surveys[id], func(part string) bool {
				return strings.Join(classes(s, part), "\n") != healthy[slices.Index(surveys[id], part)]
			})
			require.GreaterOrEqual(t, at, 0, "%s: nothing tells %s", id, fault)
			if at > 0 {
				late++
			}
		}
		t.Logf("%s: %d faults, %d of them told by more than the cold run", id, len(faults), late)
	}
}
