package sweep

import (
	"fmt"
	"math/bits"
)

// Shard is one of Of equal shares of a study's blocks, the K-th, counted from 1: a stretch of
// the row in which all axes take their values by turns, see order.
type Shard struct{ K, Of int }

// wholeStudy is all of it.
var wholeStudy = Shard{1, 1}

// MaxShards bounds the number of shards of a study.
const MaxShards = 100000

// Whole says whether the shard is the whole study.
func (s Shard) Whole() bool { return s.Of <= 1 }

// String is the shard as its flag takes it, such as 1/2.
func (s Shard) String() string { return fmt.Sprintf("%d/%d", s.K, s.Of) }

// blocks gives the shard's share of n places in the row: from the first, before the last.
func (s Shard) blocks(n uint64) (first, last uint64) {
	cut := func(k int) uint64 {
		hi, lo := bits.Mul64(n, uint64(k))
		q, _ := bits.Div64(hi, lo, uint64(s.Of))
		return q
	}
	return cut(s.K - 1), cut(s.K)
}
