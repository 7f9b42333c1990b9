package basis_test

import (
	"go/ast"
	"go/constant"
	"go/importer"
	"go/parser"
	"go/token"
	"go/types"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"rotorsieve/model"
	"rotorsieve/model/air"
	"rotorsieve/model/basis"
	"rotorsieve/model/field"
	"rotorsieve/model/flight"
	"rotorsieve/model/frame"
	"rotorsieve/model/motor"
	"rotorsieve/model/pack"
	"rotorsieve/model/rotor"
)

// unlisted are declared numbers that no Basis lists, each with its reason.
var unlisted = map[string]string{
	"air.MinAltitude":        "end of the range that is answered",
	"air.MaxAltitude":        "end of the range that is answered",
	"air.MinTemperature":     "end of the range that is answered",
	"air.MaxTemperature":     "end of the range that is answered",
	"field.inches":           "factor of a unit",
	"field.waves":            "size of a basis",
	"field.specimenBlades":   "tells numbers of blades apart",
	"field.jitter":           "keeps a matrix regular",
	"flight.converged":       "tolerance of a search",
	"flight.seek":            "tolerance of a search",
	"flight.holdNodes":       "size of a table",
	"flight.levelNodes":      "size of a table",
	"flight.climbNodes":      "size of a table",
	"flight.massStep":        "spacing of a table",
	"flight.turnSpeed":       "spacing of a table",
	"flight.evenSpeeds":      "spacing of a table",
	"flight.bodies":          "size of a table",
	"flight.dragStep":        "spacing of a table",
	"flight.sideStep":        "spacing of a table",
	"flight.fastest":         "end of a table",
	"flight.hardest":         "end of a table",
	"flight.idlest":          "end of a table",
	"flight.BoundMargin":     "margin of a bound, which no number of a craft takes",
	"flight.topMargin":       "margin of a bound, which no number of a craft takes",
	"flight.farMargin":       "margin of a bound, which no number of a craft takes",
	"flight.statedMargin":    "margin of a bound, which no number of a craft takes",
	"flight.groundMargin":    "margin of a bound, which no number of a craft takes",
	"model.whole":            "what no number of its kind exceeds",
	"model.upright":          "what no number of its kind exceeds",
	"model.leastKnown":       "how exact a solution is",
	"pack.LeastUsable":       "range of what is accepted",
	"pack.MostUsable":        "range of what is accepted",
	"model.MostScenarios":    "range of what is accepted",
	"pack.leastMass":         "range of what is accepted",
	"pack.mostMass":          "range of what is accepted",
	"pack.leastResistance":   "range of what is accepted",
	"pack.mostResistance":    "range of what is accepted",
	"pack.leastCurrent":      "range of what is accepted",
	"pack.mostCurrent":       "range of what is accepted",
	"flight.shareMargin":     "margin of a bound, which no number of a craft takes",
	"frame.inch":             "factor of a unit",
	"motor.fluxPer":          "size of a table",
	"motor.NoScale":          "no difference",
	"pack.terms":             "length of a series that stands for the closed form",
	"pack.smallest":          "range of that series",
	"rotor.deg":              "factor of a unit",
	"rotor.inches":           "factor of a unit",
	"rotor.rounded":          "forgives rounding",
	"rotor.maxStations":      "bound on what is read",
	"rotor.maxSpecimens":     "bound on what is read",
	"rotor.sameSpeed":        "says when two rows are of one speed",
	"rotor.mostApart":        "says when two rows contradict each other",
	"model.evenModes":        "numbers of a draw that are spread evenly",
	"model.mostCertain":      "keeps a matrix regular",
	"model.mostMeasurements": "bound on what is read",
	"model.mostPropellers":   "bound on what is read",
	"model.mostOfParts":      "bound on what is read",
	"rotor.unknowns":         "count",
	"rotor.strips":           "count of strips, in the formula of their edges",
	"rotor.minAdvance":       "end of the range that is answered",
	"rotor.tableMach":        "nodes of a table that stands for the solver",
	"rotor.backAdvance":      "nodes of a table that stands for the solver",
	"rotor.backSteps":        "nodes of a table that stands for the solver",
	"rotor.aheadSteps":       "nodes of a table that stands for the solver",
	"rotor.fieldKinds":       "factors of units",
	"rotor.tableBytes":       "size of a table",
	"rotor.nodeFloats":       "size of a table",
	"model.larger":           "a place in a table",
	"model.heavier":          "a place in a table",
	"model.faster":           "a place in a table",
	"model.spanPart":         "margin of a bound, which no number of a craft takes",
	"model.spanCurve":        "margin of a bound, which no number of a craft takes",
	"model.spanMotor":        "margin of a bound, which no number of a craft takes",
	"model.leastLoaded":      "margin of a bound, which no number of a craft takes",
	"model.LongestMotors":    "margin of a bound, which no number of a craft takes",
	"model.spanEdge":         "margin of a bound, which no number of a craft takes",
	"model.chordBulge":       "margin of a bound, which no number of a craft takes",
	"model.longestSpan":      "margin of a bound, which no number of a craft takes",
	"model.flownJump":        "margin of a bound, which no number of a craft takes",
	"model.rangeJump":        "margin of a bound, which no number of a craft takes",
	"rotor.rows":             "size of a table",
	"rotor.columns":          "size of a table",
	"model.inch":             "factor of a unit",
	"model.reachRows":        "size of a table",
	"model.reachStep":        "spacing of a table",
	"model.slowestTop":       "margin of a bound, which no number of a craft takes",
	"model.slowestFlight":    "margin of a bound, which no number of a craft takes",
	"model.coolestTop":       "margin of a bound, which no number of a craft takes",
	"model.AssumptionDefs":   "assumptions, which Basis lists with the values of the study",
	"model.Bands":            "range of what was measured, which no number of a craft takes",
	"model.MostBlades":       "range of what was measured, which no number of a craft takes",
	"model.hoverMetrics":     "caps of metrics, which package motor declares",
	"model.flightMetrics":    "caps of metrics, which package motor declares",
	"model.perInch":          "factor of a unit",
	"model.grams":            "factor of a unit",
	"model.millis":           "factor of a unit",
	"model.rpm":              "factor of a unit",
	"model.perHour":          "factor of a unit",
	"model.cubicCM":          "factor of a unit",
	"model.sizeSymbols":      "factors of units",
	"model.chainSymbols":     "factors of units",
	"model.motorSymbols":     "factors of units",
	"model.packSymbols":      "factors of units",
	"model.armSymbols":       "factors of units",
	"model.Thresholds":       "weights of the classes, which a study states",
}

