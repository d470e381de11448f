package validate

import (
	"encoding/hex"
	"fmt"
	"math"
	"strconv"

	"coldbay/sim/scan"
)

func scanStations() []station {
	return []station{{name: "scan messages", group: "Scan messages", how: ByFormula, once: true, run: scanBytes}}
}

func scanBytes(g *Ground, s *sheet) error {
	t, err := g.table("reference/j1979_examples.csv")
	if err != nil {
		return err
	}
	for i := range t.rows {
		raw, err := hex.DecodeString(t.text(i, "bytes"))
		if err != nil {
			return err
		}
		pid, err := strconv.ParseUint(t.text(i, "pid"), 16, 8)
		if err != nil {
			return err
		}
		got, err := scan.Decode(byte(pid), raw)
		if err != nil {
			return err
		}
		want, first := t.num(i, "value1"), math.NaN()
		if len(got) > 0 {
			first = got[0].Value
		}
		what := fmt.Sprintf("parameter $%s, data %s", t.text(i, "pid"), t.text(i, "bytes"))
		s.near(fmt.Sprintf("scan.%s_%s", t.text(i, "pid"), t.text(i, "bytes")), what, first, want, 1e-7+math.Abs(want)*1e-9, t.text(i, "unit1"),
			Source{Standard, "SAE J1979 scaling as two independent open decoders have it; reference/j1979_examples.csv (" + t.text(i, "mark") + ")"})
	}
	codes, err := g.table("reference/j2012_bytes.csv")
	if err != nil {
		return err
	}
	wrong := 0
	for i := range codes.rows {
		d, err := scan.ParseDTC(codes.text(i, "code"))
		if err != nil {
			return err
		}
		if b := d.Bytes(); hex.EncodeToString(b[:]) != codes.text(i, "bytes") {
			wrong++
		}
	}
	s.near("scan.dtc", fmt.Sprintf("trouble codes of %d whose two bytes differ", len(codes.rows)), float64(wrong), 0, 0.5, "", Source{Standard, "SAE J2012 layout, unit tests of an open decoder; reference/j2012_bytes.csv"})
	ids, err := g.table("reference/j1979_scaling_ids.csv")
	if err != nil {
		return err
	}
	wrong = 0
	for i := range ids.rows {
		id, err := strconv.ParseUint(ids.text(i, "id"), 16, 8)
		if err != nil {
			return err
		}
		sc, ok := scan.LookupScaling(byte(id))
		if !ok || sc.Unit != ids.text(i, "unit") || sc.Factor != ids.num(i, "factor") || sc.Offset != ids.num(i, "offset") {
			wrong++
		}
	}
	s.near("scan.scalings", fmt.Sprintf("unit and scaling identifiers of %d that differ", len(ids.rows)), float64(wrong), 0, 0.5, "", Source{Standard, "SAE J1979 service $06, open decoder; reference/j1979_scaling_ids.csv"})
	r := scan.Readiness{Supported: scan.MonitorsOf(scan.SecondaryAir), Incomplete: scan.MonitorsOf(scan.SecondaryAir)}
	raw := r.Bytes()
	s.word("scan.readiness", "secondary air not complete: data C and D of parameter $01", fmt.Sprintf("%02X %02X", raw[2], raw[3]),
		Source{Standard, "SAE J1979 parameter $01: bit 3 of C supported, of D incomplete (open decoder)"}, "08 08")
	return nil
}
