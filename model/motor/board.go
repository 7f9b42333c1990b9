package motor

// Board says what carries the speed controllers.
type Board int

// Boards.
const (
	Separate Board = iota // a separate four-in-one board
	Joined                // one board that joins flight controller and speed controllers
)

var boards = [...]string{"separate", "joined"}

// String names the board as its flag does.
func (b Board) String() string { return boards[b] }

// MaxJoined is the highest rating in A per motor at which joined boards are common.
const MaxJoined = 45.0

// BoardMass is that of four channels in kg, for a rating in A. On a joined board it is what
// they add to the flight controller, whose 4 to 5 g stay with the avionics: the law of a
// separate board without its plate, 0.24 g/A. With 4.5 g for the flight controller that
// comes to 7.4 and 9.3 g for 12 and 20 A, where such boards weigh 7 to 9 g (common
// practice).
func (p *Parameters) BoardMass(b Board, c Controller) float64 {
	if b == Joined {
		return p.Joined * c.Rating
	}
	return p.Board * (1 + p.BoardSlope*c.Rating)
}
