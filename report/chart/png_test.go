package chart

import (
	"bytes"
	"encoding/binary"
	"image"
	"image/png"
	"math/rand/v2"
	"testing"
)

// What is encoded is read as it was, and its chunks are few, each of which takes bytes of its own.
func TestEncode(t *testing.T) {
	t.Parallel()
	random := rand.New(rand.NewPCG(5, 6))
	for _, size := range []image.Point{{1, 1}, {3, 200}, {500, 400}} {
		want := image.NewRGBA(image.Rectangle{Max: size})
		for k := range want.Pix {
			if want.Pix[k] = uint8(random.IntN(256)); k%4 == 3 {
				want.Pix[k] = 255
			}
		}
		var b bytes.Buffer
		if err := encode(&b, want, 200); err != nil {
			t.Fatal(err)
		}
		var kinds []string
		for rest := b.Bytes()[8:]; len(rest) > 0; {
			n := int(binary.BigEndian.Uint32(rest))
			kinds = append(kinds, string(rest[4:8]))
			rest = rest[12+n:]
		}
		if n := len(kinds) - 3; n < 1 || n > 1+b.Len()>>15 {
			t.Errorf("%v: %d bytes in chunks %v", size, b.Len(), kinds)
		}
		got, err := png.Decode(&b)
		if err != nil {
			t.Fatal(err)
		}
		if got.Bounds() != want.Bounds() {
			t.Fatalf("%v comes out as %v", want.Bounds(), got.Bounds())
		}
		for y := range size.Y {
			for x := range size.X {
				r, g, b, a := got.At(x, y).RGBA()
				if w := want.RGBAAt(x, y); uint8(r>>8) != w.R || uint8(g>>8) != w.G || uint8(b>>8) != w.B || a != 0xffff {
					t.Fatalf("%v: dot %d, %d is %v, want %v", size, x, y, got.At(x, y), w)
				}
			}
		}
	}
}
