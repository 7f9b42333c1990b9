package sweep

import "slices"

// Candidates are the builds that a choice among them under uncertainty starts from. A build
// is a design without its capacity. Of every diameter with every number of blades, and at
// each level, the builds are kept whose designs score best among those that reach it.

// Build is a build with the best of its designs that reach some level.
type Build struct {
	Ranked
	Parts uint64 // index of its design of the first capacity, which stands for the build
}

// Lists has, by level, the best builds of one diameter and number of blades, the best first.
type Lists [Levels][]Build

// Candidate is a build, by a design of it.
type Candidate struct {
	Index uint64 // of the best design by merit among those that reach the level
	Score float64
	Level int // the lowest of whose lists the build is one
}

// Builds gives every build of all lists once, at most limit: by the place that it has in a
// list, then by the level, then by diameter and blades, so that a limit takes the best of
// all of these first.
func (c *ClassResult) Builds(limit int) []Candidate {
	known := map[uint64]Candidate{}
	longest := 0
	for level := range Levels {
		for g := range c.Candidates {
			list := c.Candidates[g][level]
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
			for g := range c.Candidates {
				list := c.Candidates[g][level]
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

// maxListed is how many builds a list has: of the 2 000 that they come to, none that is
// recommended was left out (DEVELOPERS.md).
var maxListed = 30 // a variable for tests alone

// maxAtALevel bounds the builds of all lists of a level, so that memory does not grow with
// the diameters.
const maxAtALevel = 1 << 14

// listLength is how many builds the lists of so many groups have at most.
func listLength(groups int) int { return max(1, min(maxListed, maxAtALevel/groups)) }

// groups is the number of diameters times that of blades.
func (p *plan) groups() int {
	return len(p.study.Grid.axes[axDiameter].Values) * len(p.study.Grid.axes[Blades.place].Values)
}

// group is where the lists of a design stand.
func (p *plan) group(index uint64) int {
	g := p.study.Grid
	return g.at(index, axDiameter)*len(g.axes[Blades.place].Values) + g.at(index, Blades.place)
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
// A build scores no better at a higher level than at a lower one and fewer builds reach it:
// what a list does not take, no list of a lower level takes.
type candidates struct {
	lists   Lists
	changes int
}

// add takes a build in, in place of a worse design of it, where it is among the best.
func (c *candidates) add(level int, x Build, most int) {
	list := c.lists[level]
	at := standing(list, x)
	for i := range list {
		if list[i].Parts == x.Parts {
			if i < at || list[i] == x {
				return
			}
			copy(list[at+1:i+1], list[at:i])
			list[at] = x
			c.changes++
			return
		}
	}
	if at == most {
		return
	}
	if len(list) < most {
		list = append(list, x)
	}
	copy(list[at+1:], list[at:])
	list[at] = x
	c.lists[level] = list
	c.changes++
}

// standing gives the place of a build in a list.
func standing(list []Build, x Build) int {
	at, _ := slices.BinarySearchFunc(list, x, func(a, b Build) int { return a.compare(b.Ranked) })
	return at
}

// list takes the lists of a group in, which may be nil.
func (k *classTotal) list(group int, c *candidates, most int) {
	if c == nil || c.changes == 0 {
		return
	}
	into := k.listed[group]
	if into == nil {
		into = new(candidates)
		k.listed[group] = into
	}
	for level, list := range c.lists {
		for i, x := range list {
			if had := into.lists[level]; i < len(had) && had[i] == x {
				continue // as nearly all: a block starts from what is here
			}
			into.add(level, x, most)
		}
	}
}

const ofBuild = 24 // bytes

// unlisted is what full lists take beyond what they hold so far, in bytes.
func (t *total) unlisted() float64 {
	n := 0
	for i := range t.classes {
		for _, c := range t.classes[i].listed {
			n += Levels * t.plan.listed
			for level := 0; c != nil && level < Levels; level++ {
				n -= cap(c.lists[level])
			}
		}
	}
	return float64(max(0, n)) * ofBuild
}

// candidates gives the lists by group.
func (k *classTotal) candidates() []Lists {
	out := make([]Lists, len(k.listed))
	for g, c := range k.listed {
		if c == nil {
			continue
		}
		for level := range c.lists {
			out[g][level] = slices.Clone(c.lists[level])
		}
	}
	return out
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
