package xlsx

import (
	"github.com/xuri/excelize/v2"
)

// The look of the workbook: black on white and one colour, but for what a reader may
// change. Colours are in hexadecimal.
const (
	fontFamily = "Arial"
	ink        = "1A1A1A"
	Quiet      = "5F6B70" // of notes
	Accent     = "17556B" // of titles and links
	tint       = "E6EEF1" // of the accent, under heads
	High       = "9FC3CE" // of the accent, under the best of a shaded column
	rule       = "C5CFD3"
	lit        = "D3E4E9" // of the accent, under the row that is spoken of
	edit       = "FFF7DC" // under cells to be changed
)

// Look is the style of a cell.
type Look struct {
	size                     float64 // points; 0 for 10
	Bold, Wrap, middle, head bool
	Rule                     bool   // a line beneath
	Lit                      bool   // in the row that is spoken of
	Edit                     bool   // to be changed by the reader
	Colour                   string // of the text
	Align                    string // "" by kind of value
	Number                   string // format; "" for general
	Indent                   int    // steps
}

// Looks of what stands on several sheets.
var (
	Plain   = Look{Wrap: true}
	Title   = Look{size: 16, Bold: true, Colour: Accent}               // of a sheet
	Section = Look{size: 12, Bold: true, Colour: Accent}               // title of a part of one
	Note    = Look{Colour: Quiet, Wrap: true}                          // how to read what stands below
	Heading = Look{Bold: true, Wrap: true, head: true}                 // of a column
	Alarm   = Look{size: 12, Bold: true, Colour: "B00020", Wrap: true} // what no reader must miss
	Link    = Look{Colour: Accent}                                     // leads to another sheet
	Strong  = Look{Bold: true, Wrap: true}                             // of the best
	After   = Look{Wrap: true, Indent: 1}                              // words beside a column of numbers
)

// Ruled is a cell of a table.
func Ruled(l Look) Look { l.Rule = true; return l }

// style gives the workbook's number for a look.
func (b *Book) style(l Look) int {
	if id, ok := b.styles[l]; ok {
		return id
	}
	font := &excelize.Font{Family: fontFamily, Size: 10, Bold: l.Bold, Color: ink}
	if l.size > 0 {
		font.Size = l.size
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
	if l.middle {
		s.Alignment.Vertical = "center"
	}
	if l.Rule {
		s.Border = []excelize.Border{{Type: "bottom", Color: rule, Style: 1}}
	}
	if l.Lit {
		s.Fill = excelize.Fill{Type: "pattern", Pattern: 1, Color: []string{lit}}
	}
	if l.Edit {
		s.Fill = excelize.Fill{Type: "pattern", Pattern: 1, Color: []string{edit}}
		for _, side := range []string{"left", "right", "top", "bottom"} {
			s.Border = append(s.Border, excelize.Border{Type: side, Color: Accent, Style: 1})
		}
	}
	if l.head {
		s.Fill = excelize.Fill{Type: "pattern", Pattern: 1, Color: []string{tint}}
		s.Border = []excelize.Border{{Type: "bottom", Color: Accent, Style: 2}}
	}
	if l.Number != "" {
		s.CustomNumFmt = &l.Number
	}
	id, err := b.F.NewStyle(s)
	b.Do(err)
	b.styles[l] = id
	return id
}

// SmallShare shows per cent to three decimals, and a share that is not none as such.
const SmallShare = `[=0]0.000;[<0.001]"< 0.001";0.000`
