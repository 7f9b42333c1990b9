package sheet

import (
	"archive/zip"
	"bytes"
	"encoding/xml"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"unicode/utf16"

	"github.com/xuri/excelize/v2"

	"rotorsieve/model"
	"rotorsieve/report/chart"
	"rotorsieve/report/finding"
	"rotorsieve/report/sheet/xlsx"
	"rotorsieve/report/trial"
	"rotorsieve/report/words"
	"rotorsieve/sweep"
)

func TestRankingSheets(t *testing.T) {
	t.Parallel()
	var found []finding.Class
	for _, label := range []string{"250g", "250G", "a/b", "a\\b", "0.55lb", "'", "",
		"a label of more than thirty-one characters", "a label of more than thirty-one characters!",
		"日本語日本語日本語日本語日本語日本語🛩🛩🛩🛩🛩🛩🛩🛩"} {
		found = append(found, finding.Class{ClassResult: &sweep.ClassResult{Class: sweep.Class{Label: label}}})
	}
	names := RankingSheets(found)
	if names[0] != "Ranking 250g" || names[1] != "Ranking 250G (2)" || names[2] != "Ranking a-b" ||
		names[3] != "Ranking a-b (2)" {
		t.Errorf("names %q", names)
	}
	checkSheetNames(t, names)
}

func checkSheetNames(t *testing.T, names []string) {
	t.Helper()
	seen := map[string]bool{}
	for _, n := range names {
		if u := len(utf16.Encode([]rune(n))); u == 0 || u > 31 || strings.ContainsAny(n, `[]:*?/\'`) {
			t.Errorf("sheet name %q of %d units", n, u)
		}
		if seen[strings.ToLower(n)] {
			t.Errorf("sheet name %q stands twice", n)
		}
		seen[strings.ToLower(n)] = true
	}
}

