package finding

import (
	"errors"
	"fmt"

	"rotorsieve/model"
	"rotorsieve/model/motor"
	"rotorsieve/model/pack"
	"rotorsieve/model/part"
	stock "rotorsieve/model/part/list"
	"rotorsieve/model/rotor"
	"rotorsieve/model/table"
	"rotorsieve/sweep"
)

// PartsRecord is what the parts of one axis state, in the order of its values, so that a run is
// read back where their lists are not: one of the kinds has some. Values are in SI units but for
// KV in rpm/V; one that a part does not state is not there.
type PartsRecord struct {
	Motors     []MotorRecord     `json:"motors,omitempty"`
	Propellers []PropellerRecord `json:"propellers,omitempty"`
	Packs      []PackRecord      `json:"packs,omitempty"`
	Frames     []FrameRecord     `json:"frames,omitempty"`
	Boards     []BoardRecord     `json:"boards,omitempty"`
}

// MotorRecord is a part.Motor.
type MotorRecord struct {
	Name        string     `json:"name"`
	Stator      [2]float64 `json:"stator"` // diameter and height
	KV          float64    `json:"kv"`
	Mass        *float64   `json:"mass,omitempty"`
	Resistance  *float64   `json:"resistance,omitempty"`
	IdleCurrent *float64   `json:"idle_current,omitempty"`
	IdleVoltage *float64   `json:"idle_voltage,omitempty"`
	Current     *float64   `json:"current,omitempty"`
	Burst       *float64   `json:"burst_time,omitempty"`
	MostCells   *float64   `json:"most_cells,omitempty"`
	Price       *float64   `json:"price,omitempty"`
}

// PropellerRecord is a part.Propeller.
type PropellerRecord struct {
	Name     string       `json:"name"`
	Diameter float64      `json:"diameter"`
	Pitch    float64      `json:"pitch"`
	Blades   int          `json:"blades"`
	Mass     *float64     `json:"mass,omitempty"`
	Chord    *float64     `json:"chord,omitempty"`
	Turns    *float64     `json:"most_turns,omitempty"` // 1/s
	Price    *float64     `json:"price,omitempty"`
	Blade    string       `json:"blade_file,omitempty"`
	Stand    string       `json:"stand_file,omitempty"`
	Shape    *ShapeRecord `json:"shape,omitempty"` // where one of the two is stated
}

// ShapeRecord is what blade and stand file of a propeller come to: stations of the blade and its
// correction, angles in rad.
type ShapeRecord struct {
	X     []float64 `json:"r_over_R"`
	Chord []float64 `json:"c_over_R"`
	Pitch []float64 `json:"beta"`

	Correction struct {
		Pitch float64 `json:"beta"`
		Drag  float64 `json:"drag"`
		Chord float64 `json:"chord"`
	} `json:"correction"`
}

// PackRecord is a part.Pack.
type PackRecord struct {
	Name       string   `json:"name"`
	Cells      int      `json:"cells"`
	Capacity   float64  `json:"capacity"`
	Grade      string   `json:"grade,omitempty"` // "" for that of the study
	Mass       *float64 `json:"mass,omitempty"`
	Resistance *float64 `json:"resistance,omitempty"`
	Current    *float64 `json:"current,omitempty"`
	Burst      *float64 `json:"burst_current,omitempty"`
	Price      *float64 `json:"price,omitempty"`
}

// FrameRecord is a part.Frame.
type FrameRecord struct {
	Name      string   `json:"name"`
	Wheelbase float64  `json:"wheelbase"`
	Largest   float64  `json:"largest_propeller"`
	Mass      *float64 `json:"mass,omitempty"`
	Area      *float64 `json:"drag_area,omitempty"`
	Price     *float64 `json:"price,omitempty"`
}

// BoardRecord is a part.Board.
type BoardRecord struct {
	Name    string   `json:"name"`
	Current float64  `json:"current"`
	Cells   int      `json:"cells"`
	Joined  bool     `json:"joined,omitempty"`
	Mass    *float64 `json:"mass,omitempty"`
	Price   *float64 `json:"price,omitempty"`
}

// MostStations bounds the stations of all blades of a list, which a record has room for.
const MostStations = 250_000