// ranges names the accepted ranges of inputs, which the help lists, and those of
// validity, which sheet Basis lists by themselves.
var ranges = regexp.MustCompile(`^model\.([A-Z][A-Za-z]*Bound|[vV]alid[A-Z][A-Za-z]*)$`)

// checked is the packages of the model, as far as types can be told without
// what is not of the model: enough to know the values of constants.
type checked struct {
	files *token.FileSet
	std   types.Importer
	done  map[string]*source
}

type source struct {
	pkg    *types.Package
	syntax []*ast.File
	info   *types.Info
}

func (c *checked) Import(path string) (*types.Package, error) {
	switch {
	case path == "math":
		return c.std.Import(path)
	case strings.HasPrefix(path, "rotorsieve/model"):
		s, err := c.source(path)
		if err != nil {
			return nil, err
		}
		return s.pkg, nil
	}
	p := types.NewPackage(path, filepath.Base(path))
	p.MarkComplete()
	return p, nil
}

func (c *checked) source(path string) (*source, error) {
	if s := c.done[path]; s != nil {
		return s, nil
	}
	dir := filepath.Join("..", strings.TrimPrefix(strings.TrimPrefix(path, "rotorsieve/model"), "/"))
	entries, err := os.ReadDir(dir)
	if err != nil {
		return nil, err
	}
	s := &source{info: &types.Info{Types: map[ast.Expr]types.TypeAndValue{}, Defs: map[*ast.Ident]types.Object{},
		Uses: map[*ast.Ident]types.Object{}}}
	for _, e := range entries {
		if name := e.Name(); strings.HasSuffix(name, ".go") && !strings.HasSuffix(name, "_test.go") {
			f, err := parser.ParseFile(c.files, filepath.Join(dir, name), nil, 0)
			if err != nil {
				return nil, err
			}
			s.syntax = append(s.syntax, f)
		}
	}
	config := types.Config{Importer: c, Error: func(error) {}} // what is left out is not known
	s.pkg, _ = config.Check(path, c.files, s.syntax, s.info)
	c.done[path] = s
	return s, nil
}

