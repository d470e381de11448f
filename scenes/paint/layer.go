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

func drawMesh(dst *ebiten.Image, v []ebiten.Vertex, i []uint32) {
	if len(i) > 0 {
		dst.DrawTriangles32(v, i, white(), nil)
	}
}

// Layer is a picture kept as an image and painted anew only when its list changed.
type Layer struct {
	img  *ebiten.Image
	hash uint64
	// Repaints counts how often the image was painted, for tests and benchmarks.
	Repaints int
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
	l.Draw(y.img)
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
	for _, u := range upon {
		y.img.DrawImage(u.img, nil)
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
}

// ShowAt is Show with the layer's corner at a point of dst, in device pixels.
func (y *Layer) ShowAt(dst *ebiten.Image, at Pt, opaque bool) {
	var opt ebiten.DrawImageOptions
	if opaque {
		opt.Blend = ebiten.BlendCopy
	}
	opt.GeoM.Translate(at.X, at.Y)
	dst.DrawImage(y.img, &opt)
}

// Free gives the image's memory back.
func (y *Layer) Free() {
	if y.img != nil {
		y.img.Deallocate()
		y.img = nil
	}
}

// Paint puts the mesh straight onto dst; it is for what moves.
func (m *Mesh) Paint(dst *ebiten.Image) { drawMesh(dst, m.V, m.I) }

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
