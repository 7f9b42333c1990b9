package sweep

import (
	"slices"
	"sort"
)

// Candidates are the builds that a choice among them under uncertainty starts from. A build
// is a design without its capacity. Of every diameter with every number of blades and every
// payload, and at each level, the builds are kept whose designs score best among those that
// reach it; and fewer of every value of each other swept axis, so that what is said of a value
// rests on its best builds, however they do beside others.

// Build is a build with the best of its designs that reach some level.
type Build struct {
	Ranked
	Parts uint64 // index of its design of the first capacity, which stands for the build
}

// Lists has, by level, the best builds of one group, the best first.
type Lists [Levels][]Build

// Candidate is a build, by a design of it.
type Candidate struct {
	Index uint64 // of the best design by merit among those that reach the level
	Score float64
	Level int // the lowest of whose lists the build is one
}

// Builds gives every build of all lists once, at most limit: by the place that it has in a
// list, then by the level, then by group, those of values first, so that a limit takes the
// best of all of these first.
func (c *ClassResult) Builds(limit int) []Candidate {
	known := map[uint64]Candidate{}
	groups := slices.Concat(c.OfValues, c.Candidates)
	longest := 0
	for level := range Levels {
		for g := range groups {
			list := groups[g][level]
			longest = max(longest, len(list))
			for _, x := range list {
				if _, ok := known[x.Parts]; !ok {
					known[x.Parts] = Candidate{Index: x.Index, Score: x.Score, Level: level}
				}
			}
		}
	}
	out := make([]Candidate, 0, max(0, min(limit, len(known))))
	for place := range longest {
		for level := range Levels {
			for g := range groups {
				list := groups[g][level]
				if place >= len(list) {
					continue
				}
				if x, ok := known[list[place].Parts]; ok && len(out) < limit {
					out = append(out, x)
					delete(known, list[place].Parts)
				}
			}
		}
	}
	return out
}

// parts is the index that stands for a design's build.
func (g *Grid) parts(index uint64) uint64 {
	if g.follows[axCells] != nil {
		pack := g.at(index, axPack)
		return index - uint64(pack-g.firstPack(pack))*g.stride[axPack]
	}
	return index - uint64(g.at(index, axCapacity))*g.stride[axCapacity]
}

// candidates are the lists of a group while they are gathered. Lists that were gathered
// apart may be joined: a build of the joint list has its best design in one of the parts;
// there no more builds are before it than in the joint list, so that the part's list has it.
// A build scores no better at a higher level than at a lower one, fewer builds reach it, and
// lists of higher levels are no shorter: what a list does not take, no list of a lower level
// takes.
type candidates struct{ lists Lists }

// add takes a build in, in place of a worse design of it, where it is among the best, and says whether
// it is.
func (c *candidates) add(level int, x Build, most int) bool {
	list := c.lists[level]
	if n := len(list); n == most && list[n-1].before(x.Ranked) {
		return false
	}
	at := sort.Search(len(list), func(i int) bool { return !list[i].before(x.Ranked) })
	for i := range list {
		y := &list[i]
		if y.Parts != x.Parts {
			continue
		}
		if i < at || *y == x {
			return false
		}
		copy(list[at+1:i+1], list[at:i])
		list[at] = x
		return true
	}
	if len(list) < most {
		list = append(list, x)
	}
	copy(list[at+1:], list[at:])
	list[at] = x
	c.lists[level] = list
	return true
}

// before is compare of merits, which are numbers.
func (b *Build) before(x Ranked) bool {
	return b.Score > x.Score || b.Score == x.Score && b.Index < x.Index
}

// standing gives the place of a build in a list.
func standing(list []Build, x Build) int {
	at, _ := slices.BinarySearchFunc(list, x, func(a, b Build) int { return a.compare(b.Ranked) })
	return at
}

// list takes the lists of a group in, which may be nil.
func (k *classTotal) list(group int, c *candidates, most *lengths) {
	if c == nil {
		return
	}
	for level, list := range c.lists {
		for _, x := range list {
			k.take(group, level, x, most[level])
		}
	}
}

// take takes a build into a list of a group, and says whether it is among the best.
func (k *classTotal) take(group, level int, x Build, most int) bool {
	last := &k.lasts[group][level] // the list itself may be far away
	if x.compare(*last) >= 0 {
		return false
	}
	c := k.ofGroup(group)
	if !c.add(level, x, most) {
		return false
	}
	*last = c.last(level, most)
	return true
}

// hold has a class keep the lists of a group, which may be nil.
func (k *classTotal) hold(group int, c *candidates, most *lengths) {
	k.listed[group] = c
	for level := range Levels {
		k.lasts[group][level] = anywhere
		if c != nil {
			k.lasts[group][level] = c.last(level, most[level])
		}
	}
}

// last is the last of a full list, or anywhere.
func (c *candidates) last(level, most int) Ranked {
	if list := c.lists[level]; len(list) == most {
		return list[most-1].Ranked
	}
	return anywhere
}

// ofGroup are the lists of a group, empty where there were none.
func (k *classTotal) ofGroup(group int) *candidates {
	if k.listed[group] == nil {
		k.listed[group] = new(candidates)
	}
	return k.listed[group]
}

const ofBuild = 24 // bytes

// unlisted is what full lists take beyond what they hold so far, in bytes.
func (t *total) unlisted() float64 {
	if t.plan.study.Nominal {
		return 0
	}
	n := 0
	for i := range t.classes {
		for g, c := range t.classes[i].listed {
			for level, most := range t.plan.groups.most(g) {
				n += most
				if c != nil {
					n -= cap(c.lists[level])
				}
			}
		}
	}
	return float64(max(0, n)) * ofBuild
}

// candidates gives the lists by group: those of values, and those of diameters, blades and
// payloads. Nothing is to be listed after that, since they are not copied: those of 50 classes take 35 MB.
func (k *classTotal) candidates(q *groups) (ofValues, bySize []Lists) {
	out := make([]Lists, len(k.listed))
	for g, c := range k.listed {
		if c != nil {
			out[g] = c.lists
		}
	}
	return out[:q.shared], out[q.shared:]
}

// lists says whether a build that reaches a level is in the list of its group, or better
// ones keep it out.
func (k *classTotal) lists(group, level int, x Build, most int) bool {
	c := k.listed[group]
	if c == nil {
		return false
	}
	list := c.lists[level]
	for i := range list {
		if y := &list[i]; y.Parts == x.Parts {
			d := y.compare(x.Ranked)
			return d == 0 || d < 0 && y.Index != x.Index
		}
	}
	return len(list) == most && list[most-1].compare(x.Ranked) < 0
}
