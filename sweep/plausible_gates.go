package sweep

import (
	"fmt"
	"slices"
)

// plausibleGates compares the furthest gates of cells with the tally, and those of maps
// that share an axis with each other: each value of it has one furthest gate, whatever the rest.
func (t *total) plausibleGates(k *classTotal, tables []table) error {
	var along [axisCount][]uint8
	for _, b := range tables {
		if b.cells == nil {
			continue
		}
		far := [2][]uint8{make([]uint8, b.nx), make([]uint8, len(b.cells)/b.nx)}
		for i, c := range b.cells {
			if err := k.plausibleGate(c.Gate); err != nil {
				return fmt.Errorf("%s: %w", b.name, err)
			}
			far[0][i%b.nx] = max(far[0][i%b.nx], c.Gate)
			far[1][i/b.nx] = max(far[1][i/b.nx], c.Gate)
		}
		for n, axis := range [2]int{b.x, b.y} {
			if along[axis] != nil && !slices.Equal(along[axis], far[n]) {
				return fmt.Errorf("%s: its requirements are not those of other maps", b.name)
			}
			along[axis] = far[n]
		}
	}
	far := make([]uint8, k.Size.Diameters)
	for i, c := range k.Size.Cells {
		if err := k.plausibleGate(c.Gate); err != nil {
			return fmt.Errorf("size map: %w", err)
		}
		far[i/k.Size.Bins] = max(far[i/k.Size.Bins], c.Gate)
	}
	if on := along[axDiameter]; on != nil && !slices.Equal(on, far) {
		return fmt.Errorf("size map: its requirements are not those of the maps")
	}
	return nil
}

// plausibleFallen refuses more designs rejected in further scenarios than in all, and any there by
// their mass, which is the same in all.
func (k *classTotal) plausibleFallen() error {
	for g := range k.Rejected {
		left := k.Rejected[g]
		for at := g; at < len(k.Fallen); at += len(k.Rejected) {
			n := k.Fallen[at]
			if n > left || n > 0 && g == GateClass {
				return fmt.Errorf("%d designs rejected at requirement %d in further scenarios, of %d", n, g, left)
			}
			left -= n
		}
	}
	return nil
}

// plausibleGate refuses a gate at which no design was rejected.
func (k *classTotal) plausibleGate(gate uint8) error {
	if int(gate) >= len(k.Rejected) {
		return fmt.Errorf("requirement %d of %d", gate, len(k.Rejected))
	}
	if gate > 0 && k.Rejected[gate] == 0 {
		return fmt.Errorf("requirement %d, which rejected nothing", gate)
	}
	return nil
}

// plausibleMiss compares the nearest miss with the tally: it came as far as any design
// that was rejected, except those of propellers that could not be solved, which are only
// counted.
func (t *total) plausibleMiss(k *classTotal) error {
	far := -1
	for g, n := range k.Rejected {
		if n > 0 {
			far = g
		}
	}
	x := k.Nearest
	switch {
	case !x.Any && far > GateOperating:
		return fmt.Errorf("nearest miss: none, but designs were rejected at requirement %d", far)
	case !x.Any:
		return nil
	case x.Gate < 0 || x.Gate >= len(k.Rejected):
		return fmt.Errorf("nearest miss: requirement %d of %d", x.Gate, len(k.Rejected))
	case x.Gate > far || x.Gate < far && (far > GateOperating || len(t.failed) == 0):
		return fmt.Errorf("nearest miss: requirement %d, but the furthest that rejected any is %d", x.Gate, far)
	case !(x.Shortfall >= 0):
		return fmt.Errorf("nearest miss: a shortfall of %g", x.Shortfall)
	}
	if err := t.judgedDesign(x.Index); err != nil {
		return fmt.Errorf("nearest miss: %w", err)
	}
	return nil
}
