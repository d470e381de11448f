package paint

// earClip cuts a simple outline into triangles, given as indices into d. Outlines here have a few dozen points, so the
// quadratic method is fine. A self-crossing outline gives some triangles and no panic.
func earClip(d []Pt) [][3]uint32 {
	n := len(d)
	idx := make([]uint32, n)
	area := 0.0
	for i := range d {
		q := d[(i+1)%n]
		area += d[i].X*q.Y - q.X*d[i].Y
	}
	for i := range idx {
		if area >= 0 {
			idx[i] = uint32(i)
		} else {
			idx[i] = uint32(n - 1 - i)
		}
	}
	out := make([][3]uint32, 0, n-2)
	for len(idx) > 3 {
		cut := -1
		for i := range idx {
			a, b, c := idx[(i+len(idx)-1)%len(idx)], idx[i], idx[(i+1)%len(idx)]
			if cross(d[a], d[b], d[c]) <= 0 {
				continue
			}
			ear := true
			for _, k := range idx {
				if k != a && k != b && k != c && inside(d[a], d[b], d[c], d[k]) {
					ear = false
					break
				}
			}
			if ear {
				out, cut = append(out, [3]uint32{a, b, c}), i
				break
			}
		}
		if cut < 0 {
			cut = 0
		}
		idx = append(idx[:cut], idx[cut+1:]...)
	}
	return append(out, [3]uint32{idx[0], idx[1], idx[2]})
}

func cross(a, b, c Pt) float64 { return (b.X-a.X)*(c.Y-b.Y) - (b.Y-a.Y)*(c.X-b.X) }

func inside(a, b, c, p Pt) bool {
	return cross(a, b, p) >= 0 && cross(b, c, p) >= 0 && cross(c, a, p) >= 0
}
