package rooms_test

import (
	"cmp"
	"image"
	"image/color"
	"math"
	"slices"
	"sync"
)

// Two pictures of a screen are alike when no block of them differs by more than an eye would let pass. What one renderer rounds
// another way changes single pixels on edges by little; what moved, is missing or has another colour changes a block by much.
const (
	shrink = 2 // pictures are kept at half size
	block  = 8 // side of a block, in pixels of the kept picture
	stride = 4 // blocks overlap by half
	// maxUnlike is the root mean square of a block's differences that passes: in Oklab times 100, so that black and white are 100
	// apart. TestLikeness measures what noise and true changes give.
	maxUnlike = 6.0
	// chroma weighs differences of colour against those of lightness: Oklab's axes of colour are the shorter ones.
	chroma = 2
)

// blot is a block that differs.
type blot struct {
	At    image.Rectangle // in the kept picture
	Score float64
}

// unlike lists the blocks in which two pictures of one size differ by more than a limit, the worst first.
func unlike(got, want *image.RGBA, limit float64) []blot {
	w, h := got.Rect.Dx(), got.Rect.Dy()
	// sums[y][x] is the sum of all squares above and to the left.
	sums := make([]float64, (w+1)*(h+1))
	for y := range h {
		row := 0.0
		for x := range w {
			i := y*got.Stride + 4*x
			a, b := got.Pix[i:i+3:i+3], want.Pix[i:i+3:i+3]
			if a[0] != b[0] || a[1] != b[1] || a[2] != b[2] {
				p, q := oklab(a[0], a[1], a[2]), oklab(b[0], b[1], b[2])
				row += square(p[0]-q[0]) + square(chroma*(p[1]-q[1])) + square(chroma*(p[2]-q[2]))
			}
			sums[(y+1)*(w+1)+x+1] = sums[y*(w+1)+x+1] + row
		}
	}
	var out []blot
	for y := 0; y+block <= h; y += stride {
		for x := 0; x+block <= w; x += stride {
			s := sums[(y+block)*(w+1)+x+block] - sums[y*(w+1)+x+block] - sums[(y+block)*(w+1)+x] + sums[y*(w+1)+x]
			if rms := math.Sqrt(max(s, 0) / (block * block)); rms > limit {
				out = append(out, blot{image.Rect(x, y, x+block, y+block), rms})
			}
		}
	}
	slices.SortStableFunc(out, func(a, b blot) int { return cmp.Compare(b.Score, a.Score) })
	return out
}

func square(x float64) float64 { return x * x }

// linear is the light of a byte of sRGB (IEC 61966-2-1).
var linear = sync.OnceValue(func() (t [256]float64) {
	for i := range t {
		v := float64(i) / 255
		if v <= 0.04045 {
			t[i] = v / 12.92
		} else {
			t[i] = math.Pow((v+0.055)/1.055, 2.4)
		}
	}
	return t
})

// oklab is a colour in Ottosson's Oklab, times 100. The matrices are those of "A perceptual color space for image processing"
// (2020, revised 2021).
func oklab(r, g, b uint8) [3]float64 {
	t := linear()
	x, y, z := t[r], t[g], t[b]
	l := math.Cbrt(0.4122214708*x + 0.5363325363*y + 0.0514459929*z)
	m := math.Cbrt(0.2119034982*x + 0.6806995451*y + 0.1073969566*z)
	s := math.Cbrt(0.0883024619*x + 0.2817188376*y + 0.6299787005*z)
	return [3]float64{
		100 * (0.2104542553*l + 0.7936177850*m - 0.0040720468*s),
		100 * (1.9779984951*l - 2.4285922050*m + 0.4505937099*s),
		100 * (0.0259040371*l + 0.7827717662*m - 0.8086757660*s),
	}
}

// halve makes one pixel of four. Pix is opaque, four bytes a pixel.
func halve(pix []byte, w, h int) *image.RGBA {
	out := image.NewRGBA(image.Rect(0, 0, w/shrink, h/shrink))
	for y := range h / shrink {
		for x := range w / shrink {
			for c := range 3 {
				i := (shrink*y*w+shrink*x)*4 + c
				sum := int(pix[i]) + int(pix[i+4]) + int(pix[i+4*w]) + int(pix[i+4*w+4])
				out.Pix[y*out.Stride+4*x+c] = uint8((sum + 2) / 4)
			}
			out.Pix[y*out.Stride+4*x+3] = 255
		}
	}
	return out
}

// few makes a picture of at most 256 colours, which is a third of the size in a file. The colours are found by halving, again and
// again, the box of colours that is worst served by one (median cut). A picture that this would change by more than half of
// what passes stays as it is.
func few(src *image.RGBA) image.Image {
	if out := palette(src); len(unlike(asRGBA(out), src, maxUnlike/2)) == 0 {
		return out
	}
	return src
}

