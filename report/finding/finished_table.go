package finding

import (
	"crypto/sha256"
	"encoding/csv"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"rotorsieve/model/table"
	"rotorsieve/report/texts"
	"rotorsieve/sweep"
	"rotorsieve/sweep/whole"
)

// Bounds on a table in bytes: a row has some 200 numbers and the marks of a design in words.
const (
	maxRow   = 64 << 10
	maxSizes = 16 << 20
	maxTable = 64 << 30 // a million designs in each of the classes
)

// table opens a table of the run as the run has left it: one that was changed since says
// something else than the record beside it.
func (f *Finished) table(name string) (*os.File, error) {
	file, err := whole.Open(filepath.Join(f.Dir, name), maxTable)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, fmt.Errorf("holds no %s, want the folder of a finished run", name)
	} else if err != nil {
		return nil, fmt.Errorf("%s: %w, want the table that the run left", name, err)
	}
	if err := f.unchanged(name, file); err != nil {
		file.Close()
		return nil, err
	}
	return file, nil
}

// unchanged holds a file against what the record says of it, and goes back to its
// beginning.
func (f *Finished) unchanged(name string, file io.ReadSeeker) error {
	at := slices.IndexFunc(f.files, func(x FileRecord) bool { return x.Name == name })
	if at < 0 {
		return fmt.Errorf("%s: lists no %s, want the record that the run left", RecordName, name)
	}
	sum := sha256.New()
	n, err := io.Copy(sum, io.LimitReader(file, f.files[at].Bytes+1))
	if err != nil {
		return fmt.Errorf("%s: %w", name, err)
	}
	if x := f.files[at]; n != x.Bytes || hex.EncodeToString(sum.Sum(nil)) != x.SHA256 {
		return fmt.Errorf("%s: was changed since the run wrote it, want it restored, or the study run again "+
			"from the %s beside it", name, FlagsName)
	}
	_, err = file.Seek(0, io.SeekStart)
	return err
}

// readRanking reads the places of designs from the ranking of a run, of so many designs in
// each class.
func (f *Finished) readRanking(file *os.File, top int, found *ResultRecord) error {
	ranked := make([]int, len(f.Classes))
	rows := 1
	for i := range f.Classes {
		ranked[i] = int(min(uint64(top), f.Classes[i].Feasible))
		rows += ranked[i]
	}
	if about, err := file.Stat(); err != nil || about.Size() > int64(rows)*maxRow {
		return fmt.Errorf("%s: %w", RankingName, unlike("more than %d bytes of %d lines", int64(rows)*maxRow, rows))
	}
	r := csv.NewReader(&table.Lines{From: file, Name: RankingName, Most: maxRow})
	r.ReuseRecord = true
	t, err := newRankingTable(r)
	if err != nil {
		return err
	}
	for i := range f.Classes {
		var before sweep.Ranked
		claims, first := f.Classes[i].claims, f.firsts(&found.Classes[i])
		for rank := 1; rank <= ranked[i]; rank++ {
			x, err := t.next(f, &f.Classes[i], rank)
			if err != nil {
				return err
			}
			better := rank > 1 && (x.Score > before.Score || x.Score == before.Score && x.Index <= before.Index)
			if best := f.Classes[i].Best; better || rank == 1 && x != best.Ranked {
				return t.unlike("design %d of merit %g in rank %d", x.Index, x.Score, rank)
			}
			before = x
			f.Classes[i].Ranking = append(f.Classes[i].Ranking, x)
			if err := first.next(x.Index); err != nil {
				return fmt.Errorf("%s:%d: %w", RankingName, t.line(), err)
			}
			if c, ok := claims[x.Index]; ok {
				if err := t.agrees(x, c); err != nil {
					return err
				}
				delete(claims, x.Index)
			}
		}
		for index, c := range claims { // that are not ranked
			ahead := c.merit > before.Score || c.merit == before.Score && index < before.Index
			if ahead || uint64(ranked[i]) == f.Classes[i].Feasible {
				return fmt.Errorf("%s: %w", RankingName, unlike("design %d of merit %g is missing", index, c.merit))
			}
		}
	}
	if _, err := r.Read(); err != io.EOF {
		return fmt.Errorf("%s: %w", RankingName, unlike("more than %d lines", rows))
	}
	return nil
}

// rankingTable reads the ranking of a run.
type rankingTable struct {
	*csv.Reader
	last                      []string // row that was read
	limit, rank, index, merit int
	inputs                    []int          // of Inputs
	parts                     []int          // of PartKinds, -1 for none
	metrics                   map[string]int // that this version knows
}

func newRankingTable(r *csv.Reader) (*rankingTable, error) {
	heads, err := r.Read()
	if err != nil {
		return nil, rankingError(err)
	}
	t := &rankingTable{Reader: r}
	find := func(head string) int {
		at := slices.Index(heads, head)
		if err == nil && at < 0 {
			err = fmt.Errorf("%s: has no column %q", RankingName, head)
		} else if err == nil && slices.Contains(heads[at+1:], head) {
			err = fmt.Errorf("%s: %w", RankingName, unlike("two columns %q", head))
		}
		return at
	}
	t.limit, t.rank = find(Headed("class-limit", "kg")), find("rank")
	t.index, t.merit = find("index"), find("merit")
	for _, n := range Inputs {
		t.inputs = append(t.inputs, find(Headed(n.Name, n.Kind.SI().Symbol)))
	}
	for i := range PartKinds {
		t.parts = append(t.parts, slices.Index(heads, PartKinds[i].Name))
	}
	t.metrics = map[string]int{}
	for _, m := range Swept() {
		if at := slices.Index(heads, Headed(m.Name, ExportUnit(m).Symbol)); at >= 0 {
			t.metrics[m.Name] = at
		}
	}
	return t, err
}

