package paint

import (
	"bytes"
	"math"
	"sync"

	"github.com/hajimehoshi/ebiten/v2"
)

// white gives the one opaque texel that every triangle samples; its border keeps filtering away from the edge. Its pixels are
// written, not painted: so it shares a texture with the letters, and shapes and words in turn make one draw command.
var white = sync.OnceValue(func() *ebiten.Image {
	img := ebiten.NewImage(3, 3)
	img.WritePixels(bytes.Repeat([]byte{255}, 3*3*4))
	return img
})

func drawMesh(dst *ebiten.Image, v []ebiten.Vertex, i []uint32) Cost {
	if len(i) == 0 {
		return Cost{}
	}
	dst.DrawTriangles32(v, i, white(), nil)
	return Cost{Calls: 1, Triangles: len(i) / 3}
}

// Cost is what painting asks of the engine: draw calls (which the engine may join, never split, up to 65,535 vertices), triangles of
// shapes and pictures, and lines of text.
type Cost struct{ Calls, Triangles, Words int }

// Plus is the sum of two costs.
func (c Cost) Plus(b Cost) Cost {
	return Cost{c.Calls + b.Calls, c.Triangles + b.Triangles, c.Words + b.Words}
}

// Less is what was spent since an earlier sum.
func (c Cost) Less(b Cost) Cost {
	return Cost{c.Calls - b.Calls, c.Triangles - b.Triangles, c.Words - b.Words}
}

// picture is the cost of copying an image.
var picture = Cost{Calls: 1, Triangles: 2}

// Layer is a picture kept as an image and painted anew only when its list changed.
type Layer struct {
	img  *ebiten.Image
	hash uint64
	// Repaints counts how often the image was painted, for tests and benchmarks.
	Repaints int
	// Spent is the cost of all that was painted onto the layer and of all its copies, for tests and benchmarks.
	Spent Cost
}

// Update makes the layer's image match the list and tells whether it was painted anew. The image is w x h device pixels.
func (y *Layer) Update(l *List, w, h int, changed bool) bool {
	if y.img == nil || y.img.Bounds().Dx() != w || y.img.Bounds().Dy() != h {
		y.Free()
		y.img = ebiten.NewImage(w, h)
		changed, y.hash = true, 0
	}
	if !changed {
		return false
	}
	sum := l.Sum()
	if sum == y.hash {
		return false
	}
	y.hash = sum
	y.img.Clear()
	y.Spent = y.Spent.Plus(picture).Plus(l.Draw(y.img)) // clearing is one, too
	y.Repaints++
	return true
}

// Stack makes the layer an opaque ground with other layers upon it.
func (y *Layer) Stack(ground Ink, w, h int, upon ...*Layer) {
	if y.img == nil || y.img.Bounds().Dx() != w || y.img.Bounds().Dy() != h {
		y.Free()
		y.img = ebiten.NewImage(w, h)
	}
	y.img.Fill(ground)
	y.Spent = y.Spent.Plus(picture)
	for _, u := range upon {
		y.img.DrawImage(u.img, nil)
		y.Spent = y.Spent.Plus(picture)
	}
	y.Repaints++
}

// Show copies the layer onto dst. An opaque layer replaces what is there, which spares reading it.
func (y *Layer) Show(dst *ebiten.Image, opaque bool) {
	var opt ebiten.DrawImageOptions
	if opaque {
		opt.Blend = ebiten.BlendCopy
	}
	dst.DrawImage(y.img, &opt)
	y.Spent = y.Spent.Plus(picture)
}

// ShowAt is Show with the layer's corner at a point of dst, in device pixels.
func (y *Layer) ShowAt(dst *ebiten.Image, at Pt, opaque bool) {
	var opt ebiten.DrawImageOptions
	if opaque {
		opt.Blend = ebiten.BlendCopy
	}
	opt.GeoM.Translate(at.X, at.Y)
	dst.DrawImage(y.img, &opt)
	y.Spent = y.Spent.Plus(picture)
}

// Free gives the image's memory back.
func (y *Layer) Free() {
	if y.img != nil {
		y.img.Deallocate()
		y.img = nil
	}
}

// Paint puts the mesh straight onto dst; it is for what moves.
func (m *Mesh) Paint(dst *ebiten.Image) Cost { return drawMesh(dst, m.V, m.I) }

// Sum identifies what the mesh would paint.
func (m *Mesh) Sum() uint64 {
	h := mix(uint64(len(m.V)), math.Float64bits(m.Scale))
	for i := range m.V {
		v := &m.V[i]
		h = mix(h, uint64(math.Float32bits(v.DstX))<<32|uint64(math.Float32bits(v.DstY)))
		h = mix(h, uint64(math.Float32bits(v.ColorR))<<32|uint64(math.Float32bits(v.ColorG)))
		h = mix(h, uint64(math.Float32bits(v.ColorB))<<32|uint64(math.Float32bits(v.ColorA)))
	}
	return h
}

// mix folds a word into a running sum: one round of multiply and shift, enough to tell two pictures apart.
func mix(h, x uint64) uint64 {
	h = (h ^ x) * 0x9e3779b97f4a7c15
	return h ^ h>>29
}
