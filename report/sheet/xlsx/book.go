package xlsx

import (
	"context"
	"errors"
	"io"
	"os"
	"strings"

	"github.com/xuri/excelize/v2"

	"rotorsieve/model"
	"rotorsieve/report/texts"
)

// BookTime stands for the time of writing in the document's properties, so that
// two runs of one study give the same bytes. The record has the true date.
const BookTime = "2000-01-01T00:00:00Z"

// Book is a workbook being written. It keeps the first error, so that the sheets
// read as what is on them.
type Book struct {
	F        *excelize.File // what is written so far
	Name     string         // of what it is about, for the foot of a page
	program  string         // that writes it, with its version
	Versions string         // and that of the model
	Mark     string         // at the head of each page; may be empty
	styles   map[Look]int
	Err      error           // the first
	Ctx      context.Context // whose end is an error of the book
	spool    string          // folder for what lies on disk while it is written
}

// BookSheet is one sheet of a workbook.
type BookSheet struct {
	Name  string
	What  string // is on it, for the list of sheets
	Write func()
}

// NewBook begins a workbook by the program of a version. The mark stands at the head of each
// page, "" for none. Until it is written, what does not fit in memory lies in
// files of the folder spool, which are removed.
func NewBook(ctx context.Context, spool, name, version, mark string) *Book {
	program := "rotorsieve " + version
	return &Book{F: excelize.NewFile(excelize.Options{TmpDir: spool}), Ctx: ctx, spool: spool,
		Name: texts.OneLine(name), program: program, Versions: program + ", model " + model.Version,
		Mark: mark, styles: map[Look]int{}}
}

// Do keeps the first error, or that the context has ended.
func (b *Book) Do(err error) {
	if b.Err != nil {
		return
	}
	if b.Err = err; err == nil {
		b.Err = b.Ctx.Err()
	}
}

// WriteTo writes the sheets in the order of calls, shown in the order of sheets.
func (b *Book) WriteTo(w io.Writer, sheets []BookSheet, calls []func()) (err error) {
	defer func() { err = errors.Join(err, b.F.Close()) }()
	b.Do(b.F.SetDefaultFont(fontFamily))
	b.Do(b.F.SetSheetName("Sheet1", sheets[0].Name))
	for _, s := range sheets[1:] {
		_, err := b.F.NewSheet(s.Name)
		b.Do(err)
	}
	for _, write := range calls {
		if b.Err == nil {
			write()
		}
	}
	if b.Err != nil {
		return b.Err
	}
	spool, err := os.CreateTemp(b.spool, "parts-*")
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, spool.Close(), os.Remove(spool.Name())) }()
	b.F.SetZipWriter(func(io.Writer) excelize.ZipWriter { return NewOrderedZip(b.Ctx, w, spool) })
	_, err = b.F.WriteToBuffer() // our zip writes to w; the buffer stays empty
	return err
}

// Properties sets those of the document.
func (b *Book) Properties(subject, description string) {
	b.Do(b.F.SetDocProps(&excelize.DocProperties{
		Title:       b.Name,
		Subject:     subject,
		Description: description,
		Keywords:    "multirotor, sizing, propeller, motor, battery",
		Creator:     b.program,
		Created:     BookTime,
		Modified:    BookTime,
		Language:    "en-GB",
	}))
	b.Do(b.F.SetAppProps(&excelize.AppProperties{Application: "rotorsieve"}))
}

// Print sets up how a sheet is printed: A4 across, fitted to the width, the
// cells of the area, and of each page those that repeat: rows at the top, columns at
// the left.
func (b *Book) Print(sheet, area string, repeat ...string) {
	const a4 = 9
	b.Do(b.F.SetDefinedName(&excelize.DefinedName{Name: "_xlnm.Print_Area", RefersTo: Quoted(sheet) + area,
		Scope: sheet}))
	if len(repeat) > 0 {
		titles := Quoted(sheet) + strings.Join(repeat, ","+Quoted(sheet))
		b.Do(b.F.SetDefinedName(&excelize.DefinedName{Name: "_xlnm.Print_Titles", RefersTo: titles, Scope: sheet}))
	}
	b.Do(b.F.SetSheetProps(sheet, &excelize.SheetPropsOptions{FitToPage: new(true)}))
	b.Do(b.F.SetPageLayout(sheet, &excelize.PageLayoutOptions{
		Size: new(a4), Orientation: new("landscape"), FitToWidth: new(1), FitToHeight: new(0)}))
	b.Do(b.F.SetPageMargins(sheet, &excelize.PageLayoutMarginsOptions{
		Left: new(margin), Right: new(margin), Top: new(margin + 0.1), Bottom: new(margin + 0.2),
		Header: new(margin / 2), Footer: new(margin / 2)}))
	escaped := strings.ReplaceAll(cutUTF16(b.Name, 60), "&", "&&")
	header := &excelize.HeaderFooterOptions{
		OddFooter: "&L " + escaped + "&C" + strings.ReplaceAll(b.Versions, "&", "&&") + "&R&A, page &P of &N"}
	if b.Mark != "" {
		header.OddHeader = "&R" + b.Mark
	}
	b.Do(b.F.SetHeaderFooter(sheet, header))
}

// Live is a cell that is computed in the workbook, with its value as computed
// here.
type Live struct {
	Formula string // without the sign of equality
	Value   any
}

// Cell is a cell of a look: a number that is finite, text of one line, or a
// formula. What is not is left empty.
func (b *Book) Cell(v any, l Look) any {
	c := excelize.Cell{StyleID: b.style(l)}
	if f, ok := v.(Live); ok {
		c.Formula, v = f.Formula, f.Value
	}
	switch v := v.(type) {
	case float64:
		if finite(v) {
			c.Value = v
		}
	case string:
		if v = texts.OneLine(v); v != "" {
			c.Value = v
		}
	default:
		c.Value = v
	}
	return c
}
