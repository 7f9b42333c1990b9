package figure

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"runtime"
	"slices"
	"strings"
	"sync"

	"rotorsieve/report/chart"
	"rotorsieve/report/finding"
	"rotorsieve/report/texts"
	"rotorsieve/report/words"
	"rotorsieve/sweep"
)

// wantsFigure says whether a figure is to be drawn.
func wantsFigure(r *finding.Run, p *plan) bool {
	return p.usual && wantsUsual(r) || slices.Contains(r.Figures, All) || slices.Contains(r.Figures, p.name)
}

// wantsUsual says whether the usual figures are to be drawn.
func wantsUsual(r *finding.Run) bool {
	return r.Figures == nil || slices.Contains(r.Figures, Usual)
}

// Draw draws the figures of the report, each on a goroutine of its own, and
// notes what is left out and why. None is begun once the context has ended.
func Draw(ctx context.Context, r *finding.Run) ([]chart.Picture, error) {
	found, err := r.Findings()
	if err != nil {
		return nil, err
	}
	plans := plansOf(ctx, r, found)
	drawn := make([]chart.Picture, len(plans))
	lacks := make([]string, len(plans))
	errs := make([]error, len(plans))
	room := make(chan struct{}, runtime.GOMAXPROCS(0)) // a picture takes some megabytes
	var wait sync.WaitGroup
	for n := range plans {
		p := &plans[n]
		if !wantsFigure(r, p) {
			continue
		}
		wait.Go(func() {
			room <- struct{}{}
			defer func() { <-room }()
			if errs[n] = ctx.Err(); errs[n] != nil {
				return
			}
			if !r.Result.Complete {
				if p.rests() {
					lacks[n] = unfinished
					return
				}
				p.caption = soFarTold + p.caption
			}
			f, why, err := p.draw()
			if lacks[n] = why; f != nil && err == nil {
				f.DPI = r.DPI
				drawn[n], err = Picture(p.name, p.caption, f)
			}
			if err != nil {
				errs[n] = fmt.Errorf("figure %s: %w", p.name, err)
			}
		})
	}
	wait.Wait()
	if err := errors.Join(errs...); err != nil {
		return nil, err
	}
	r.Undrawn = leftOutOf(r, plans, lacks)
	return slices.DeleteFunc(drawn, func(f chart.Picture) bool { return f.PNG == nil }), nil
}

// leftOutOf says which figures are not drawn, and why: those that the study lacks, and of
// the usual ones those that are drawn when they are asked for.
func leftOutOf(r *finding.Run, plans []plan, lacks []string) []string {
	var out, more []string
	maps := 0
	for n, p := range plans {
		switch {
		case lacks[n] != "":
			out = append(out, p.name+": "+lacks[n])
		case !wantsUsual(r) || wantsFigure(r, &p):
		case p.mapped:
			maps++
		default:
			more = append(more, p.name)
		}
	}
	if maps > 0 {
		more = append(more, fmt.Sprintf("%d other %s", maps, texts.Plural(maps, "map", "maps")))
	}
	if len(more) > 0 {
		out = append(out, "by name or all: "+texts.JoinAnd(more))
	}
	return out
}

// Picture draws a figure. Texts that matter and have no room in it are told in
// its note.
func Picture(name, caption string, f *chart.Figure) (chart.Picture, error) {
	x := chart.Picture{Name: File(name), Title: f.Title, Caption: caption}
	p, err := place(f)
	if err != nil {
		return x, err
	}
	if more := placed(f, &p.Layout); more != "" {
		f.Note = strings.TrimSpace(f.Note + more)
		if p, err = f.Place(); err != nil {
			return x, err
		}
	}
	var b bytes.Buffer
	if err := p.WritePNG(&b); err != nil {
		return x, err
	}
	x.PNG = b.Bytes()
	x.Width, x.Height = p.Dots()
	return x, nil
}

