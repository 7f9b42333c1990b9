package finding

import (
	"crypto/sha256"
	"encoding/csv"
	"encoding/hex"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
)

// Table opens a table of the run as the run has left it: one that was changed since
// says something else than the record beside it.
func (f *Finished) Table(name string) (*os.File, error) {
	file, err := os.Open(filepath.Join(f.Dir, name))
	if err != nil {
		return nil, err
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
	n, err := io.Copy(sum, file)
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

// readRanking reads the places of designs from the ranking of a run.
func (f *Finished) readRanking() error {
	file, err := f.Table(RankingName)
	if err != nil {
		return err
	}
	defer file.Close()
	r := csv.NewReader(file)
	r.ReuseRecord = true
	heads, err := r.Read()
	if err != nil {
		return fmt.Errorf("%s: %w", RankingName, err)
	}
	at := map[string]int{}
	for i, h := range heads {
		at[strings.Clone(h)] = i
	}
	columns := []string{Headed("class-limit", "kg"), "rank"}
	for _, n := range keyInputs() {
		columns = append(columns, Headed(n.Name, n.Kind.SI().Symbol))
	}
	for _, c := range columns {
		if _, ok := at[c]; !ok {
			return fmt.Errorf("%s: has no column %q", RankingName, c)
		}
	}
	for {
		cells, err := r.Read()
		if err == io.EOF {
			return nil
		}
		if err != nil {
			return fmt.Errorf("%s: %w", RankingName, err)
		}
		limit, errLimit := strconv.ParseFloat(cells[at[columns[0]]], 64)
		rank, errRank := strconv.Atoi(cells[at["rank"]])
		k := f.Class(limit)
		if errLimit != nil || errRank != nil || k == nil {
			line, _ := r.FieldPos(0)
			return fmt.Errorf("%s:%d: class limit %q and rank %q are not of this run",
				RankingName, line, cells[at[columns[0]]], cells[at["rank"]])
		}
		var key strings.Builder
		for _, c := range columns[2:] {
			key.WriteString(cells[at[c]] + " ")
		}
		if _, ok := k.Ranks[key.String()]; !ok {
			k.Ranks[key.String()] = rank
		}
	}
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