// told is a value as a record has it, nil for one that is not stated; heard takes it back.
func told(s part.Stated) *float64 {
	if !s.Known {
		return nil
	}
	return &s.Value
}

func heard(v *float64) part.Stated {
	if v == nil {
		return part.Stated{}
	}
	return part.Stated{Value: *v, Known: true}
}

// PartsRecordOf tells the parts of an axis; nil of another axis.
func PartsRecordOf(a sweep.Axis) *PartsRecord {
	if !a.Def.IsPart() {
		return nil
	}
	r := new(PartsRecord)
	for _, v := range a.Values {
		r.add(a.Def.Part(v))
	}
	return r
}

func (r *PartsRecord) add(of model.Parts) {
	if p := of.Motor; p != nil {
		r.Motors = append(r.Motors, MotorRecord{p.Name, [2]float64{p.Stator.Diameter, p.Stator.Height}, p.KV,
			told(p.Mass), told(p.Resistance), told(p.IdleCurrent), told(p.IdleVoltage), told(p.Current), told(p.Burst),
			told(p.MostCells), told(p.Price)})
	}
	if p := of.Propeller; p != nil {
		r.Propellers = append(r.Propellers, PropellerRecord{p.Name, p.Diameter, p.Pitch, p.Blades, told(p.Mass),
			told(p.Chord), told(p.Turns), told(p.Price), p.Blade, p.Stand, shapeRecord(p.Geometry)})
	}
	if p := of.Pack; p != nil {
		grade := ""
		if p.Grade != nil {
			grade = p.Grade.Name
		}
		r.Packs = append(r.Packs, PackRecord{p.Name, p.Cells, p.Capacity, grade, told(p.Mass), told(p.Resistance),
			told(p.Current), told(p.Burst), told(p.Price)})
	}
	if p := of.Frame; p != nil {
		r.Frames = append(r.Frames, FrameRecord{p.Name, p.Wheelbase, p.Largest, told(p.Mass), told(p.Area),
			told(p.Price)})
	}
	if p := of.Board; p != nil {
		r.Boards = append(r.Boards, BoardRecord{p.Name, p.Current, p.Cells, p.Joined, told(p.Mass), told(p.Price)})
	}
}

func shapeRecord(g *rotor.Geometry) *ShapeRecord {
	if g == nil {
		return nil
	}
	s := g.Blade.Stations()
	r := &ShapeRecord{X: s.X, Chord: s.Chord, Pitch: s.Pitch}
	c := g.Correction
	r.Correction.Pitch, r.Correction.Drag, r.Correction.Chord = c.Pitch, c.Drag, c.Chord
	return r
}

// axis makes the axis of a name of the parts that were told, as parts of a list are held to be.
func (r *PartsRecord) axis(name string) (sweep.Axis, error) {
	kinds := 0
	for _, n := range []int{len(r.Motors), len(r.Propellers), len(r.Packs), len(r.Frames), len(r.Boards)} {
		kinds += min(n, 1)
	}
	if kinds != 1 {
		return sweep.Axis{}, fmt.Errorf("%d kinds of parts", kinds)
	}
	switch {
	case name == "motor" && r.Motors != nil:
		return partsOf(r.Motors, (*MotorRecord).part, stock.CheckMotors, sweep.MotorAxis)
	case name == "propeller" && r.Propellers != nil:
		stations := 0
		for i := range r.Propellers {
			if s := r.Propellers[i].Shape; s != nil {
				stations += len(s.X)
			}
		}
		if stations > MostStations {
			return sweep.Axis{}, fmt.Errorf("%d stations of blades", stations)
		}
		return partsOf(r.Propellers, (*PropellerRecord).part, stock.CheckPropellers, sweep.PropellerAxis)
	case name == "pack" && r.Packs != nil:
		for i := range r.Packs[1:] {
			if r.Packs[i+1].Cells < r.Packs[i].Cells {
				return sweep.Axis{}, errors.New("packs whose cells fall")
			}
		}
		return partsOf(r.Packs, (*PackRecord).part, stock.CheckPacks, sweep.PackAxisAsIs)
	case name == "frame" && r.Frames != nil:
		return partsOf(r.Frames, (*FrameRecord).part, stock.CheckFrames, sweep.FrameAxis)
	case name == "board" && r.Boards != nil:
		return partsOf(r.Boards, (*BoardRecord).part, stock.CheckBoards, sweep.BoardAxis)
	}
	return sweep.Axis{}, errors.New("parts of another kind")
}