// named are the objects that the functions name which a Basis is made of.
func (s *source) named() map[types.Object]bool {
	out := map[types.Object]bool{}
	for _, f := range s.syntax {
		for _, d := range f.Decls {
			fn, ok := d.(*ast.FuncDecl)
			if ok && fn.Recv == nil && slices.Contains([]string{"Basis", "Entries", "Nominal"}, fn.Name.Name) {
				ast.Inspect(fn, func(n ast.Node) bool {
					if id, ok := n.(*ast.Ident); ok {
						out[s.info.Uses[id]] = true
					}
					return true
				})
			}
		}
	}
	return out
}

// numbers are the values of a declaration's right side: its own, or those that
// its composite literals hold.
func (s *source) numbers(e ast.Expr) (out []float64) {
	add := func(e ast.Expr) bool {
		v := s.info.Types[e].Value
		if _, enum := s.info.TypeOf(e).(*types.Named); enum || v == nil || v.Kind() != constant.Int &&
			v.Kind() != constant.Float {
			return false
		}
		x, _ := constant.Float64Val(constant.ToFloat(v))
		out = append(out, x)
		return true
	}
	if add(e) {
		return out
	}
	ast.Inspect(e, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.FuncLit:
			return false
		case *ast.CompositeLit:
			for _, x := range n.Elts {
				if kv, ok := x.(*ast.KeyValueExpr); ok {
					x = kv.Value
				}
				add(x)
			}
		}
		return true
	})
	return out
}

// listed are the values that lines of a Basis give, in SI units and as they are
// shown, and the numbers of their symbols, at which tables give them.
type listed struct{ values, places []float64 }

var number = regexp.MustCompile(`-?[0-9]+(\.[0-9]+)?`)

func list(lines []basis.Constant) (l listed) {
	for _, c := range lines {
		l.values = append(l.values, c.Value)
		switch c.Unit {
		case "°":
			l.values = append(l.values, c.Value*math.Pi/180)
		case "%":
			l.values = append(l.values, c.Value/100)
		case "in":
			l.values = append(l.values, c.Value*0.0254, math.Log(c.Value*0.0254))
		case "":
			if c.Value > 0 {
				l.values = append(l.values, math.Log(c.Value)) // the middle of a basis over a logarithm
			}
		}
		for _, text := range number.FindAllString(c.Symbol, -1) {
			if x, err := strconv.ParseFloat(text, 64); err == nil {
				l.places = append(l.places, x)
				if strings.HasSuffix(c.Symbol, "degC") {
					l.places = append(l.places, x+273.15)
				}
			}
		}
	}
	return l
}

func has(all []float64, x float64) bool {
	for _, v := range all {
		if math.Abs(v-x) <= 1e-9*math.Abs(x) {
			return true
		}
	}
	return false
}

