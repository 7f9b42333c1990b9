package words

import (
	"fmt"
	"strconv"
	"strings"

	"rotorsieve/model"
	"rotorsieve/model/part"
	"rotorsieve/report/finding"
	"rotorsieve/sweep"
)

// How a design is named, by what it is made of: a part that exists by its name, another by
// its numbers.

// Design names a design in one line, without its payload where it has none.
func Design(d model.Design) string {
	propeller := fmt.Sprintf("%s × %s in, %d blades", finding.Inch.Number(d.Diameter, 4),
		finding.Inch.Number(d.Pitch, 4), d.Blades)
	if d.Propeller != nil {
		propeller = d.Propeller.Name
	}
	s := fmt.Sprintf("%s, %s, %s", propeller,
		motorName(d, "%s at %s rpm/V", strconv.FormatFloat(d.KV, 'g', 6, 64)), Pack(d)) + mounted(d)
	if d.Payload > 0 {
		s += ", payload " + Mass(d.Payload)
	}
	return s
}

// motorName names the motor, one that does not exist in a form for its stator and its KV.
func motorName(d model.Design, form, kv string) string {
	if d.Motor != nil {
		return d.Motor.Name
	}
	return fmt.Sprintf(form, Stator(d), kv)
}

// Pack names a pack: "4S 1300 mAh", or one that exists.
func Pack(d model.Design) string {
	if d.Pack != nil {
		return d.Pack.Name
	}
	return fmt.Sprintf("%dS %s", d.Cells, finding.MAh.Format(d.Capacity, 5))
}

// mounted names frame and board where they exist: ", frame Trestle 5, board Sill 20".
func mounted(d model.Design) (s string) {
	if d.Frame != nil {
		s += ", frame " + d.Frame.Name
	}
	if d.Board != nil {
		s += ", board " + d.Board.Name
	}
	return s
}

// Mounted names frame and board where they exist: "frame Trestle 5, board Sill 20".
func Mounted(d model.Design) string { return strings.TrimPrefix(mounted(d), ", ") }

// BuildName is Build without the payload, with what stands between the numbers of the
// propeller: "5 x 4.3 x 3, 2207 1750KV, 4S".
func BuildName(d model.Design, times string) string {
	pack := fmt.Sprintf("%dS", d.Cells)
	if d.Pack != nil {
		pack = d.Pack.Name
	}
	s := fmt.Sprintf("%s, %s, %s", Propeller(d, times), motorName(d, "%s %sKV", sweep.KV.Unit.Number(d.KV, 6)), pack) +
		mounted(d)
	if d.Propeller == nil && d.Chord > 0 && d.Chord != sweep.Chord.Usual(&d) {
		s += ", chord " + sweep.Chord.Unit.Number(d.Chord, 4) + " of R"
	}
	return s
}

// abridged is how many characters of a name pictures have room for.
const abridged = 24

// Abridged is a name for where there is little room: a long one ends in dots.
func Abridged(name string) string {
	if r := []rune(name); len(r) > abridged {
		return strings.TrimSpace(string(r[:abridged-1])) + "…"
	}
	return name
}

// Abridge gives a design whose parts have their names abridged, to be named alone.
func Abridge(d model.Design) model.Design {
	if p := d.Propeller; p != nil {
		d.Propeller = &part.Propeller{Name: Abridged(p.Name)}
	}
	if p := d.Motor; p != nil {
		d.Motor = &part.Motor{Name: Abridged(p.Name)}
	}
	if p := d.Pack; p != nil {
		d.Pack = &part.Pack{Name: Abridged(p.Name)}
	}
	if p := d.Frame; p != nil {
		d.Frame = &part.Frame{Name: Abridged(p.Name)}
	}
	if p := d.Board; p != nil {
		d.Board = &part.Board{Name: Abridged(p.Name)}
	}
	return d
}

// Tag names a design where there is little room: "5 in, 4S, KV 2900", or the parts that
// exist, one a line.
func Tag(d model.Design) []string {
	var names []string
	for _, p := range finding.NamedParts(d) {
		if p.Kind != "frame" && p.Kind != "board" {
			names = append(names, Abridged(p.Name))
		}
	}
	var numbers []string
	if d.Propeller == nil {
		numbers = append(numbers, finding.Inch.Format(d.Diameter, 4))
	}
	if d.Pack == nil {
		numbers = append(numbers, fmt.Sprintf("%dS", d.Cells))
	}
	if d.Motor == nil {
		numbers = append(numbers, Input(sweep.KV, d))
	}
	if len(numbers) > 0 {
		names = append([]string{strings.Join(numbers, ", ")}, names...)
	}
	return names
}

// PartOf names the part of a kind that a design has, one that does not exist by its numbers; "-"
// where there are none of these.
func PartOf(k finding.PartKind, d model.Design) string {
	switch name := k.Of(d); {
	case name != "":
		return name
	case k.Name == "motor":
		return motorName(d, "%s %sKV", sweep.KV.Unit.Number(d.KV, 6))
	case k.Name == "pack":
		return Pack(d)
	case k.Name == "propeller":
		return Propeller(d, "×") + " in"
	}
	return "-"
}

// PartTitle is what a part that exists is.
func PartTitle(p finding.NamedPart) string { return strings.ToUpper(p.Kind[:1]) + p.Kind[1:] }

// Unstated says what the list of a part that a design has leaves out, so that the model's
// regressions give it, or there is no such limit or price; "" where it leaves out nothing.
func Unstated(kind string, d model.Design) string {
	var all []string
	for _, g := range d.Given() {
		if g.Part == kind && !g.Stated {
			all = append(all, g.Value)
		}
	}
	if all == nil {
		return ""
	}
	return "not stated: " + strings.Join(all, ", ")
}

// UnstatedTold is Unstated with what stands in for it.
func UnstatedTold(kind string, d model.Design) string {
	if lacks := Unstated(kind, d); lacks != "" {
		return lacks + " (from the regressions; of limits and prices there is none)"
	}
	return ""
}

// partsText names the first parts of an axis, and says how many there are.
func partsText(a sweep.Axis) string {
	const named = 3
	var all []string
	for _, v := range a.Values[:min(named, len(a.Values))] {
		all = append(all, a.Def.Text(v))
	}
	if n := len(a.Values); n > named {
		return fmt.Sprintf("%s and %d more", strings.Join(all, ", "), n-named)
	}
	return strings.Join(all, ", ")
}

// Stated marks a metric of a craft that rests on what the owner of a part states of it alone, and
// not on the model; "" for another.
func Stated(m *model.Metric, c *model.Craft) string {
	if m.Name == "burst-time" && c.BurstStated() {
		return " (by the motor's stated burst time)"
	}
	return ""
}
