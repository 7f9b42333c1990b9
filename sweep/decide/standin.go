package decide

import "rotorsieve/sweep"

func candidates(c *sweep.ClassResult) (out []uint64) {
	for _, r := range c.Ranking {
		out = append(out, r.Index)
	}
	return out
}
