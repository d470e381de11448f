package phrase

import (
	"strings"

	"coldbay/sim/bench"
)

// Doing says what an action does, without a full stop: "measure volts from ... to ...".
func (b *Book) Doing(a bench.Action) string {
	kv := []string{"on", b.on(a), "to", b.to(a), "mode", b.mode(a), "n", b.msg.Decimal(Number(a.N)), "text", a.Text, "list", b.list(a)}
	key := "do." + string(a.Verb)
	if k := key + "." + strings.Fields(a.Mode + " -")[0]; b.msg.Has(k) {
		return b.T(k, kv...)
	}
	if a.N == 1 && b.msg.Has(key+".one") {
		return b.T(key+".one", kv...)
	}
	if a.N == 0 && b.msg.Has(key+".none") {
		return b.T(key+".none", kv...)
	}
	if len(a.List) == 0 && b.msg.Has(key+".empty") {
		return b.T(key+".empty", kv...)
	}
	if a.On == "" && b.msg.Has(key+".bare") {
		return b.T(key+".bare", kv...)
	}
	return b.msg.Or(key, "do.any", append(kv, "verb", string(a.Verb))...)
}

func (b *Book) on(a bench.Action) string {
	switch a.Verb {
	case bench.Look, bench.Listen:
		return b.Place(a.On)
	case bench.MeterOn, bench.LampOn, bench.Jump, bench.Unjump:
		return b.Terminal(a.On)
	case bench.Pull, bench.Fit, bench.Plug, bench.Unplug, bench.HandPump, bench.Blow, bench.SmokeIn:
		return b.Opening(a.On)
	case bench.Feel:
		if a.On == "tailpipe" {
			return b.Place(a.On)
		}
		return b.Thing(a.On)
	case bench.Repair, bench.Finish:
		return b.Unit(a.On)
	case bench.Strike, bench.Unstrike:
		return b.Suspect(a.On)
	case bench.Read:
		return b.msg.Or("instrument."+a.On, "phrase.id", "id", a.On)
	}
	return b.Thing(a.On)
}

func (b *Book) to(a bench.Action) string {
	switch a.Verb {
	case bench.MeterOn, bench.LampOn, bench.Jump, bench.Unjump:
		return b.Terminal(a.To)
	}
	return b.Opening(a.To)
}

func (b *Book) mode(a bench.Action) string {
	if a.Verb == bench.Jump {
		gauge, fuse, _ := strings.Cut(a.Mode, " ")
		gauge = strings.TrimSuffix(gauge, "awg")
		if strings.EqualFold(fuse, "none") || fuse == "" {
			return b.T("phrase.lead.open", "awg", gauge)
		}
		return b.T("phrase.lead.fused", "awg", gauge, "fuse", strings.TrimSuffix(fuse, "A"))
	}
	return b.msg.Or("mode."+a.Mode, "phrase.id", "id", a.Mode)
}

func (b *Book) list(a bench.Action) string {
	out := make([]string, len(a.List))
	for i, id := range a.List {
		if p, ok := b.pids[id]; ok {
			out[i] = p.Name
			continue
		}
		out[i] = b.Suspect(id)
	}
	return strings.Join(out, ", ")
}