func partsOf[R, T any](told []R, of func(*R) (T, error), check func([]T) error, axis func([]T) sweep.Axis) (sweep.Axis,
	error) {
	var all []T
	for i := range told {
		p, err := of(&told[i])
		if err != nil {
			return sweep.Axis{}, err
		}
		all = append(all, p)
	}
	if err := check(all); err != nil {
		return sweep.Axis{}, err
	}
	return axis(all), nil
}

func (r *MotorRecord) part() (part.Motor, error) {
	return part.Motor{Name: r.Name, Stator: motor.Stator{Diameter: r.Stator[0], Height: r.Stator[1]}, KV: r.KV,
		Mass: heard(r.Mass), Resistance: heard(r.Resistance), IdleCurrent: heard(r.IdleCurrent),
		IdleVoltage: heard(r.IdleVoltage), Current: heard(r.Current), Burst: heard(r.Burst),
		MostCells: heard(r.MostCells), Price: heard(r.Price)}, nil
}

func (r *PropellerRecord) part() (p part.Propeller, err error) {
	p = part.Propeller{Name: r.Name, Diameter: r.Diameter, Pitch: r.Pitch, Blades: r.Blades, Mass: heard(r.Mass),
		Chord: heard(r.Chord), Turns: heard(r.Turns), Price: heard(r.Price), Blade: r.Blade, Stand: r.Stand}
	if !path(p.Blade) || !path(p.Stand) || (r.Shape != nil) != (p.Blade != "" || p.Stand != "") {
		return p, fmt.Errorf("propeller %.80q with files and shape that do not belong together", p.Name)
	}
	if r.Shape == nil {
		return p, nil
	}
	g := &rotor.Geometry{Diameter: r.Diameter, Blades: r.Blades}
	s := rotor.Stations{X: r.Shape.X, Chord: r.Shape.Chord, Pitch: r.Shape.Pitch}
	if p.Blade != "" {
		g.Blade, err = rotor.BladeOf(s)
	} else {
		g.Blade, err = rotor.GenericOf(s, r.Diameter, r.Blades, p.Chord.Known)
	}
	c := &r.Shape.Correction
	g.Correction = rotor.Correction{Pitch: c.Pitch, Drag: c.Drag, Chord: c.Chord}
	if err == nil {
		err = g.Check()
	}
	if err != nil {
		return p, fmt.Errorf("propeller %.80q: %w", p.Name, err)
	}
	p.Geometry = g
	return p, nil
}

// path says whether a text may be the path of a file that a list names.
func path(s string) bool { return len(s) <= maxPath && table.Plain(s) == nil }

// maxPath is the longest path that systems take, in bytes.
const maxPath = 4096

func (r *PackRecord) part() (p part.Pack, err error) {
	p = part.Pack{Name: r.Name, Cells: r.Cells, Capacity: r.Capacity, Mass: heard(r.Mass),
		Resistance: heard(r.Resistance), Current: heard(r.Current), Burst: heard(r.Burst), Price: heard(r.Price)}
	if r.Grade != "" {
		if p.Grade, err = pack.ParseGrade(r.Grade); err != nil {
			return p, fmt.Errorf("pack %.80q of grade %.60q", p.Name, r.Grade)
		}
	}
	return p, nil
}

func (r *FrameRecord) part() (part.Frame, error) {
	return part.Frame{Name: r.Name, Wheelbase: r.Wheelbase, Largest: r.Largest, Mass: heard(r.Mass),
		Area: heard(r.Area), Price: heard(r.Price)}, nil
}

func (r *BoardRecord) part() (part.Board, error) {
	return part.Board{Name: r.Name, Current: r.Current, Cells: r.Cells, Joined: r.Joined, Mass: heard(r.Mass),
		Price: heard(r.Price)}, nil
}
