package study

import (
	"math"
	"math/rand/v2"
	"sort"

	"railsum/calc/run"
)

// worst searches the lowest and the highest answer: from corners and random
// places, then along each tolerance in turn, closer and closer.
func (s *spreader) worst(out *Spread, slopes []float64) error {
	k := len(s.sources)
	var starts [][]float64
	corner := func(sign float64) []float64 {
		e := make([]float64, k)
		for j, m := range slopes {
			e[j] = sign
			if m < 0 {
				e[j] = -sign
			}
		}
		return e
	}
	starts = append(starts, corner(1), corner(-1), make([]float64, k))
	if k <= 10 {
		for c := range 1 << k {
			e := make([]float64, k)
			for j := range e {
				e[j] = float64(2*(c>>j&1) - 1)
			}
			starts = append(starts, e)
		}
	}
	rng := rand.New(rand.NewPCG(seed, uint64(k)))
	for i := range 2048 {
		e := make([]float64, k)
		for j := range e {
			e[j] = 2*rng.Float64() - 1
			if i%2 == 0 {
				e[j] = math.Copysign(1, e[j])
			}
		}
		starts = append(starts, e)
	}
	got, err := s.values(len(starts), func(j, row int) float64 { return starts[row][j] })
	if err != nil {
		return err
	}
	for _, sign := range []float64{1, -1} {
		best, err := s.climb(foothills(starts, got, sign), sign)
		if err != nil {
			return err
		}
		if sign > 0 {
			out.Highest = math.Max(out.Highest, best)
		} else {
			out.Lowest = math.Min(out.Lowest, -best)
		}
	}
	return nil
}

// climber is on its way to an answer that nothing near by betters.
type climber struct {
	e     []float64
	best  float64
	reach float64
}

// foothills are the best places to climb from, each in another quarter: the
// highest of all need not stand on the highest hill.
func foothills(starts [][]float64, got []Sample, sign float64) []climber {
	const most = 16
	order := make([]int, 0, len(got))
	for i, g := range got {
		if g.OK {
			order = append(order, i)
		}
	}
	sort.SliceStable(order, func(a, b int) bool { return sign*got[order[a]].V > sign*got[order[b]].V })
	quarters := map[string]bool{}
	var all []climber
	for _, i := range order {
		quarter := make([]byte, len(starts[i]))
		for j, e := range starts[i] {
			if e < 0 {
				quarter[j] = 1
			}
		}
		if quarters[string(quarter)] || len(all) == most {
			continue
		}
		quarters[string(quarter)] = true
		all = append(all, climber{append([]float64(nil), starts[i]...), sign * got[i].V, 1})
	}
	return all
}

// climb betters answers along each tolerance in turn until nothing betters
// them, and gives the best.
func (s *spreader) climb(all []climber, sign float64) (float64, error) {
	k := len(s.sources)
	steps := min(33, max(5, 8*run.Block/k|1)) // an odd number, so that it stays where it is in one of them
	each := k * steps
	all = all[:min(len(all), max(1, 16*run.Block/each))]
	for range 60 {
		var open []*climber
		for i := range all {
			if all[i].reach >= 1e-9 {
				open = append(open, &all[i])
			}
		}
		if len(open) == 0 {
			break
		}
		place := func(j, row int) float64 {
			c, row := open[row/each], row%each
			x := c.e[j]
			if row/steps == j {
				x += c.reach * (float64(row%steps)/float64(steps-1)*2 - 1)
			}
			return math.Min(1, math.Max(-1, x))
		}
		got, err := s.values(len(open)*each, place)
		if err != nil {
			return 0, err
		}
		for n, c := range open {
			at := -1
			for i, g := range got[n*each : (n+1)*each] {
				if g.OK && sign*g.V > c.best {
					c.best, at = sign*g.V, n*each+i
				}
			}
			if at < 0 {
				c.reach /= 8
				continue
			}
			j := at % each / steps
			c.e[j] = place(j, at)
		}
	}
	best := math.Inf(-1)
	for _, c := range all {
		best = math.Max(best, c.best)
	}
	return best, nil
}
