package pack

// Parameters are the constants of packs whose spread is known; Basis says more of each.
type Parameters struct {
	Overhead   float64 // wrap and strips over bare cells
	LipoLeads  float64 // kg, with the connector
	LiionLeads float64 // kg
	JointR     float64 // ohm per cell
	LeadR      float64 // ohm per pack
	Current    float64 // factor on the continuous current

	Cells [grades]Cell // of Grades, in their order
}

// Cell is one cell of a grade.
type Cell struct {
	Mass float64 // kg, of pouch cells kg/Ah
	R    float64 // ohm, of pouch cells ohm Ah: it goes with the inverse of the capacity
}

// Nominal are the parameters as they are best known.
func Nominal() Parameters {
	return Parameters{
		Overhead: 1.06, LipoLeads: 2e-3, LiionLeads: 4e-3, JointR: 0.4e-3, LeadR: 2e-3, Current: 1,
		Cells: [grades]Cell{
			highRate:    {Mass: 26e-3, R: 6e-3},
			middle:      {Mass: 24e-3, R: 10e-3},
			longFlight:  {Mass: 20e-3, R: 16e-3},
			energy18650: {Mass: 48e-3, R: 40e-3},
			power18650:  {Mass: 47e-3, R: 20e-3},
			energy21700: {Mass: 69e-3, R: 26e-3},
			power21700:  {Mass: 69e-3, R: 14e-3},
		},
	}
}

// gradeIndex is the index of a grade in Grades.
type gradeIndex int

// The grades by index.
const (
	highRate gradeIndex = iota
	middle
	longFlight
	energy18650
	power18650
	energy21700
	power21700
	grades
)