func palette(src *image.RGBA) *image.Paletted {
	count := map[[3]uint8]int{}
	for i := 0; i < len(src.Pix); i += 4 {
		count[[3]uint8(src.Pix[i:i+3])]++
	}
	all := make([]tint, 0, len(count))
	for c, n := range count {
		lab := oklab(c[0], c[1], c[2])
		all = append(all, tint{c, [3]float64{lab[0], chroma * lab[1], chroma * lab[2]}, float64(n)})
	}
	// The order of a map must not show in the file.
	slices.SortFunc(all, func(a, b tint) int { return slices.Compare(a.c[:], b.c[:]) })
	boxes := []box{newBox(all)}
	for len(boxes) < 256 {
		worst := 0
		for i, b := range boxes {
			if b.err > boxes[worst].err {
				worst = i
			}
		}
		b := boxes[worst]
		if b.err == 0 {
			break
		}
		slices.SortStableFunc(b.tints, func(p, q tint) int { return cmp.Compare(p.lab[b.axis], q.lab[b.axis]) })
		at := max(1, slices.IndexFunc(b.tints, func(p tint) bool { return p.lab[b.axis] > b.mid[b.axis] }))
		boxes[worst] = newBox(b.tints[:at])
		boxes = append(boxes, newBox(b.tints[at:]))
	}
	out := image.NewPaletted(src.Rect, nil)
	index := map[[3]uint8]uint8{}
	for i, b := range boxes {
		out.Palette = append(out.Palette, common(b.tints))
		for _, p := range b.tints {
			index[p.c] = uint8(i)
		}
	}
	for i := range out.Pix {
		out.Pix[i] = index[[3]uint8(src.Pix[4*i:4*i+3])]
	}
	return out
}

// tint is a colour, where it lies for the eye, and how many pixels have it.
type tint struct {
	c   [3]uint8
	lab [3]float64
	n   float64
}

// box is colours that are to become one.
type box struct {
	tints []tint
	mid   [3]float64 // where their mean lies
	axis  int        // along which they err most from it
	err   float64    // and by how much
}

// newBox measures a box. Many pixels count for more than few, but not in proportion: a rare colour is part of the picture too. A single
// colour does not err.
func newBox(tints []tint) box {
	b := box{tints: tints}
	n := 0.0
	for _, p := range tints {
		for i := range b.mid {
			b.mid[i] += p.lab[i] * p.n
		}
		n += p.n
	}
	for i := range b.mid {
		b.mid[i] /= n
		s := 0.0
		for _, p := range tints {
			s += square(p.lab[i]-b.mid[i]) * p.n
		}
		if s /= math.Sqrt(n); s > b.err && len(tints) > 1 {
			b.axis, b.err = i, s
		}
	}
	return b
}

// common is the mean of a box's bytes.
func common(b []tint) color.RGBA {
	var m [3]float64
	n := 0.0
	for _, p := range b {
		for i := range m {
			m[i] += float64(p.c[i]) * p.n
		}
		n += p.n
	}
	return color.RGBA{uint8(math.Round(m[0] / n)), uint8(math.Round(m[1] / n)), uint8(math.Round(m[2] / n)), 255}
}

// asRGBA is a picture of any kind in the form that unlike takes.
func asRGBA(src image.Image) *image.RGBA {
	r := src.Bounds()
	out := image.NewRGBA(image.Rect(0, 0, r.Dx(), r.Dy()))
	for y := range r.Dy() {
		for x := range r.Dx() {
			out.Set(x, y, src.At(r.Min.X+x, r.Min.Y+y))
		}
	}
	return out
}

// marked is the kept picture in grey with the blocks that differ in red.
func marked(want *image.RGBA, blots []blot) *image.RGBA {
	out := image.NewRGBA(want.Rect)
	for i := 0; i < len(want.Pix); i += 4 {
		g := uint8((int(want.Pix[i]) + 2*int(want.Pix[i+1]) + int(want.Pix[i+2])) / 8)
		out.Pix[i], out.Pix[i+1], out.Pix[i+2], out.Pix[i+3] = g+96, g+96, g+96, 255
	}
	for _, b := range blots {
		for y := b.At.Min.Y; y < b.At.Max.Y; y++ {
			for x := b.At.Min.X; x < b.At.Max.X; x++ {
				i := out.PixOffset(x, y)
				out.Pix[i], out.Pix[i+1], out.Pix[i+2] = 230, want.Pix[i+1]/3, want.Pix[i+2]/3
			}
		}
	}
	return out
}
