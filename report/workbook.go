package report

import (
	"errors"
	"fmt"
	"io"
	"math"
	"os"
	"strconv"
	"strings"
	"unicode/utf16"

	"github.com/xuri/excelize/v2"

	"rotorsieve/model"
)

// Sheets of the workbook, beside one ranking a class.
const (
	summarySheet      = "Summary"
	classesSheet      = "Classes"
	leadersSheet      = "Leaders"
	frontSheet        = "Front"
	meritSheet        = "Merit"
	requirementsSheet = "Requirements"
	massesSheet       = "Masses"
	pointsSheet       = "Operating points"
	figuresSheet      = "Figures"
	basisSheet        = "Basis"
)

// bookTime stands for the time of writing in the document's properties, so that
// two runs of one study give the same bytes. The record has the true date.
const bookTime = "2000-01-01T00:00:00Z"

// book is a workbook being written. It keeps the first error, so that the sheets
// read as what is on them.
type book struct {
	f        *excelize.File
	name     string // of what it is about, for the foot of a page
	program  string // that writes it, with its version
	versions string // and that of the model
	mark     string // at the head of each page; may be empty
	styles   map[look]int
	err      error
}

// bookSheet is one sheet of a workbook.
type bookSheet struct {
	Name  string
	What  string // is on it, for the list of sheets
	write func()
}

func newBook(name, version, mark string) *book {
	program := "rotorsieve " + version
	return &book{f: excelize.NewFile(), name: oneLine(name), program: program, versions: program + ", model " + model.Version,
		mark: mark, styles: map[look]int{}}
}

func (b *book) do(err error) {
	if b.err == nil {
		b.err = err
	}
}

// writeTo writes the sheets in the order of calls, shown in the order of sheets.
func (b *book) writeTo(w io.Writer, sheets []bookSheet, calls []func()) (err error) {
	defer func() { err = errors.Join(err, b.f.Close()) }()
	b.do(b.f.SetDefaultFont(fontFamily))
	b.do(b.f.SetSheetName("Sheet1", sheets[0].Name))
	for _, s := range sheets[1:] {
		_, err := b.f.NewSheet(s.Name)
		b.do(err)
	}
	for _, write := range calls {
		if b.err == nil {
			write()
		}
	}
	if b.err != nil {
		return b.err
	}
	spool, err := os.CreateTemp("", "rotorsieve-*")
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, spool.Close(), os.Remove(spool.Name())) }()
	b.f.SetZipWriter(func(io.Writer) excelize.ZipWriter { return newOrderedZip(w, spool) })
	_, err = b.f.WriteToBuffer() // our zip writes to w; the buffer stays empty
	return err
}

// review is the workbook of one run.
type review struct {
	*book
	run      *Run
	found    []finding
	figures  []Figure
	terms    []term // of the merit
	rows     int    // that a sheet has
	rankings []rankingPlace
	sheets   []bookSheet
}

// writeWorkbook writes the design-review workbook.
func writeWorkbook(w io.Writer, r *Run, found []finding, figures []Figure) error {
	return newReview(r, found, figures).write(w)
}

func newReview(r *Run, found []finding, figures []Figure) *review {
	b := &review{book: newBook(r.Study.Name, r.Version, runMark(r)), run: r, found: found, figures: figures,
		terms: terms(r.Study.Merit), rows: sheetRows}
	for _, name := range rankingSheets(found) {
		b.rankings = append(b.rankings, rankingPlace{Sheet: name})
	}
	b.sheets = b.contents()
	return b
}

// contents lists the sheets. Those without a design to show are left out.
func (b *review) contents() []bookSheet {
	some, front := false, false
	for i := range b.found {
		some = some || b.found[i].Best() != nil
		front = front || len(b.found[i].Front) > 0
	}
	all := []bookSheet{{summarySheet, "", b.summary}}
	add := func(shown bool, s bookSheet) {
		if shown {
			all = append(all, s)
		}
	}
	add(some, bookSheet{classesSheet, "the best designs side by side", b.classes})
	for i := range b.found {
		what := "no feasible design: the nearest"
		if n := len(b.found[i].Ranking); n > 0 {
			what = fmt.Sprintf("the best %s %s, every number", grouped(uint64(n)), plural(n, "design", "designs"))
		}
		add(true, bookSheet{b.rankings[i].Sheet, what, func() { b.rankingOf(i) }})
	}
	add(some, bookSheet{leadersSheet, "the best design of each diameter", b.leaders})
	add(front, bookSheet{frontSheet, "designs that none other beats in " + frontText(b.run.Study.Front), b.front})
	add(some, bookSheet{meritSheet, "weights and ranges, to be changed", b.merit})
	add(true, bookSheet{requirementsSheet, "what each requirement turned away", b.requirements})
	add(some, bookSheet{massesSheet, "build-up of the best designs", b.masses})
	add(some, bookSheet{pointsSheet, "hover, full throttle, cruise and top speed of the best designs", b.points})
	if n := len(b.figures); n > 0 {
		add(true, bookSheet{figuresSheet, fmt.Sprintf("%d %s with captions", n, plural(n, "picture", "pictures")), func() { b.figurePages(b.figures) }})
	}
	add(true, bookSheet{basisSheet, "assumptions, constants, sources, errors, flags", b.basis})
	return all
}

func (b *review) write(w io.Writer) error {
	b.properties("Design review of an electric quad", "What a sweep of the design space found. "+caution())
	// The sheet of merit shows what the rankings find.
	var calls, late []func()
	for _, s := range b.sheets {
		if s.Name == meritSheet {
			late = append(late, s.write)
		} else {
			calls = append(calls, s.write)
		}
	}
	return b.writeTo(w, b.sheets, append(calls, late...))
}

