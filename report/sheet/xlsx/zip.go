package xlsx

import (
	"archive/zip"
	"bufio"
	"bytes"
	"compress/flate"
	"context"
	"hash/crc32"
	"io"
	"maps"
	"os"
	"regexp"
	"slices"
	"strings"
)

// orderedZip is a zip whose parts stand in the order of their names, with the
// list of contents first, so that equal workbooks are equal byte for byte. The
// parts come in any order: until Close they lie in a spool as they are written.
type orderedZip struct {
	*zip.Writer
	ctx   context.Context
	spool *os.File
	out   *bufio.Writer // to the spool
	at    int64         // of the next byte in it
	flate *flate.Writer // of one part after the other: it holds more than a megabyte
	parts map[string]*zipPart
	last  *zipPart // still open
}

// NewOrderedZip writes to w until the context ends. The spool is the caller's to close and
// remove.
func NewOrderedZip(ctx context.Context, w io.Writer, spool *os.File) *orderedZip {
	return &orderedZip{Writer: zip.NewWriter(w), ctx: ctx, spool: spool,
		out: bufio.NewWriter(spool), parts: map[string]*zipPart{}}
}

// zipPart is one part: from and size in the spool, and what a zip says of it.
type zipPart struct {
	z          *orderedZip
	from, size int64
	stored     bool   // as it is: a picture is compressed already
	plain      uint64 // bytes before they are compressed
	sum        uint32
	mend       func([]byte) []byte // nil for none
	text       bytes.Buffer        // of a part to be mended
}

// Create begins a part and ends the one before.
func (z *orderedZip) Create(name string) (io.Writer, error) {
	if err := z.end(); err != nil {
		return nil, err
	}
	p := &zipPart{z: z, from: z.at, mend: mends(name), stored: strings.HasSuffix(name, ".png")}
	z.parts[name], z.last = p, p
	var err error
	switch {
	case p.stored:
	case z.flate == nil:
		z.flate, err = flate.NewWriter(spooled{p}, flate.BestSpeed) // faster than the usual, for a quarter more bytes
	default:
		z.flate.Reset(spooled{p})
	}
	return p, err
}

// Write takes bytes of the part.
func (p *zipPart) Write(b []byte) (int, error) {
	if err := p.z.ctx.Err(); err != nil {
		return 0, err
	}
	if p.mend != nil {
		return p.text.Write(b)
	}
	return p.compress(b)
}

func (p *zipPart) compress(b []byte) (int, error) {
	p.sum = crc32.Update(p.sum, crc32.IEEETable, b)
	p.plain += uint64(len(b))
	if p.stored {
		return spooled{p}.Write(b)
	}
	return p.z.flate.Write(b)
}

// spooled takes the compressed bytes of a part.
type spooled struct{ *zipPart }

// Write writes compressed bytes to the spool.
func (s spooled) Write(b []byte) (int, error) {
	n, err := s.z.out.Write(b)
	s.size += int64(n)
	s.z.at += int64(n)
	return n, err
}

// end ends the part that is open.
func (z *orderedZip) end() error {
	p := z.last
	if p == nil {
		return nil
	}
	z.last = nil
	if p.mend != nil {
		if _, err := p.compress(p.mend(p.text.Bytes())); err != nil {
			return err
		}
		p.text = bytes.Buffer{}
	}
	if p.stored {
		return nil
	}
	return z.flate.Close()
}

// ContentTypes is the part that comes first.
const ContentTypes = "[Content_Types].xml"

// Close writes the parts.
func (z *orderedZip) Close() error {
	if err := z.end(); err != nil {
		return err
	}
	if err := z.out.Flush(); err != nil {
		return err
	}
	names := slices.Sorted(maps.Keys(z.parts))
	if i := slices.Index(names, ContentTypes); i > 0 {
		names = slices.Insert(slices.Delete(names, i, i+1), 0, ContentTypes)
	}
	for _, name := range names {
		p := z.parts[name]
		method := zip.Deflate
		if p.stored {
			method = zip.Store
		}
		w, err := z.CreateRaw(&zip.FileHeader{Name: name, Method: method, CRC32: p.sum,
			CompressedSize64: uint64(p.size), UncompressedSize64: p.plain})
		if err != nil {
			return err
		}
		if _, err := io.Copy(w, io.NewSectionReader(z.spool, p.from, p.size)); err != nil {
			return err
		}
	}
	return z.Writer.Close()
}

// mends gives what is to be done to the text of a part, nil for nothing.
func mends(name string) func([]byte) []byte {
	switch {
	case name == ContentTypes:
		return sortDefaults
	case strings.HasPrefix(name, "xl/charts/"):
		return mendChart
	}
	return nil
}

var (
	wordsAcross = regexp.MustCompile(`<xVal><strRef>(.*?)</strRef></xVal>`)
	titleAside  = regexp.MustCompile(`(?s)<axPos val="l"></axPos>.*?</title>`)
)

// mendChart makes numbers of the values across, which are numbers, turns the
// title of the axis at the left, and keeps a lone series from naming the chart.
func mendChart(text []byte) []byte {
	text = bytes.Replace(text, []byte("<chart>"), []byte(`<chart><autoTitleDeleted val="1"></autoTitleDeleted>`), 1)
	text = wordsAcross.ReplaceAll(text, []byte(`<xVal><numRef>$1</numRef></xVal>`))
	return titleAside.ReplaceAllFunc(text, func(b []byte) []byte {
		return bytes.ReplaceAll(b, []byte(` rot="0"`), []byte(` rot="-5400000" vert="horz"`))
	})
}

var defaultType = regexp.MustCompile(`<Default [^>]*></Default>`)

// sortDefaults sorts the types by file extension, which come in any order.
func sortDefaults(text []byte) []byte {
	all := defaultType.FindAll(text, -1)
	slices.SortFunc(all, bytes.Compare)
	sorted := slices.Clone(all)
	n := 0
	return defaultType.ReplaceAllFunc(text, func([]byte) []byte { n++; return sorted[n-1] })
}
