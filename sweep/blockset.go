package sweep

import "slices"

// blockSet is a set of blocks by position, as ranges in rising order with gaps between.
// Positions are handed out in order, so the ranges are few.
type blockSet struct{ ranges []blockRange }

type blockRange struct{ from, to uint64 } // to is past the last

func (s *blockSet) add(b uint64) { s.addRange(blockRange{b, b + 1}) }

func (s *blockSet) addRange(r blockRange) {
	i, _ := slices.BinarySearchFunc(s.ranges, r.from, func(x blockRange, from uint64) int {
		if x.to < from {
			return -1
		}
		return 1
	})
	j := i
	for j < len(s.ranges) && s.ranges[j].from <= r.to {
		r.from, r.to = min(r.from, s.ranges[j].from), max(r.to, s.ranges[j].to)
		j++
	}
	s.ranges = slices.Replace(s.ranges, i, j, r)
}

func (s *blockSet) contains(b uint64) bool {
	_, ok := slices.BinarySearchFunc(s.ranges, b, func(x blockRange, b uint64) int {
		switch {
		case x.to <= b:
			return -1
		case x.from > b:
			return 1
		}
		return 0
	})
	return ok
}

func (s *blockSet) merge(o *blockSet) {
	for _, r := range o.ranges {
		s.addRange(r)
	}
}

// size is the number of blocks in the set.
func (s *blockSet) size() uint64 {
	var n uint64
	for _, r := range s.ranges {
		n += r.to - r.from
	}
	return n
}
