package sweep

import (
	"fmt"
	"slices"
)

// Candidates in a checkpoint: how they are written and read, and what is held against them.

// candidates writes the lists of a group of a class, beside those of the next lighter one, which may be
// nil: what is in the list of the same level there is its place, from 1.
func (w *writer) candidates(c, before *candidates) {
	w.flag(c != nil)
	if c == nil {
		return
	}
	for level, list := range c.lists {
		w.uint(uint64(len(list)))
		for _, x := range list {
			if before != nil {
				at := 1 + slices.Index(before.lists[level], x)
				if w.uint(uint64(at)); at > 0 {
					continue
				}
			}
			w.ranked(x.Ranked)
		}
	}
}

// candidate reads one of a list, beside those of the next lighter class, which may be nil.
func (r *reader) candidate(before *candidates, level int) Ranked {
	if before == nil {
		return r.ranked()
	}
	list := before.lists[level]
	switch at := r.uint(); {
	case at > uint64(len(list)):
		r.refuse(impossible("candidate %d of %d of a lighter class", at, len(list)))
		return Ranked{}
	case at > 0:
		return list[at-1].Ranked
	}
	return r.ranked()
}

// candidates reads the lists of a group, each with its builds in order and no build twice.
func (r *reader) candidates(p *plan, group int, before *candidates) *candidates {
	if !r.flag() {
		return nil
	}
	if p.study.Nominal {
		r.refuse(impossible("candidates of a study that keeps none"))
		return nil
	}
	c := new(candidates)
	for level := range c.lists {
		least := leastRanked
		if before != nil {
			least = 1
		}
		n := r.count(least)
		if most := p.groups.most(group)[level]; n > most {
			r.refuse(impossible("%d builds in a list of %d candidates", n, most))
			return nil
		}
		list := make([]Build, 0, n)
		for range n {
			x := r.candidate(before, level)
			if i := len(list); i > 0 && list[i-1].compare(x) >= 0 {
				r.refuse(impossible("candidates out of order at design %d", x.Index))
				return nil
			}
			parts := p.study.Grid.parts(x.Index)
			if slices.ContainsFunc(list, func(y Build) bool { return y.Parts == parts }) {
				r.refuse(impossible("two candidates of one build, one of which is design %d", x.Index))
				return nil
			}
			list = append(list, Build{x, parts})
		}
		c.lists[level] = list
	}
	if r.err == nil && len(c.lists[0]) == 0 {
		r.refuse(impossible("candidates at no level"))
	}
	return c
}

// has says whether a design with a score is in the list of a level.
func (c *candidates) has(level int, x Ranked) bool {
	list := c.lists[level]
	at := standing(list, Build{Ranked: x})
	return at < len(list) && list[at].Ranked == x
}

// missing says that a design which reaches a level is not among the candidates of one of its
// groups, nor kept out of them by better ones.
func (t *total) missing(k *classTotal, level int, x Ranked) error {
	if t.plan.study.Nominal {
		return nil
	}
	q := &t.plan.groups
	var memory [axisCount]int
	for _, group := range q.of(x.Index, memory[:0]) {
		if !k.lists(group, level, Build{x, t.plan.study.Grid.parts(x.Index)}, q.most(group)[level]) {
			return fmt.Errorf("candidates at level %d: design %d is missing", level, x.Index)
		}
	}
	return nil
}

// eachListed takes all candidates of a class to a function, until it has an error. A list is
// numbered by its group and level.
func (k *classTotal) eachListed(do func(number, level int, x Build) error) error {
	for g, c := range k.listed {
		if c == nil {
			continue
		}
		for level, list := range c.lists {
			for _, x := range list {
				if err := do(g*Levels+level, level, x); err != nil {
					return err
				}
			}
		}
	}
	return nil
}

// plausibleCandidates sees that candidates are of their group, are ranked where they
// should be, and stand in all lists of their groups up to their level.
func (t *total) plausibleCandidates(k *classTotal) error {
	err := k.eachListed(func(number, level int, x Build) error {
		if err := t.plausibleMerit(k, x.Ranked); err != nil {
			return fmt.Errorf("candidates at level %d: %w", level, err)
		}
		if !t.plan.groups.has(number/Levels, x.Index) {
			return fmt.Errorf("candidates at level %d: design %d is not of what the list is of", level, x.Index)
		}
		return nil
	})
	if err != nil {
		return err
	}
	return k.eachListed(func(_, level int, x Build) error {
		for level := level; level >= max(0, level-1); level-- {
			if err := t.missing(k, level, x.Ranked); err != nil {
				return err
			}
		}
		return nil
	})
}
