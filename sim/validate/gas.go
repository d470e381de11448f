package validate

import (
	"fmt"
	"strconv"

	"coldbay/sim/exhaust"
)

// exhaustGas holds the composition of exhaust, the ratio found back from it, and the narrow sensor's voltage against worked-out tables.
func exhaustGas(g *Ground, s *sheet) error {
	lean, err := g.table("reference/exhaust_lean.csv")
	if err != nil {
		return err
	}
	balance := Source{Worked, "atom balance of CH1.85 in air (reference/exhaust_lean.csv, exhaust_rich.csv); water-gas constant 3.5"}
	for i := range lean.rows {
		l := lean.num(i, "lambda")
		gas := exhaust.Compose(l, l, 0, 0)
		s.near(fmt.Sprintf("gas.lean_o2_%.2f", l), fmt.Sprintf("oxygen in dry exhaust at ratio %.2f", l), 100*gas.O2, lean.num(i, "O2_dry"), 0.005, "%", balance)
		s.near(fmt.Sprintf("gas.lean_co2_%.2f", l), fmt.Sprintf("carbon dioxide at ratio %.2f", l), 100*gas.CO2, lean.num(i, "CO2_dry"), 0.005, "%", balance)
	}
	rich, err := g.table("reference/exhaust_rich.csv")
	if err != nil {
		return err
	}
	for i := range rich.rows {
		l := rich.num(i, "lambda")
		gas := exhaust.Compose(l, l, 0, 1)
		s.near(fmt.Sprintf("gas.rich_co_%.2f", l), fmt.Sprintf("carbon monoxide at ratio %.2f", l), 100*gas.CO, rich.num(i, "CO_dry"), 0.01, "%", balance)
		s.near(fmt.Sprintf("gas.rich_h2_%.2f", l), fmt.Sprintf("hydrogen at ratio %.2f", l), 100*gas.H2, rich.num(i, "H2_dry"), 0.01, "%", balance)
	}
	mixed, err := g.table("reference/mixing.csv")
	if err != nil {
		return err
	}
	for i := range mixed.rows {
		burnt := mixed.num(i, "burnt_fraction")
		gas := exhaust.Compose(mixed.num(i, "lambda_engine"), mixed.num(i, "lambda_total"), 0, 1-burnt)
		id := fmt.Sprintf("gas.mixed_%d", i+1)
		what := fmt.Sprintf("rich exhaust of ratio %.2f with air to %.2f, %.0f %% burnt", mixed.num(i, "lambda_engine"), mixed.num(i, "lambda_total"), 100*burnt)
		src := Source{Worked, "atom balance, reference/mixing.csv"}
		s.near(id+"_o2", "oxygen, "+what, 100*gas.O2, mixed.num(i, "O2_dry"), 0.01, "%", src)
		s.near(id+"_co", "carbon monoxide, "+what, 100*gas.CO, mixed.num(i, "CO_dry"), 0.01, "%", src)
	}
	if err := brettschneiderRows(g, s); err != nil {
		return err
	}
	return nernstRows(g, s)
}

func brettschneiderRows(g *Ground, s *sheet) error {
	bs, err := g.table("reference/brettschneider.csv")
	if err != nil {
		return err
	}
	for i := range bs.rows {
		gas := exhaust.Gas{CO2: bs.num(i, "CO2") / 100, CO: bs.num(i, "CO") / 100, O2: bs.num(i, "O2") / 100, HC: bs.num(i, "HC_ppm") / 1e6}
		s.near(fmt.Sprintf("gas.brettschneider_%d", i+1), fmt.Sprintf("ratio from CO2 %.1f, CO %.1f, O2 %.1f %%, HC %.0f ppm", bs.num(i, "CO2"), bs.num(i, "CO"), bs.num(i, "O2"), bs.num(i, "HC_ppm")),
			exhaust.Brettschneider(gas), bs.num(i, "lambda"), 2e-4, "", Source{Worked, "Brettschneider's equation; reference/brettschneider.csv"})
	}
	return nil
}

func nernstRows(g *Ground, s *sheet) error {
	nernst, err := g.table("reference/nernst.csv")
	if err != nil {
		return err
	}
	for i := range nernst.rows {
		c := nernst.num(i, "temperature_C")
		for _, p := range []string{"0.10", "0.05", "0.01", "1e-10", "1e-15", "1e-20"} {
			atm, err := strconv.ParseFloat(p, 64)
			if err != nil {
				return err
			}
			tolerance := 0.05
			if atm < 0.01 { // the table is rounded there
				tolerance = 0.1
			}
			s.near(fmt.Sprintf("gas.nernst_%.0f_%s", c, p), fmt.Sprintf("zirconia sensor at %.0f °C, %s atm of oxygen", c, p), 1000*exhaust.Nernst(c+273.15, atm),
				nernst.num(i, "pO2_"+p), tolerance, "mV", Source{Worked, "E = RT/4F ln(0.2095/pO2) with exact constants; reference/nernst.csv"})
		}
	}
	return nil
}