// agrees holds the row that was read last against what the record says of its design. Both
// were worked out from the same numbers, with roundings of their own.
func (t *rankingTable) agrees(x sweep.Ranked, c claim) error {
	if x.Score != c.merit {
		return t.unlike("design %d of merit %g and of %g", x.Index, x.Score, c.merit)
	}
	for _, named := range c.metrics {
		for _, q := range named {
			at, ok := t.metrics[q.Name]
			if !ok {
				continue
			}
			v, err := strconv.ParseFloat(t.last[at], 64)
			if err != nil || math.Abs(v-q.Value) > rounding*math.Abs(q.Value) {
				return t.unlike("design %d with a %s of %.40q and of %g", x.Index, q.Name, t.last[at], q.Value)
			}
		}
	}
	return nil
}

// rankingError names the table in an error of reading it.
func rankingError(err error) error {
	if err == io.EOF {
		err = io.ErrUnexpectedEOF
	}
	return fmt.Errorf("%s: %w, want the table that the run left", RankingName, err)
}

// line is where the row that was read last begins.
func (t *rankingTable) line() int {
	line, _ := t.FieldPos(0)
	return line
}

// unlike refuses the row that was read last.
func (t *rankingTable) unlike(format string, args ...any) error {
	return fmt.Errorf("%s:%d: %w", RankingName, t.line(), unlike(format, args...))
}

// next reads the row of a rank, whose design must be that of its index in the grid, and
// keeps where it stands.
func (t *rankingTable) next(f *Finished, k *FinishedClass, rank int) (x sweep.Ranked, err error) {
	cells, err := t.Read()
	if err != nil {
		return x, rankingError(err)
	}
	t.last = cells
	if cells[t.limit] != Exact(k.Class.Limit) || cells[t.rank] != strconv.Itoa(rank) {
		return x, fmt.Errorf("%s:%d: class limit %.40q and rank %.40q are not of this run, want rank %d of %s kg",
			RankingName, t.line(), cells[t.limit], cells[t.rank], rank, Exact(k.Class.Limit))
	}
	x.Index, err = strconv.ParseUint(cells[t.index], 10, 64)
	if err != nil {
		return x, t.unlike("the index %.40q", cells[t.index])
	}
	if x.Score, err = strconv.ParseFloat(cells[t.merit], 64); err != nil {
		return x, t.unlike("the merit %.40q", cells[t.merit])
	}
	if err := f.checkPlace(x.Index, x.Score); err != nil {
		return x, fmt.Errorf("%s:%d: %w", RankingName, t.line(), err)
	}
	d := f.grid.Design(x.Index)
	var key strings.Builder
	for i, n := range Inputs {
		text := cells[t.inputs[i]]
		if text != Exact(n.Of(d)) && !(n.Usual != nil && f.usual(n, x.Index)) {
			return x, t.unlike("design %d with a %s of %.40q", x.Index, n.Name, text)
		}
		if n != sweep.Payload { // which is not of the craft
			key.WriteString(text + " ")
		}
	}
	for i := range PartKinds {
		name := PartKinds[i].Of(d)
		if at := t.parts[i]; name != "" && (at < 0 || cells[at] != texts.OneLine(name)) {
			return x, t.unlike("design %d without its %s %.80q", x.Index, PartKinds[i].Name, name)
		}
	}
	key.WriteString(partsKey(d))
	if _, ok := k.Ranks[key.String()]; !ok {
		k.Ranks[key.String()] = rank
	}
	return x, nil
}

// readSizes reads what the figure of sizes is drawn from: of the widest class, the best merits
// up to its limit are those of its diameters.
func (f *Finished) readSizes(file *os.File, found *ResultRecord) error {
	about, err := file.Stat()
	if err != nil || about.Size() > maxSizes {
		return fmt.Errorf("%s: %w", SizeName, unlike("more than %d bytes", maxSizes))
	}
	if f.Sizes, err = ReadSize(file); err != nil {
		return fmt.Errorf("%s: %w", SizeName, err)
	}
	at, _ := f.grid.AxisIndex(sweep.Diameter.Name)
	var diameters []float64
	for _, v := range f.grid.Axes()[at].Values {
		diameters = append(diameters, Inch.FromSI(v))
	}
	if !slices.Equal(f.Sizes.Y, diameters) {
		return fmt.Errorf("%s: %w", SizeName, unlike("other diameters than the grid has"))
	}
	widest := 0
	for i := range f.Classes {
		if f.Classes[i].Class.Limit > f.Classes[widest].Class.Limit {
			widest = i
		}
	}
	best := make([]float64, len(diameters))
	for j := range best {
		best[j] = math.NaN()
	}
	for _, l := range found.Classes[widest].Leaders {
		best[f.grid.At(l.Index, at)] = l.Merit
	}
	for j, row := range f.Sizes.Merit {
		for i, z := range row {
			if i > 0 && !(z >= row[i-1]) && !math.IsNaN(row[i-1]) {
				return fmt.Errorf("%s: %w", SizeName, unlike("a merit of %g that falls with the weight", z))
			}
		}
		if last := row[len(row)-1]; last != best[j] && !(math.IsNaN(last) && math.IsNaN(best[j])) {
			return fmt.Errorf("%s: %w", SizeName, unlike("a merit of %g where the best of the diameter has %g", last,
				best[j]))
		}
	}
	return nil
}

// Headed is a head with its unit, as tables of files have it.
func Headed(name, unit string) string {
	if unit == "" {
		return name
	}
	return name + " (" + unit + ")"
}

// Exact prints a number that reads back to the same bits.
func Exact(v float64) string {
	if !Finite(v) {
		return ""
	}
	return strconv.FormatFloat(v, 'g', -1, 64)
}
