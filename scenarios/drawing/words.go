package drawing

import "slices"

// In is the drawing with other words: say gives them for each label. The drawing itself stays as it is, and shares with the new one what
// has no words.
func (d *Drawing) In(say func(label string) string) *Drawing {
	spots := func(list []Spot) []Spot {
		list = slices.Clone(list)
		for i := range list {
			list[i].Label = say(list[i].Label)
		}
		return list
	}
	out := *d
	out.Views = slices.Clone(d.Views)
	for i := range out.Views {
		v := &out.Views[i]
		v.Props = slices.Clone(v.Props)
		for k := range v.Props {
			v.Props[k].Label = say(v.Props[k].Label)
		}
		for _, list := range []*[]Spot{&v.Regions, &v.Terminals, &v.Ports, &v.Connectors, &v.Parts, &v.Clamps} {
			*list = spots(*list)
		}
	}
	out.Sheets = slices.Clone(d.Sheets)
	for i := range out.Sheets {
		s := &out.Sheets[i]
		s.Items, s.Lines = slices.Clone(s.Items), slices.Clone(s.Lines)
		for k := range s.Items {
			s.Items[k].Label = say(s.Items[k].Label)
		}
		for k := range s.Lines {
			s.Lines[k].Word = say(s.Lines[k].Word)
		}
		s.Terminals = spots(s.Terminals)
	}
	return &out
}

// Labels lists all labels, each once, in no order that means anything.
func (d *Drawing) Labels() []string {
	var out []string
	d.In(func(label string) string {
		if label != "" && !slices.Contains(out, label) {
			out = append(out, label)
		}
		return label
	})
	return out
}