// reviewOf is the workbook of a run, with a picture.
func reviewOf(t *testing.T, r *finding.Run) []byte {
	t.Helper()
	found, err := r.Findings()
	if err != nil {
		t.Fatal(err)
	}
	var b bytes.Buffer
	if err := WriteReview(t.Context(), &b, t.TempDir(), r, found,
		[]chart.Picture{trial.Grey(t, "figures/size.png")}); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func TestWorkbook(t *testing.T) {
	t.Parallel()
	r := trial.SmallRun(t)
	found, err := r.Findings()
	if err != nil {
		t.Fatal(err)
	}
	var b bytes.Buffer
	if err := WriteReview(t.Context(), &b, t.TempDir(), r, found, []chart.Picture{trial.Grey(t, "figures/other.png"),
		trial.Grey(t, "figures/size.png")}); err != nil {
		t.Fatal(err)
	}
	parts := trial.Unzip(t, b.Bytes())
	for name, text := range parts {
		if !strings.HasSuffix(name, ".xml") && !strings.HasSuffix(name, ".rels") {
			continue
		}
		d := xml.NewDecoder(strings.NewReader(text))
		for {
			if _, err := d.Token(); err == io.EOF {
				break
			} else if err != nil {
				t.Errorf("%s: %v", name, err)
				break
			}
		}
		if m := regexp.MustCompile(`<(v|t)>[-+]?(NaN|Inf)`).FindString(text); m != "" {
			t.Errorf("%s has %q", name, m)
		}
	}

	for name, text := range parts {
		if strings.HasPrefix(name, "xl/worksheets/sheet") {
			inOrder(t, name, text)
		}
	}

	f := trial.OpenBook(t, b.Bytes())
	sheets := f.GetSheetList()
	if want := []string{"Summary", "Classes", "Ranking 80g", "Ranking 249g", "Ranking 600g", "Leaders", "Pareto front",
		"Merit", "Requirements", "Masses", "Operating points", "Parts", "Verification", "Figures",
		"Basis"}; !slices.Equal(sheets, want) {
		t.Errorf("sheets %q, want %q", sheets, want)
	}
	checkSheetNames(t, sheets)
	names := map[string]string{}
	for _, d := range f.GetDefinedName() {
		names[d.Scope+" "+d.Name] = d.RefersTo
	}
	for i, sheet := range sheets {
		text := parts[fmt.Sprintf("xl/worksheets/sheet%d.xml", i+1)]
		for _, want := range []string{`orientation="landscape"`, `paperSize="9"`, "page &amp;P of &amp;N",
			`showGridLines="false"`} {
			if !strings.Contains(text, want) {
				t.Errorf("%s lacks %s", sheet, want)
			}
		}
		if names[sheet+" _xlnm.Print_Area"] == "" {
			t.Errorf("%s has no print area", sheet)
		}
	}

	summary := strings.Join(trial.Cells(t, f, "Summary"), "\n")
	for _, want := range append([]string{
		"harbour watch", "249 g (light)", "none: no design of the grid keeps every requirement. Nearest: 2.5 × 1.5 in",
		"altitude 1600 m", "0 g, 60 g", "thrust to weight at least 2†", "50 % hover time (0 at 3 min, 1 at 40 min)",
		"All-up weight (g)", "Thrust to weight", "wind-tunnel measurements", "Ranking 249g",
		"Caption of figures/size.png", "864 of 864 designs",
	}, words.Cautions...) {
		if !strings.Contains(summary, want) {
			t.Errorf("the summary does not say %q", want)
		}
	}
	for _, sheet := range []string{"'Ranking 249g'!A1", "'Basis'!A1", "'Requirements'!A1", "'Figures'!A1"} {
		if !strings.Contains(parts["xl/worksheets/sheet1.xml"], `location="`+strings.ReplaceAll(sheet, "'",
			"&#39;")+`"`) {
			t.Errorf("the summary has no link to %s", sheet)
		}
	}
	if pics, err := f.GetPictureCells("Summary"); err != nil || len(pics) != 1 {
		t.Errorf("the summary has pictures at %v, %v", pics, err)
	}
	if pics, err := f.GetPictureCells("Figures"); err != nil || len(pics) != 2 {
		t.Errorf("the sheet of figures has pictures at %v, %v", pics, err)
	}
	if !strings.Contains(parts["xl/drawings/drawing1.xml"],
		`descr="Title of figures/size.png. Caption of figures/size.png"`) {
		t.Error("the picture of the summary has no text in its place")
	}

	testRankingSheet(t, f, parts, r, &found[1])
	testLinks(t, sheets, parts)
	for name, test := range map[string]func(*testing.T, *excelize.File, *finding.Run, []finding.Class){
		ClassesSheet: testClasses, leadersSheet: testLeaders, frontSheet: testFront, MeritSheet: testMerit,
		massesSheet: testMasses, pointsSheet: testPoints,
	} {
		t.Run(name, func(t *testing.T) { test(t, f, r, found) })
	}
	testBasisAndRequirements(t, f, r)

	props, err := f.GetDocProps()
	if err != nil {
		t.Fatal(err)
	}
	if props.Title != "harbour watch" || props.Creator != "rotorsieve test" || props.Created != xlsx.BookTime ||
		props.Modified != xlsx.BookTime {
		t.Errorf("document properties %+v", props)
	}
}

// testLinks follows every link: each leads to a sheet that is there, each sheet
// but the first is led to from it, and none leads out of the workbook.
func testLinks(t *testing.T, sheets []string, parts map[string]string) {
	t.Helper()
	led := map[string]bool{}
	n := 0
	for i := range sheets {
		text := parts[fmt.Sprintf("xl/worksheets/sheet%d.xml", i+1)]
		for _, m := range regexp.MustCompile(`<hyperlink [^>]*>`).FindAllString(text, -1) {
			n++
			to := regexp.MustCompile(`location="&#39;(.*?)&#39;!A1"`).FindStringSubmatch(m)
			if to == nil || !slices.Contains(sheets, to[1]) || strings.Contains(m, "r:id") {
				t.Errorf("%s has a link that leads nowhere: %s", sheets[i], m)
				continue
			}
			if i == 0 {
				led[to[1]] = true
			}
		}
	}
	for _, s := range sheets[1:] {
		if !led[s] {
			t.Errorf("the summary has no link to %s", s)
		}
	}
	if n < 2*len(sheets) {
		t.Errorf("%d links", n)
	}
}

func testRankingSheet(t *testing.T, f *excelize.File, parts map[string]string, r *finding.Run, k *finding.Class) {
	const sheet = "Ranking 249g"
	rows, err := f.GetRows(sheet)
	if err != nil {
		t.Fatal(err)
	}
	heads := rows[HeadRow-1]
	if len(rows) != HeadRow+len(k.Ranking) {
		t.Errorf("%d rows, want %d designs under row %d", len(rows), len(k.Ranking), HeadRow)
	}
	seen := map[string]bool{}
	for _, h := range heads {
		if h == "" || seen[h] {
			t.Errorf("head %q is empty or stands twice", h)
		}
		seen[h] = true
	}
	for _, n := range finding.Inputs {
		if !seen[finding.Headed(n.Title, words.InputLabel(n))] {
			t.Errorf("no column for %s", n.Name)
		}
	}
	ranked, err := r.Ranking(t.Context(), k.ClassResult)
	if err != nil {
		t.Fatal(err)
	}
	for _, m := range finding.Swept() {
		if seen[finding.Headed(m.Title, m.Unit.Label)] != finding.Known(m, ranked) {
			t.Errorf("a column for %s: %v, although some design has it: %v", m.Name,
				seen[finding.Headed(m.Title, m.Unit.Label)], finding.Known(m, ranked))
		}
	}
	auw := slices.Index(heads, "All-up weight (g)")
	evaluator := sweep.NewEvaluator(r.Study)
	for j, x := range k.Ranking {
		craft, err := evaluator.Craft(x.Index, k.Class)
		if err != nil {
			t.Fatal(err)
		}
		at := xlsx.CellName(auw+1, HeadRow+1+j)
		raw, err := f.GetCellValue(sheet, at, excelize.Options{RawCellValue: true})
		if err != nil {
			t.Fatal(err)
		}
		var v float64
		if _, err := fmt.Sscan(raw, &v); err != nil || v-1e3*craft.Mass > 1e-9 || v-1e3*craft.Mass < -1e-9 {
			t.Errorf("%s is %q, want %v g", at, raw, 1e3*craft.Mass)
		}
		id, err := f.GetCellStyle(sheet, xlsx.CellName(1, HeadRow+1+j))
		if err != nil {
			t.Fatal(err)
		}
		style, err := f.GetStyle(id)
		if err != nil {
			t.Fatal(err)
		}
		marked := style.CustomNumFmt != nil && *style.CustomNumFmt == `0"*"`
		if marked != (len(craft.Warnings()) > 0) {
			t.Errorf("rank %d: marked %v, but warnings %+v", j+1, marked, craft.Warnings())
		}
	}
	tables, err := f.GetTables(sheet)
	if err != nil || len(tables) != 1 {
		t.Fatalf("tables %v, %v", tables, err)
	}
	last := xlsx.CellName(len(heads), HeadRow+len(k.Ranking))
	if want := fmt.Sprintf("A%d:", HeadRow) + last; tables[0].Range != want {
		t.Errorf("the table covers %s, want %s", tables[0].Range, want)
	}
	text := parts["xl/worksheets/sheet4.xml"]
	for _, want := range []string{`state="frozen"`, fmt.Sprintf(`ySplit="%d"`, HeadRow), `<colorScale>`, `<dataBar `,
		`fitToWidth="1"`, `<tablePart `, `<legacyDrawing `, `fitToPage="true"`} {
		if !strings.Contains(text, want) {
			t.Errorf("%s lacks %s", sheet, want)
		}
	}
	comments, err := f.GetComments(sheet)
	if err != nil || len(comments) != len(heads) {
		t.Errorf("%d comments on %d heads, %v", len(comments), len(heads), err)
	}
	for _, d := range f.GetDefinedName() {
		switch {
		case d.Scope != sheet:
		case d.Name == "_xlnm.Print_Titles" && d.RefersTo != "'Ranking 249g'!"+words.Repeated(HeadRow):
			t.Errorf("repeated rows %s", d.RefersTo)
		case d.Name == "_xlnm.Print_Area" && d.RefersTo != fmt.Sprintf("'Ranking 249g'!$A$1:$%s$%d",
			xlsx.ColumnName(1+slices.Index(heads, "Merit")), HeadRow+len(k.Ranking)):
			t.Errorf("print area %s", d.RefersTo)
		}
	}
}

func testBasisAndRequirements(t *testing.T, f *excelize.File, r *finding.Run) {
	basis := strings.Join(trial.Cells(t, f, "Basis"), "\n")
	for _, p := range model.Submodels() {
		for _, c := range p.Constants {
			if !strings.Contains(basis, c.Symbol) || !strings.Contains(basis, c.Source) {
				t.Errorf("the basis lacks the constant %s", c.Symbol)
			}
		}
		for _, l := range p.Laws {
			if !strings.Contains(basis, l.Name) || !strings.Contains(basis, l.Formula) || !strings.Contains(basis,
				l.Source) {
				t.Errorf("the basis lacks the formula of %s", l.Name)
			}
		}
	}
	for _, want := range append([]string{r.Study.Fingerprint(), "Left at default", "--pack-grade high-rate",
		"Winding temperature", "3 to 10 in", "90th percentile", "in run.json",
		"diameter, pitch and blades; three and four blades", "Root mean square (%)",
		"5 in, four blades (one propeller)",
		"tip Mach number up to 0.39 (thrust stand at 5 in; wind tunnel 0.20)", "three and four near 5 in"},
		r.Flags...) {
		if !strings.Contains(basis, want) {
			t.Errorf("the basis does not say %q", want)
		}
	}
	rows, err := f.GetRows("Requirements")
	if err != nil {
		t.Fatal(err)
	}
	text := ""
	for _, row := range rows {
		text += strings.Join(row, "|") + "\n"
	}
	for _, want := range []string{"1|All-up weight within the class|at most the class limit|always|864|100.000|",
		"|Thrust to weight|at least 2|default|", "|Hover time|at least 4 min|study|",
		"|All designs of the grid|||864|100.000|864|100.000|864|100.000\n", "Design|2.5 × 1.5 in",
		"Fails|all-up weight within the class", "Wanted|80 g"} {
		if !strings.Contains(text, want) {
			t.Errorf("the requirements do not say %q:\n%s", want, text)
		}
	}
}

// The order in which parts and types by extension are made must not show.
func TestOrderedZip(t *testing.T) {
	t.Parallel()
	write := func(names ...string) []byte {
		var b bytes.Buffer
		spool, err := os.Create(filepath.Join(t.TempDir(), "spool"))
		if err != nil {
			t.Fatal(err)
		}
		defer spool.Close()
		z := xlsx.NewOrderedZip(t.Context(), &b, spool)
		for _, n := range names {
			w, err := z.Create(n)
			if err != nil {
				t.Fatal(err)
			}
			io.WriteString(w, "part "+n)
		}
		w, err := z.Create(xlsx.ContentTypes)
		if err != nil {
			t.Fatal(err)
		}
		io.WriteString(w, "<Types>")
		for _, n := range names {
			io.WriteString(w, `<Default Extension="`+n+`"></Default>`)
		}
		io.WriteString(w, "</Types>")
		if err := z.Close(); err != nil {
			t.Fatal(err)
		}
		return b.Bytes()
	}
	a := write("a", "b.png", "c")
	if !bytes.Equal(a, write("c", "a", "b.png")) {
		t.Error("the order of making parts shows")
	}
	z, err := zip.NewReader(bytes.NewReader(a), int64(len(a)))
	if err != nil {
		t.Fatal(err)
	}
	if len(z.File) != 4 || z.File[0].Name != xlsx.ContentTypes {
		t.Errorf("%d parts, first %s", len(z.File), z.File[0].Name)
	}
	for _, f := range z.File[1:] {
		r, err := f.Open()
		if err != nil {
			t.Fatal(err)
		}
		if b, err := io.ReadAll(r); err != nil || string(b) != "part "+f.Name {
			t.Errorf("%s holds %q, %v", f.Name, b, err)
		}
		if stored := f.Method == zip.Store; stored != strings.HasSuffix(f.Name, ".png") {
			t.Errorf("%s is stored: %t, want pictures as they are", f.Name, stored)
		}
	}
}

// references are ranges of other sheets in a chart.
var references = regexp.MustCompile(`<f>&#39;([^<]*?)&#39;!(\$[A-Z]+\$\d+)(:(\$[A-Z]+\$\d+))?</f>`)

// sheetElements are what a sheet is made of, in the order that the format wants
// (ECMA-376, CT_Worksheet); office programs call a file broken that has another.
var sheetElements = []string{"sheetPr", "dimension", "sheetViews", "sheetFormatPr", "cols", "sheetData", "sheetCalcPr",
	"sheetProtection",
	"protectedRanges", "scenarios", "autoFilter", "sortState", "dataConsolidate", "customSheetViews", "mergeCells",
	"phoneticPr",
	"conditionalFormatting", "dataValidations", "hyperlinks", "printOptions", "pageMargins", "pageSetup",
	"headerFooter", "rowBreaks",
	"colBreaks", "customProperties", "cellWatches", "ignoredErrors", "smartTags", "drawing", "legacyDrawing",
	"legacyDrawingHF", "picture",
	"oleObjects", "controls", "webPublishItems", "tableParts", "extLst"}

func inOrder(t *testing.T, name, text string) {
	t.Helper()
	d := xml.NewDecoder(strings.NewReader(text))
	last, depth := -1, 0
	for {
		token, err := d.Token()
		if err != nil {
			return // the end, or told elsewhere
		}
		switch e := token.(type) {
		case xml.StartElement:
			if depth++; depth != 2 {
				continue
			}
			at := slices.Index(sheetElements, e.Name.Local)
			if at < last {
				t.Errorf("%s has %s after %s", name, e.Name.Local, sheetElements[last])
			}
			last = at
		case xml.EndElement:
			depth--
		}
	}
}
