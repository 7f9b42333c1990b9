package report

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strings"

	"rotorsieve/report/figure"
	"rotorsieve/report/finding"
)

// Names lists the files that the report of a run may have, with slashes, in the order in
// which they are written. A figure that the result has nothing for is left out of it then.
func Names(r *finding.Run) []string {
	var names []string
	for _, f := range figure.Wanted(r) {
		names = append(names, figure.File(f))
	}
	names = append(names, finding.WorkbookName, finding.RankingName)
	if len(r.Study.Front) > 0 {
		names = append(names, finding.FrontName)
	}
	names = append(names, finding.SizeName)
	if r.MayDecide() {
		names = append(names, finding.RobustName, finding.ConfidenceName, finding.TestPlanName)
	}
	return append(names, finding.FlagsName, finding.RecordName)
}

// ComparisonNames lists the files of a comparison, with slashes.
func ComparisonNames() []string {
	return []string{figure.File(figure.OverlayName), finding.ComparisonName}
}

// OwnName says whether a name, with slashes, is one that a report gives to the files that
// its record lists.
func OwnName(name string) bool { return ownName.MatchString(name) }

var ownName = regexp.MustCompile(`^(review\.xlsx|(ranking|front|size|robust|confidence|test-plan)\.csv|` +
	`effective\.flags|figures/[a-z0-9-]+\.png)$`)

// Earlier is what an earlier report has left in a folder, as the record there tells. A
// file is the program's own where the record lists it and it still has the size and the
// SHA-256 that stand there, and so is the record; whatever else is there is the user's.
type Earlier struct {
	Record *finding.RunRecord // nil where there is none, or none that this version reads
	dir    string
}

// ReadEarlier reads what is told of a folder; without a record nothing there is the
// program's own.
func ReadEarlier(dir string) *Earlier {
	e := &Earlier{dir: dir}
	path := filepath.Join(dir, finding.RecordName)
	if about, err := os.Lstat(path); err != nil || !about.Mode().IsRegular() {
		return e
	}
	b, err := finding.ReadRecordFile(path)
	if err != nil {
		return e
	}
	if r, err := finding.ParseRecord(b); err == nil {
		e.Record = r
	}
	return e
}

// listed is what the record says of a file.
func (e *Earlier) listed(name string) (finding.FileRecord, bool) {
	if e.Record == nil || !OwnName(name) {
		return finding.FileRecord{}, false
	}
	at := slices.IndexFunc(e.Record.Files, func(x finding.FileRecord) bool { return x.Name == name })
	if at < 0 {
		return finding.FileRecord{}, false
	}
	return e.Record.Files[at], true
}

// Left says whether a file, by its name with slashes, is as the earlier report left it.
func (e *Earlier) Left(name string) bool {
	if name == finding.RecordName {
		return e.Record != nil
	}
	x, ok := e.listed(name)
	return ok && same(e.dir, x)
}

// Amiss lists the files of the earlier report that are not as it left them, each with what
// is the matter: "is missing" or "was changed"; and those of names, but for figures, that it
// does not list.
func (e *Earlier) Amiss(names []string) (out []string) {
	for _, name := range names {
		if _, ok := e.listed(name); !ok && OwnName(name) && path.Dir(name) == "." {
			out = append(out, name+" is not listed")
		}
	}
	if e.Record == nil {
		return out
	}
	for _, x := range e.Record.Files {
		if !OwnName(x.Name) || same(e.dir, x) {
			continue
		}
		if _, err := os.Lstat(filepath.Join(e.dir, filepath.FromSlash(x.Name))); err != nil {
			out = append(out, x.Name+" is missing")
		} else {
			out = append(out, x.Name+" was changed")
		}
	}
	return out
}

// same says whether a file is there, as a file of its own, and holds what is said of it.
func same(dir string, x finding.FileRecord) bool {
	path := filepath.Join(dir, filepath.FromSlash(x.Name))
	about, err := os.Lstat(path)
	if err != nil || !about.Mode().IsRegular() || about.Size() != x.Bytes {
		return false
	}
	if x.Name != filepath.Base(path) { // it is in a folder of the report, which is no link
		if in, err := os.Lstat(filepath.Dir(path)); err != nil || in.Mode()&fs.ModeSymlink != 0 {
			return false
		}
	}
	f, err := os.Open(path)
	if err != nil {
		return false
	}
	defer f.Close()
	sum := sha256.New()
	n, err := io.Copy(sum, f)
	return err == nil && n == x.Bytes && hex.EncodeToString(sum.Sum(nil)) == x.SHA256
}

// yield moves a file aside that is not the program's own, and notes where to.
func (e *Earlier) yield(r *finding.Run, name string) error {
	path := filepath.Join(e.dir, filepath.FromSlash(name))
	if there, err := os.Lstat(path); err != nil || there.IsDir() || e.Left(name) {
		return nil // a folder cannot be replaced, as the writer will say
	}
	end := filepath.Ext(path)
	for n := 1; ; n++ {
		aside := fmt.Sprintf("%s-kept-%d%s", strings.TrimSuffix(path, end), n, end)
		if _, err := os.Lstat(aside); err == nil {
			continue
		}
		if err := os.Rename(path, aside); err != nil {
			return err
		}
		r.Aside = append(r.Aside, aside)
		return nil
	}
}
