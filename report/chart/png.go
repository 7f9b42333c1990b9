package chart

import (
	"bufio"
	"encoding/binary"
	"hash/crc32"
	"image"
	"io"
	"math"

	"github.com/klauspost/compress/zlib"
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

// encode writes an opaque image as PNG (PNG specification, second edition, 2003) with its resolution
// in a pHYs chunk, which office programs need to show a picture at its true size and image/png leaves out.
// image/png is not used, since it tries each of five filters on each row: on even
// ground with letters none is best, for a third of the time.
func encode(w io.Writer, m *image.RGBA, dpi int) error {
	if _, err := io.WriteString(w, "\x89PNG\r\n\x1a\n"); err != nil {
		return err
	}
	width, height := m.Rect.Dx(), m.Rect.Dy()
	header := binary.BigEndian.AppendUint32(nil, uint32(width))
	header = binary.BigEndian.AppendUint32(header, uint32(height))
	const depth, rgb = 8, 2                               // bits of a colour, kind of a dot
	header = append(header, depth, rgb, 0, 0, 0)          // compressed by deflate, filtered by rows, not interlaced
	perMetre := uint32(math.Round(float64(dpi) / 0.0254)) // 11.3.5.3
	resolution := binary.BigEndian.AppendUint32(nil, perMetre)
	resolution = binary.BigEndian.AppendUint32(resolution, perMetre)
	resolution = append(resolution, 1) // unit: metre
	if err := chunk(w, "IHDR", header); err != nil {
		return err
	}
	if err := chunk(w, "pHYs", resolution); err != nil {
		return err
	}
	rows := bufio.NewWriterSize(chunks{w}, 1<<16) // each chunk takes 12 bytes more
	if err := deflated(rows, m); err != nil {
		return err
	}
	if err := rows.Flush(); err != nil {
		return err
	}
	return chunk(w, "IEND", nil)
}

// deflated compresses the rows of an image, each led by a 0 for no filter.
func deflated(w io.Writer, m *image.RGBA) error {
	const level = 3 // of the quick ones that with the least bytes
	z, err := zlib.NewWriterLevel(w, level)
	if err != nil {
		return err
	}
	row := make([]byte, 1+3*m.Rect.Dx())
	for y := range m.Rect.Dy() {
		dots := m.Pix[y*m.Stride:][:4*m.Rect.Dx()]
		for to := row[1:]; len(dots) >= 4 && len(to) >= 3; dots, to = dots[4:], to[3:] {
			to[0], to[1], to[2] = dots[0], dots[1], dots[2]
		}
		if _, err := z.Write(row); err != nil {
			return err
		}
	}
	return z.Close()
}

// chunks writes each piece of an image's compressed rows as a chunk.
type chunks struct{ io.Writer }

func (c chunks) Write(b []byte) (int, error) { return len(b), chunk(c.Writer, "IDAT", b) }

// chunk writes a chunk: its length, its kind, what is in it, and a checksum of both.
func chunk(w io.Writer, kind string, body []byte) error {
	head := append(binary.BigEndian.AppendUint32(nil, uint32(len(body))), kind...)
	sum := crc32.Update(crc32.ChecksumIEEE(head[4:]), crc32.IEEETable, body)
	for _, b := range [3][]byte{head, body, binary.BigEndian.AppendUint32(nil, sum)} {
		if _, err := w.Write(b); err != nil {
			return err
		}
	}
	return nil
}
