package paint

import (
	"hash/maphash"
	"sync"

	"github.com/hajimehoshi/ebiten/v2"
)

// seed only has to stay the same while the program runs.
var seed = maphash.MakeSeed()

// white gives the one opaque texel that every triangle samples; its border keeps filtering away from the edge.
var white = sync.OnceValue(func() *ebiten.Image {
	img := ebiten.NewImage(3, 3)
	img.Fill(White)
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

// Show makes the layer's image match the list and copies it onto dst. The image is w x h device pixels.
func (y *Layer) Show(dst *ebiten.Image, l *List, w, h int, changed bool) {
	if y.img == nil || y.img.Bounds().Dx() != w || y.img.Bounds().Dy() != h {
		y.Free()
		y.img = ebiten.NewImage(w, h)
		changed, y.hash = true, 0
	}
	if changed {
		if sum := l.Hash(seed); sum != y.hash {
			y.hash = sum
			y.img.Clear()
			l.Draw(y.img)
			y.Repaints++
		}
	}
	dst.DrawImage(y.img, nil)
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