// Every number that a package of the model declares stands in its Basis, named there
// and with its value, or is excused with a reason: a reviewer has all that the code
// computes with.
func TestComplete(t *testing.T) {
	files := token.NewFileSet()
	c := &checked{files: files, std: importer.ForCompiler(files, "source", nil), done: map[string]*source{}}
	excused := map[string]bool{}
	for _, p := range []struct {
		path  string
		lines []basis.Constant
		least int // declarations and parameters that there are at least, lest nothing be looked at
	}{
		{"air", air.Basis(), 9}, {"field", field.Basis(), 9}, {"flight", flight.Basis(), 9},
		{"frame", frame.Basis(), 20},
		{"motor", motor.Basis(), 35}, {"pack", pack.Basis(), 16}, {"rotor", rotor.Basis(), 45},
		{"model", model.Basis(), 9},
	} {
		path := "rotorsieve/model"
		if p.path != "model" {
			path += "/" + p.path
		}
		s, err := c.source(path)
		if err != nil {
			t.Fatal(err)
		}
		named, known, looked := s.named(), list(p.lines), 0
		for _, c := range p.lines {
			if c.Reach != basis.Undrawn {
				looked++
			}
		}
		for _, f := range s.syntax {
			for _, d := range f.Decls {
				g, ok := d.(*ast.GenDecl)
				if !ok || g.Tok != token.CONST && g.Tok != token.VAR {
					continue
				}
				for _, spec := range g.Specs {
					v := spec.(*ast.ValueSpec)
					for i, id := range v.Names {
						if i >= len(v.Values) || aliased(v.Values[i]) || enumerated(s.info.Defs[id]) {
							continue
						}
						numbers := s.numbers(v.Values[i])
						if len(numbers) == 0 {
							continue
						}
						full := p.path + "." + id.Name
						if _, ok := unlisted[full]; ok {
							excused[full] = true
							continue
						}
						if ranges.MatchString(full) {
							continue
						}
						looked++
						if g.Tok == token.CONST && !named[s.info.Defs[id]] {
							t.Errorf("%s: Basis does not name %s", files.Position(id.Pos()), full)
						}
						for _, x := range numbers {
							if !has(known.values, x) && (g.Tok == token.CONST || !has(known.places, x)) {
								t.Errorf("%s: no line of Basis gives %g of %s", files.Position(id.Pos()), x, full)
							}
						}
					}
				}
			}
		}
		if looked < p.least {
			t.Errorf("%s: %d declarations of numbers were found, there are at least %d", p.path, looked, p.least)
		}
	}
	for name, why := range unlisted {
		if !excused[name] {
			t.Errorf("%s is excused (%s), but there is none", name, why)
		}
	}
}

// aliased says whether an expression only names another constant.
func aliased(e ast.Expr) bool {
	switch e.(type) {
	case *ast.Ident, *ast.SelectorExpr:
		return true
	}
	return false
}

// enumerated says whether a constant is one of an enumeration.
func enumerated(o types.Object) bool {
	if _, ok := o.(*types.Const); !ok {
		return false
	}
	_, ok := o.Type().(*types.Named)
	return ok
}

// Each line says what it is, of whom, and no symbol stands for two constants. Those of
// the field are among the rotor's.
func TestLines(t *testing.T) {
	seen := map[string]bool{}
	for name, p := range map[string]struct {
		lines []basis.Constant
		laws  []basis.Law
	}{
		"air": {air.Basis(), air.Laws()}, "flight": {flight.Basis(), flight.Laws()},
		"frame": {frame.Basis(), frame.Laws()}, "motor": {motor.Basis(), motor.Laws()},
		"pack":  {pack.Basis(), pack.Laws()},
		"rotor": {rotor.Basis(), rotor.Laws()}, "model": {model.Basis(), model.Laws()},
	} {
		for _, c := range p.lines {
			if c.Symbol == "" || c.Meaning == "" || c.Source == "" || seen[c.Symbol] || math.IsNaN(c.Value) {
				t.Errorf("%s: incomplete or doubled constant %+v", name, c)
			}
			seen[c.Symbol] = true
		}
		if len(p.laws) == 0 {
			t.Errorf("%s has no laws", name)
		}
		for _, l := range p.laws {
			if l.Name == "" || l.Formula == "" || l.Source == "" || seen[l.Name] {
				t.Errorf("%s: incomplete or doubled law %+v", name, l)
			}
			seen[l.Name] = true
		}
	}
}

// Spreads that thrust stands and wind tunnels left, as the packages claim them.
func TestSpreads(t *testing.T) {
	spread := map[string]string{}
	for _, lines := range [][]basis.Constant{motor.Basis(), rotor.Basis()} {
		for _, c := range lines {
			spread[c.Symbol] = c.Spread
		}
	}
	for symbol, want := range map[string]string{
		"c75/R": "20 %", "k_cB": "10 %", "n_P": "0.08", "k_PB": "8 %", "KV under load": "4 %",
		"x": "100 %", "c": "30 %", "f stand": "40 %", "leads drop": "40 %", "Q/V_s burst": "20 %",
	} {
		if spread[symbol] != want {
			t.Errorf("%s spreads %q, want %q", symbol, spread[symbol], want)
		}
	}
}
