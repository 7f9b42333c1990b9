package report

import "github.com/xuri/excelize/v2"

// The look of the workbook: black on white and one colour, but for
// what a reader may change.
const (
	fontFamily = "Arial"
	ink        = "1A1A1A"
	quiet      = "5F6B70"
	accent     = "17556B"
	tint       = "E6EEF1" // of the accent, under heads
	high       = "9FC3CE" // of the accent, under the best of a shaded column
	rule       = "C5CFD3"
	edit       = "FFF7DC" // under cells to be changed
)

// look is the style of a cell.
type look struct {
	Size                     float64 // points; 0 for 10
	Bold, Wrap, Middle, Head bool
	Rule                     bool   // a line beneath
	Edit                     bool   // to be changed by the reader
	Colour                   string // of the text
	Align                    string // "" by kind of value
	Number                   string // format; "" for general
	Indent                   int
}

var (
	plain   = look{Wrap: true}
	title   = look{Size: 16, Bold: true, Colour: accent}
	section = look{Size: 12, Bold: true, Colour: accent}
	note    = look{Colour: quiet, Wrap: true}
	heading = look{Bold: true, Wrap: true, Head: true}
	alarm   = look{Size: 12, Bold: true, Colour: "B00020", Wrap: true}
	link    = look{Colour: accent}
	strong  = look{Bold: true, Wrap: true}
	after   = look{Wrap: true, Indent: 1} // words beside a column of numbers
)

// ruled is a cell of a table.
func ruled(l look) look { l.Rule = true; return l }

// style gives the workbook's number for a look.
func (b *book) style(l look) int {
	if id, ok := b.styles[l]; ok {
		return id
	}
	font := &excelize.Font{Family: fontFamily, Size: 10, Bold: l.Bold, Color: ink}
	if l.Size > 0 {
		font.Size = l.Size
	}
	if l.Colour != "" {
		font.Color = l.Colour
	}
	s := &excelize.Style{
		Font:      font,
		Alignment: &excelize.Alignment{Horizontal: l.Align, Vertical: "top", WrapText: l.Wrap, Indent: l.Indent},
	}
	if l.Indent > 0 && l.Align == "" {
		s.Alignment.Horizontal = "left"
	}
	if l.Middle {
		s.Alignment.Vertical = "center"
	}
	if l.Rule {
		s.Border = []excelize.Border{{Type: "bottom", Color: rule, Style: 1}}
	}
	if l.Edit {
		s.Fill = excelize.Fill{Type: "pattern", Pattern: 1, Color: []string{edit}}
		for _, side := range []string{"left", "right", "top", "bottom"} {
			s.Border = append(s.Border, excelize.Border{Type: side, Color: accent, Style: 1})
		}
	}
	if l.Head {
		s.Fill = excelize.Fill{Type: "pattern", Pattern: 1, Color: []string{tint}}
		s.Border = []excelize.Border{{Type: "bottom", Color: accent, Style: 2}}
	}
	if l.Number != "" {
		s.CustomNumFmt = &l.Number
	}
	id, err := b.f.NewStyle(s)
	b.do(err)
	b.styles[l] = id
	return id
}

// smallShare shows per cent to three decimals, and a share that is not none as such.
const smallShare = `[=0]0.000;[<0.001]"< 0.001";0.000`
