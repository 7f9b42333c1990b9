package list

import (
	"errors"
	"fmt"
	"strings"

	"rotorsieve/model/part"
	"rotorsieve/model/table"
)

// Parts that are told again elsewhere than in a list, such as in the record of a run, are held
// against what a list of them is held against.

// CheckMotors errs where no list of motors has come to these: too many or none, a name that is
// none or stands twice, a value out of bounds or that no such part has. The error names the part.
func CheckMotors(all []part.Motor) error { return motors.checkAll(all) }

// CheckPropellers is CheckMotors for propellers. Their geometry is not looked at.
func CheckPropellers(all []part.Propeller) error { return propellers.checkAll(all) }

// CheckPacks is CheckMotors for packs.
func CheckPacks(all []part.Pack) error {
	rows := make([]packRow, len(all))
	for i := range all {
		rows[i].Pack = all[i]
	}
	return packs.checkAll(rows)
}

// CheckFrames is CheckMotors for frames.
func CheckFrames(all []part.Frame) error { return frames.checkAll(all) }

// CheckBoards is CheckMotors for boards.
func CheckBoards(all []part.Board) error { return boards.checkAll(all) }

func (k *kind[T]) checkAll(all []T) error {
	if len(all) == 0 || len(all) > MaxParts {
		return fmt.Errorf("%d %s, want 1 to %d", len(all), k.many, MaxParts)
	}
	seen := make(map[string]bool, len(all))
	for i := range all {
		name, err := k.checkOne(&all[i])
		if key := strings.ToLower(name); err == nil && seen[key] {
			err = errors.New("it is there twice, want each name once")
		} else {
			seen[key] = true
		}
		if err != nil {
			return fmt.Errorf("%s %.80q: %w", k.one, name, err)
		}
	}
	return nil
}

// checkOne holds a part against the bounds of its columns, and gives its name.
func (k *kind[T]) checkOne(t *T) (name string, err error) {
	for i := range k.columns {
		c := &k.columns[i]
		if c.called != nil {
			if name = c.called(t); strings.TrimSpace(name) != name || name == "" {
				return name, errors.New("the name is empty or has space about it, want a name")
			}
			if err := errors.Join(table.Plain(name), checkName(name)); err != nil {
				return name, err
			}
		}
		if c.has == nil {
			continue
		}
		if s := c.has(t); s.Known && !c.bound.Contains(s.Value) && !c.byRate {
			return name, fmt.Errorf("%s: %g is out of bounds, want %g to %g", c.name, s.Value, c.bound.Min, c.bound.Max)
		}
	}
	if f := k.check(t); f != nil {
		return name, fmt.Errorf("%s: %s", f.column, f.text)
	}
	return name, nil
}
