package chart

import (
	"bytes"
	"encoding/binary"
	"hash/crc32"
	"image"
	"image/png"
	"io"
	"math"
)

// Resolutions in dots per inch.
const (
	usualDPI = 200
	maxDPI   = 1200
)

func (f *Figure) dpi() int {
	if f.DPI == 0 {
		return usualDPI
	}
	return f.DPI
}

// encode writes the image as PNG with its resolution in a pHYs chunk (PNG
// specification, 11.3.5.3), which image/png leaves out and office programs need
// to show a picture at its true size.
func encode(w io.Writer, m image.Image, dpi int) error {
	var buf bytes.Buffer
	if err := png.Encode(&buf, m); err != nil {
		return err
	}
	raw := buf.Bytes()
	const header = 8 + 25 // signature and IHDR, always first and of this length
	if _, err := w.Write(raw[:header]); err != nil {
		return err
	}
	if _, err := w.Write(resolutionChunk(dpi)); err != nil {
		return err
	}
	_, err := w.Write(raw[header:])
	return err
}

func resolutionChunk(dpi int) []byte {
	perMetre := uint32(math.Round(float64(dpi) / 0.0254))
	body := []byte("pHYs")
	body = binary.BigEndian.AppendUint32(body, perMetre)
	body = binary.BigEndian.AppendUint32(body, perMetre)
	body = append(body, 1) // unit: metre
	chunk := binary.BigEndian.AppendUint32(nil, uint32(len(body)-4))
	chunk = append(chunk, body...)
	return binary.BigEndian.AppendUint32(chunk, crc32.ChecksumIEEE(body))
}
