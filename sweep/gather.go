package sweep

// lineLoop is the innermost loop around the designs: each of its values has one line of
// them along the payload axis.
const lineLoop = axPayload - 1

// gatherer collects what one block finds in one slot of the classes, but for what goes to cells of maps: designs
// that better something, which are few (slots.finds), and marks of those that are rejected (slots.grounds).
type gatherer struct {
	rejected []uint64 // by gate
	fallen   []uint64 // of these, in further scenarios, see ClassResult.Fallen
	feasible uint64
	rank     ranking
	miss     Miss    // not by its mass, see slots.over
	size     []uint8 // the furthest gate by weight bin, on the block's diameter
	seen     []bool
	front    front
	listing  listing
}

func (p *plan) newGatherer() *gatherer {
	return &gatherer{
		rejected: make([]uint64, len(p.gates)),
		fallen:   make([]uint64, len(p.gates)*len(p.others)),
		rank:     ranking{k: p.study.Top},
		size:     make([]uint8, p.study.SizeBins),
		seen:     make([]bool, p.study.SizeBins),
		listing:  p.newListing(),
	}
}

// reset prepares for the next block.
func (x *gatherer) reset() {
	clear(x.rejected)
	clear(x.fallen)
	x.feasible = 0
	x.rank.heap = x.rank.heap[:0]
	x.miss = Miss{}
	x.front.points = x.front.points[:0]
	clear(x.size)
	clear(x.seen)
}

// nearer takes in a miss.
func (x *gatherer) nearer(m Miss) {
	if m.Gate >= x.miss.Gate || !x.miss.Any {
		x.miss.add(m)
	}
}

// count counts a design at the gate that it did not pass, after that of the class; bin is its place
// in the size map.
func (x *gatherer) count(gate, bin int) {
	x.rejected[gate]++
	x.seen[bin] = true
	x.size[bin] = max(x.size[bin], uint8(gate))
}

// fell notes in which scenario designs were rejected; of the first nothing is kept, which is the
// rest.
func (x *gatherer) fell(scenario, gate int, count uint64) {
	if scenario > 0 {
		x.fallen[(scenario-1)*len(x.rejected)+gate] += count
	}
}

// pass counts a feasible design that changes nothing else.
func (x *gatherer) pass(bin int) {
	x.feasible++
	x.seen[bin] = true
}
