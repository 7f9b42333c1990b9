package motor

import "math"

// ratingMargin is the rating over the peak current of the motor.
const ratingMargin = 1.2

// ratings are the current steps in which four-in-one boards are sold, in A
// (common practice). Above the last the steps go on by ratingStep, so that the
// mass of an impractical design keeps growing and a requirement can reject it.
var ratings = [...]float64{10, 12, 20, 25, 35, 45, 60, 80}

const ratingStep = 20 // A

// MinRating and MaxRating are the ends of the range of boards that are common.
const (
	MinRating = 10.0 // A
	MaxRating = 80.0 // A
)

// Controller is one channel of a four-in-one speed controller with the leads to
// its motor. The rating is continuous current per motor in A.
type Controller struct {
	Rating float64
	R      float64 // of the conducting switches, ohm; it warms the board
	Leads  float64 // of leads and joints, ohm
}

// Series is what stands in series with the winding, in ohm.
func (c Controller) Series() float64 { return c.R + c.Leads }

// ControllerFor gives the smallest controller whose rating is at least 1.2
// times the peak motor current, in A.
func (p *Parameters) ControllerFor(peak float64) Controller {
	need := ratingMargin * peak
	for _, r := range ratings {
		if r >= need {
			return p.Rated(r)
		}
	}
	return p.Rated(ratingStep * math.Ceil(need/ratingStep))
}

// Rated gives the controller of a stated rating in A. Switches, leads and joints are
// chosen for the current, so that each drops the same voltage at the rating: 0.15 V
// (common practice) and 0.35 V, which with 25 A make the 20 mohm that thrust stands
// show with controllers of 20 to 30 A.
func (p *Parameters) Rated(rating float64) Controller {
	return Controller{Rating: rating, R: p.Drop / rating, Leads: p.Leads / rating}
}

// ControllerFor and Rated are those of the parameters that the motor was made by.
func (m *Motor) ControllerFor(peak float64) Controller { return m.by.ControllerFor(peak) }

// Rated is described with ControllerFor.
func (m *Motor) Rated(rating float64) Controller { return m.by.Rated(rating) }