// rankingSheets names one sheet a class.
func rankingSheets(found []finding) []string {
	var labels []string
	for i := range found {
		labels = append(labels, found[i].Class.Label)
	}
	return sheetNames("Ranking ", labels)
}

// sheetNames makes of labels what a sheet may be called, and no name twice.
func sheetNames(prefix string, labels []string) []string {
	const most = 31 // UTF-16 units
	var names []string
	taken := map[string]bool{}
	for _, label := range labels {
		label = strings.Map(func(r rune) rune {
			if strings.ContainsRune(`[]:*?/\'`, r) {
				return '-'
			}
			return r
		}, oneLine(label))
		for n := 1; ; n++ {
			end := ""
			if n > 1 {
				end = " (" + strconv.Itoa(n) + ")"
			}
			name := cutUTF16(strings.TrimSpace(prefix+label), most-len(end)) + end
			if key := strings.ToLower(name); !taken[key] {
				taken[key] = true
				names = append(names, name)
				break
			}
		}
	}
	return names
}

// cutUTF16 keeps what fits into n UTF-16 units.
func cutUTF16(s string, n int) string {
	var b strings.Builder
	for _, r := range s {
		if n -= utf16.RuneLen(r); n < 0 {
			break
		}
		b.WriteRune(r)
	}
	return strings.TrimSpace(b.String())
}

// properties sets those of the document.
func (b *book) properties(subject, description string) {
	b.do(b.f.SetDocProps(&excelize.DocProperties{
		Title:       b.name,
		Subject:     subject,
		Description: description,
		Keywords:    "multirotor, sizing, propeller, motor, battery",
		Creator:     b.program,
		Created:     bookTime,
		Modified:    bookTime,
		Language:    "en-GB",
	}))
	b.do(b.f.SetAppProps(&excelize.AppProperties{Application: "rotorsieve"}))
}

const margin = 0.45 // of a printed page at the sides, in

// print sets up how a sheet is printed: A4 across, fitted to the width, the
// cells of the area, and of each page those that repeat: rows at the top, columns at
// the left.
func (b *book) print(sheet, area string, repeat ...string) {
	const a4 = 9
	b.do(b.f.SetDefinedName(&excelize.DefinedName{Name: "_xlnm.Print_Area", RefersTo: quoted(sheet) + area, Scope: sheet}))
	if len(repeat) > 0 {
		titles := quoted(sheet) + strings.Join(repeat, ","+quoted(sheet))
		b.do(b.f.SetDefinedName(&excelize.DefinedName{Name: "_xlnm.Print_Titles", RefersTo: titles, Scope: sheet}))
	}
	b.do(b.f.SetSheetProps(sheet, &excelize.SheetPropsOptions{FitToPage: new(true)}))
	b.do(b.f.SetPageLayout(sheet, &excelize.PageLayoutOptions{
		Size: new(a4), Orientation: new("landscape"), FitToWidth: new(1), FitToHeight: new(0)}))
	b.do(b.f.SetPageMargins(sheet, &excelize.PageLayoutMarginsOptions{
		Left: new(margin), Right: new(margin), Top: new(margin + 0.1), Bottom: new(margin + 0.2), Header: new(margin / 2), Footer: new(margin / 2)}))
	escaped := strings.ReplaceAll(cutUTF16(b.name, 60), "&", "&&")
	header := &excelize.HeaderFooterOptions{
		OddFooter: "&L " + escaped + "&C" + strings.ReplaceAll(b.versions, "&", "&&") + "&R&A, page &P of &N"}
	if b.mark != "" {
		header.OddHeader = "&R" + b.mark
	}
	b.do(b.f.SetHeaderFooter(sheet, header))
}

// cellName is that of a column and row, both from 1.
func cellName(col, row int) string {
	s, err := excelize.CoordinatesToCellName(col, row)
	if err != nil {
		panic("report: " + err.Error())
	}
	return s
}

// columnName is the letters of a column, from 1.
func columnName(col int) string {
	s, err := excelize.ColumnNumberToName(col)
	if err != nil {
		panic("report: " + err.Error())
	}
	return s
}

// span is a range of cells with $ signs, between two corners.
func span(col, row, toCol, toRow int) string {
	return fmt.Sprintf("$%s$%d:$%s$%d", columnName(col), row, columnName(toCol), toRow)
}

// area is a range of cells from the first of the sheet.
func area(col, row int) string { return span(1, 1, col, row) }

// quoted is the name of a sheet before a reference into it.
func quoted(sheet string) string { return "'" + strings.ReplaceAll(sheet, "'", "''") + "'!" }

// live is a cell that is computed in the workbook, with its value as computed
// here.
type live struct {
	formula string // without the sign of equality
	value   any
}

// cell is a cell of a look: a number that is finite, text of one line, or a
// formula. What is not is left empty.
func (b *book) cell(v any, l look) any {
	c := excelize.Cell{StyleID: b.style(l)}
	if f, ok := v.(live); ok {
		c.Formula, v = f.formula, f.value
	}
	switch v := v.(type) {
	case float64:
		if finite(v) {
			c.Value = v
		}
	case string:
		if v = oneLine(v); v != "" {
			c.Value = v
		}
	default:
		c.Value = v
	}
	return c
}

// round10 drops what converting units leaves beyond ten digits.
func round10(v float64) float64 {
	if v == 0 || !finite(v) {
		return v
	}
	scale := math.Pow(10, 9-math.Floor(math.Log10(math.Abs(v))))
	return math.Round(v*scale) / scale
}
