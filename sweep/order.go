package sweep

import "math/bits"

// order is the order in which the blocks of a study are visited. It follows from the grid
// alone and is spread: each axis takes its values by turns, so that any beginning of it has
// about as many blocks of one value as of any other. A propeller costs thousands of designs
// to solve, so that the blocks of one belong together: of some propellers at a time each
// gets a block by turns.
//
// A block has three numbers. Its place in the grid; its place in the row of all propellers
// in spread order, the blocks of one side by side, of which a shard is a stretch; and its
// position, when it is visited within its shard. The first is what everything else calls a
// block, the last what a checkpoint keeps, since the positions that are done are few ranges.
type order struct {
	axes       []turns // of the axes that are fixed within a block
	stride     []uint64
	propellers uint64
	each       uint64 // blocks of a propeller
	abreast    uint64 // propellers that get blocks by turns
}

// turns is how an axis of n values takes them: from one to the next by step, which has no
// divisor in common with n, and set on by a share of the blocks before that is irrational.
type turns struct{ n, step, back, share uint64 }

// shares are the fractions of the golden ratio and of roots of numbers times 2^64, by axis:
// numbers that small fractions approach badly, and none a sum of the others. The first axis
// that varies has nothing before it.
var shares = [axisCount - 1]uint64{
	axPitch:    0x9e3779b97f4a7c15, // golden
	axBlades:   0x6a09e667f3bcc908, // root of 2
	axChord:    0xbb67ae8584caa73b, // of 3
	axStator:   0xa54ff53a5f1d36f1, // of 7
	axKV:       0x9b05688c2b3e6c1f, // of 13
	axCells:    0x7311c2812425cfa0, // of 6
	axCapacity: 0x298b075b4b6a5240, // of 10
	axFrame:    0x510e527fade682d1, // of 11
	axBoard:    0x1f83d9abfb41bd6b, // of 17
	axMotor:    0x5be0cd19137e2179, // of 19
	axPack:     0x9523ae4547a14ccc, // of 21
}

// abreast is how many propellers get blocks by turns: half of keptPropellers at most, so that
// none is solved twice while one group follows on another. Positions depend on it, and with
// them what a checkpoint means.
var abreast uint64 = 256 // a variable for tests alone

func (p *plan) newOrder() *order {
	g := p.study.Grid
	o := &order{propellers: g.size / p.propellers.stride, each: p.propellers.stride / p.blockSize}
	o.abreast = min(abreast, o.propellers)
	for a := range p.depth {
		t := turns{n: uint64(g.count[a])}
		t.step = coprime(t.n)
		t.back = inverse(t.step, t.n)
		t.share = shares[a]
		o.axes = append(o.axes, t)
		o.stride = append(o.stride, g.stride[a]/p.blockSize)
	}
	return o
}

// coprime is the number nearest to a golden share of n that has no divisor in common with it.
func coprime(n uint64) uint64 {
	at, _ := bits.Mul64(n, golden)
	for d := uint64(0); ; d++ {
		for _, step := range [2]uint64{at + d, at - min(d, at)} {
			if step > 0 && gcd(step, n) == 1 {
				return step
			}
		}
	}
}

func gcd(a, b uint64) uint64 {
	for b > 0 {
		a, b = b, a%b
	}
	return a
}

// inverse is what undoes a multiplication by step in the remainders of n.
func inverse(step, n uint64) uint64 {
	r0, r1, t0, t1 := int64(n), int64(step%n), int64(0), int64(1)
	for r1 > 0 {
		q := r0 / r1
		r0, r1, t0, t1 = r1, r0-q*r1, t1, t0-q*t1
	}
	if t0 < 0 {
		t0 += int64(n)
	}
	return uint64(t0)
}

// times is a*b in the remainders of n.
func times(a, b, n uint64) uint64 {
	hi, lo := bits.Mul64(a, b)
	return bits.Rem64(hi, lo, n)
}

// ahead is how far an axis is set on after so many turns of those before it.
func (t *turns) ahead(before uint64) uint64 {
	hi, _ := bits.Mul64(before*t.share, t.n)
	return hi
}

// block is the place in the grid of a place in the row.
func (o *order) block(row uint64) uint64 {
	left := row/o.each + row%o.each*o.propellers
	var block, before uint64
	weight := uint64(1)
	for a := range o.axes {
		t := &o.axes[a]
		turn := left % t.n
		left /= t.n
		block += (t.ahead(before) + times(turn, t.step, t.n)) % t.n * o.stride[a]
		before += turn * weight
		weight *= t.n
	}
	return block
}

// row is the place in the row of a place in the grid.
func (o *order) row(block uint64) uint64 {
	var before uint64
	weight := uint64(1)
	for a := range o.axes {
		t := &o.axes[a]
		value := block / o.stride[a] % t.n
		before += times(value+t.n-t.ahead(before), t.back, t.n) * weight
		weight *= t.n
	}
	return before%o.propellers*o.each + before/o.propellers
}

// visits is the order of a shard: its positions are numbered from first, before last.
type visits struct {
	*order
	first, last uint64
}

func (p *plan) visits(s Shard) visits {
	first, last := s.blocks(p.blocks)
	return visits{p.order, first, last}
}

// group is where the propellers abreast with a place begin, how many they are, and how
// many blocks the last of them has, which may be fewer than the others.
func (v *visits) group(place uint64) (from, rows, tail uint64) {
	size := v.abreast * v.each
	from = v.first + (place-v.first)/size*size
	n := min(size, v.last-from)
	rows = (n + v.each - 1) / v.each
	return from, rows, n - (rows-1)*v.each
}

// at is the block that is visited at a position.
func (v *visits) at(position uint64) uint64 {
	from, rows, tail := v.group(position)
	n := position - from
	row, turn := n%rows, n/rows
	if n >= tail*rows { // the last has no more
		n -= tail * rows
		row, turn = n%(rows-1), tail+n/(rows-1)
	}
	return v.block(from + row*v.each + turn)
}

// position is where a block is visited; false for one of another shard.
func (v *visits) position(block uint64) (uint64, bool) {
	place := v.row(block)
	if place < v.first || place >= v.last {
		return 0, false
	}
	from, rows, tail := v.group(place)
	row, turn := (place-from)/v.each, (place-from)%v.each
	if turn < tail {
		return from + turn*rows + row, true
	}
	return from + tail*rows + (turn-tail)*(rows-1) + row, true
}

// of is position for a block of the shard.
func (v *visits) of(block uint64) uint64 {
	position, ok := v.position(block)
	if !ok {
		panic("sweep: a block of another shard")
	}
	return position
}
