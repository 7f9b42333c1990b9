package words

import (
	"strings"

	"rotorsieve/report/finding"
	"rotorsieve/report/texts"
)

// Buys says what more weight buys: what the class has over the one below, what some more would, and of
// the widest what its last weight has bought; "" for nothing. Where it is to be short, and there are
// several classes, it says the first alone: see MoreOfAll.
func Buys(r *finding.Run, f *finding.Class, short bool) string {
	var all []string
	if before := r.Before(f); before != nil {
		all = append(all, GainBriefly(r, before, f))
	}
	if w := f.Weight; w != nil && (!short || w.Alone) {
		all = append(all, weightBriefly(w)...)
	}
	return strings.Join(all, "; ")
}

// weightBriefly says what a tenth more of a limit would buy and what the last tenth has bought, by the
// nominal model, or that the recommended build does without it.
func weightBriefly(w *finding.Weight) []string {
	var all []string
	if s := moreText(w, false); s != "" {
		all = append(all, s)
	}
	unused := w.Unused > w.Step
	if w.Less != nil && !unused {
		all = append(all, lastText(w))
	}
	if len(all) > 0 {
		all[len(all)-1] += ", by the nominal best"
	}
	if unused && w.Widest {
		all = append(all, "the recommended build leaves "+finding.Gram.Format(w.Unused, 3)+" unused")
	}
	if len(all) > 0 && w.Alone {
		ask := strings.ReplaceAll(Mass(w.Limit)+","+Mass(w.Limit+askedMore), " ", "")
		all = append(all, "to ask for more: --class "+ask)
	}
	return all
}

// More says what a tenth more weight would gain a class: "25 g more would gain merit +0.048"; "" where it
// is not known.
func More(f *finding.Class) string {
	if f.Weight == nil {
		return ""
	}
	return moreText(f.Weight, true)
}

// moreText says what a step more would gain, alone or with what changes: "25 g more would gain merit
// +0.048 (hover time +12 %)"; "" where it is not known.
func moreText(w *finding.Weight, alone bool) string {
	step := weight(w.Step, w.Step)
	switch {
	case w.Loosened == nil:
		return ""
	case w.More == nil || w.Loosened.Gain < leastTold:
		return step + " more: no gain found"
	}
	s := step + " more would gain "
	if !w.Loosened.Swept { // nothing so heavy was swept
		s += "at least "
	}
	if alone {
		return s + "merit " + Signed(w.Loosened.Gain)
	}
	s += bought(w.Loosened.Gain, w.ToMore)
	if d := w.More.Design.Diameter; d != w.Best.Design.Diameter {
		s += ", on " + finding.Inch.Format(d, 4)
	}
	return s
}

// lastText says what the last step of a limit has bought.
func lastText(w *finding.Weight) string {
	s := "the last " + weight(w.Step, w.Step) + " gain"
	if gain := w.Best.Score - w.Less.Score; gain >= leastTold {
		return s + " " + bought(gain, w.FromLess)
	}
	return s + " nothing"
}

func bought(gain float64, changes []finding.Change) string {
	s := "merit " + Signed(gain)
	if len(changes) > 0 {
		s += " (" + changesText(changes, 0) + ")"
	}
	return s
}

// MoreOfAll says in a line what a tenth more weight would gain in merit in each class of several:
// "+0.031 at 100 g, at least +0.001 at 900 g; none found at 250 g"; "" where it is not known of any.
func MoreOfAll(found []finding.Class) string {
	var gains, none []string
	for i := range found {
		w := found[i].Weight
		switch {
		case w == nil || w.Loosened == nil || w.Alone:
			continue
		case w.More == nil || w.Loosened.Gain < leastTold:
			none = append(none, Mass(w.Limit))
			continue
		}
		s := Signed(w.Loosened.Gain) + " at " + Mass(w.Limit)
		if !w.Loosened.Swept {
			s = "at least " + s
		}
		gains = append(gains, s)
	}
	var all []string
	if len(gains) > 0 {
		all = append(all, "merit "+strings.Join(gains, ", "))
	}
	if len(none) > 0 {
		s := "none found at " + texts.JoinAnd(none)
		if len(gains) == 0 {
			s = "no gain found at " + texts.JoinAnd(none)
		}
		all = append(all, s)
	}
	if len(all) == 0 {
		return ""
	}
	return "10 % more: " + strings.Join(all, "; ")
}

// askedMore is the weight in kg by which a second class is proposed to be wider.
const askedMore = 0.1
