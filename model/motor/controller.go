package motor

import "math"

const (
	dropAtRating  = 0.15   // V
	switchingTime = 100e-9 // s
	switchingRate = 48e3   // Hz
	idleLoss      = 0.3    // W per channel
	ratingMargin  = 1.2
	boardMass     = 0.004 // kg
	boardSlope    = 0.06  // 1/A
)

// ratings are the current steps in which four-in-one boards are sold, in A
// (common practice). Above the last the steps go on by ratingStep, so that the
// mass of an impractical design keeps growing and a requirement can refuse it.
var ratings = [...]float64{10, 12, 20, 25, 35, 45, 60, 80}

const ratingStep = 20 // A

// MinRating and MaxRating are the ends of the range of boards that are common.
const (
	MinRating = 10.0 // A
	MaxRating = 80.0 // A
)

// Controller is one channel of a four-in-one speed controller. The rating is
// continuous current per motor in A.
type Controller struct {
	Rating float64
	R      float64 // conduction resistance, ohm
}

// ControllerFor gives the smallest controller whose rating is at least 1.2
// times the peak motor current, in A.
func ControllerFor(peak float64) Controller {
	need := ratingMargin * peak
	for _, r := range ratings {
		if r >= need {
			return Rated(r)
		}
	}
	return Rated(ratingStep * math.Ceil(need/ratingStep))
}

// Rated gives the controller of a stated rating in A.
func Rated(rating float64) Controller {
	return Controller{Rating: rating, R: dropAtRating / rating}
}

// BoardMass is that of the four channels together, in kg.
func (c Controller) BoardMass() float64 { return boardMass * (1 + boardSlope*c.Rating) }

// SwitchingLoss is the power lost in the edges below full duty, in W, at pack
// voltage v in V and motor current i in A.
func SwitchingLoss(v, i float64) float64 {
	return 0.5 * v * i * switchingTime * switchingRate
}

// IdleLoss is the power of one channel's logic and gate drive, in W.
const IdleLoss = idleLoss