// subtitleOf says what a figure is drawn from.
func subtitleOf(r *finding.Run, more ...string) string {
	m := r.Study.Model
	place := fmt.Sprintf("altitude %.6g m, %s", m.Air.Altitude, finding.Celsius.Format(m.Air.Temperature, 3))
	if n := len(r.Study.Models()); n > 1 {
		place = fmt.Sprintf("%d scenarios, by the %v merit", n, r.Study.Over)
	}
	parts := []string{place, texts.Grouped(r.Study.Grid.Size()) + " designs"}
	return subtitled(r, append(parts, more...)...)
}

// subtitled names the study before what is said of it.
func subtitled(r *finding.Run, parts ...string) string {
	parts = append([]string{texts.OneLine(r.Study.Name)}, parts...)
	if mark := words.RunMark(r); mark != "" {
		parts = append([]string{mark}, parts...)
	}
	return strings.Join(parts, " · ")
}

// shortTitles are metrics in few words, where a figure has little room.
var shortTitles = map[string]string{
	"tip-mach": "tip Mach", "flight-tip-mach": "Mach in flight", "thrust-to-weight": "T/W",
	"hover-throttle": "throttle", "hover-time": "hover",
	"burst-time": "full throttle", "top-speed": "speed", "top-speed-time": "top speed", "motor-temperature": "motor",
	"cruise-motor-temperature": "motor in cruise",
	"voltage-margin":           "cell margin", "pack-load": "pack load", "arm-ratio": "arm bending",
	"motor-current": "motor current", "controller-rating": "controller",
}

// shortGate is the label of a requirement in fewer words, "tip Mach ≤ 0.8"; "" for a
// gate without.
func shortGate(g sweep.Gate) string {
	if q := g.Requirement; q != nil && shortTitles[q.Metric.Name] != "" {
		return shortTitles[q.Metric.Name] + " " + words.BoundSign(q)
	}
	return ""
}

// shortGates gives for the labels of requirements shorter ones.
func shortGates(gates []sweep.Gate) map[string]string {
	out := map[string]string{}
	for _, g := range gates {
		if short := shortGate(g); short != "" {
			out[words.GateLabel(g)] = short
		}
	}
	return out
}

// finds is where a class is best, "" for nowhere, and the limit of the class.
type finds struct{ where, limit string }

// gathering is one place with all limits at which it is best.
type gathering struct {
	where  string
	limits []string
}

// at says "5 in at 500 g and 900 g", bestAt "5 in is best at 500 g and 900 g" and of,
// where the limits are names, "5 in (low and high)".
func (g gathering) at() string     { return g.where + " at " + texts.JoinAnd(g.limits) }
func (g gathering) bestAt() string { return g.where + " is best at " + texts.JoinAnd(g.limits) }
func (g gathering) of() string     { return g.where + " (" + texts.JoinAnd(g.limits) + ")" }

// gathered gives each place once, in the order in which they come, and says apart at
// which limits nothing was found.
func gathered(found []finds) (best []gathering, none string) {
	var nowhere []string
	for _, f := range found {
		if f.where == "" {
			nowhere = append(nowhere, f.limit)
			continue
		}
		n := slices.IndexFunc(best, func(g gathering) bool { return g.where == f.where })
		if n < 0 {
			n = len(best)
			best = append(best, gathering{where: f.where})
		}
		best[n].limits = append(best[n].limits, f.limit)
	}
	return best, texts.JoinOr(nowhere)
}

// mostTold is how many places a title tells of; of more the figure does.
const mostTold = 2

// endsAt is allAt of the first and the last class, where more than a title tells of have a place
// of their own each.
func endsAt(best []gathering, none, separator string) string {
	apart := !slices.ContainsFunc(best, func(g gathering) bool { return len(g.limits) > 1 })
	if len(best) <= mostTold || !apart {
		return allAt(best, none, separator)
	}
	text := "from " + best[0].at() + " to " + best[len(best)-1].at()
	if none != "" {
		text += separator + "none at " + none
	}
	return text
}

// allAt says of all places where they are best, and which limits have none.
func allAt(best []gathering, none, separator string) string {
	texts := words.Each(best, gathering.at)
	if none != "" {
		texts = append(texts, "none at "+none)
	}
	return strings.Join(texts, separator)
}

const infeasible = "no feasible design; named: the requirement at which the last one fails"
