package study

import (
	"math"
	"math/rand/v2"
	"sort"

	"railsum/calc/run"
)

// starting is about how many numbers make the places from which the search for
// the worst case starts; climbed is how many tolerances it follows.
const (
	starting = 2_000_000
	climbed  = 64
)

// worst searches the lowest and the highest answer: from corners and random
// places, then along each tolerance in turn, closer and closer. Of many
// tolerances it follows the largest.
func (s *spreader) worst(out *estimate, a alone) error {
	starts := s.starts(a, out.Nominal)
	got, err := s.values(len(starts), func(j, row int) float64 { return starts[row][j] })
	if err != nil {
		return err
	}
	along := a.largest(out.Nominal, climbed)
	for i, sign := range []float64{1, -1} {
		half := (searched - sloped) / 2
		part := s.lab.within(sloped+half*float64(i), sloped+half*float64(i+1))
		best, err := s.climb(foothills(starts, got, sign), along, sign, part)
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

// starts are the places to begin with: the corners that the slopes point to,
// those made of each tolerance's better end, all corners if they are few, and
// random places and corners.
func (s *spreader) starts(a alone, nominal float64) [][]float64 {
	k := len(s.sources)
	rng := rand.New(rand.NewPCG(seed, uint64(k)))
	place := func(at func(j int) float64) []float64 {
		e := make([]float64, k)
		for j := range e {
			e[j] = at(j)
		}
		return e
	}
	var starts [][]float64
	for _, sign := range []float64{1, -1} {
		starts = append(starts, place(func(j int) float64 {
			if a.slopes[j] < 0 {
				return -sign
			}
			return sign
		}))
	}
	starts = append(starts, make([]float64, k))
	for _, sign := range []float64{1, -1} {
		starts = append(starts, place(func(j int) float64 { return a.better(j, nominal, sign) }))
	}
	if k <= 10 {
		for c := range 1 << k {
			starts = append(starts, place(func(j int) float64 { return float64(2*(c>>j&1) - 1) }))
		}
	}
	for i := range min(2048, max(64, starting/k)) {
		starts = append(starts, place(func(int) float64 {
			x := 2*rng.Float64() - 1
			if i%2 == 0 {
				return math.Copysign(1, x)
			}
			return x
		}))
	}
	return starts
}

// better is the end of a tolerance at which the answer, times the sign, is the
// highest, or 0 if it is highest in the middle.
func (a alone) better(j int, nominal, sign float64) float64 {
	at, best := 0.0, sign*nominal
	for i, end := range a.ends[j] {
		if end.OK && sign*end.V > best {
			at, best = float64(2*i-1), sign*end.V
		}
	}
	return at
}

// largest are the tolerances that move the answer most, in their order.
func (a alone) largest(nominal float64, most int) []int {
	all := make([]int, len(a.slopes))
	for j := range all {
		all[j] = j
	}
	if len(all) <= most {
		return all
	}
	moves := func(j int) float64 {
		m := math.Abs(a.slopes[j])
		for _, end := range a.ends[j] {
			if end.OK {
				m = math.Max(m, math.Abs(end.V-nominal))
			}
		}
		return m
	}
	sort.SliceStable(all, func(i, j int) bool { return moves(all[i]) > moves(all[j]) })
	all = all[:most]
	sort.Ints(all)
	return all
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
func (s *spreader) climb(all []climber, along []int, sign float64, lab *Lab) (float64, error) {
	const rounds = 60
	turn := make([]int, len(s.sources)) // which of those it follows a tolerance is, -1 for none
	for j := range turn {
		turn[j] = -1
	}
	for i, j := range along {
		turn[j] = i
	}
	steps := min(33, max(5, 8*run.Block/len(s.sources)|1)) // an odd number, so that it stays where it is in one of them
	each := len(along) * steps
	most := max(1, 16*run.Block/each)
	if len(along) < len(s.sources) {
		most = 1 // each look is dear
	}
	all = all[:min(len(all), most)]
	for round := range rounds {
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
			if row/steps == turn[j] {
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
			j := along[at%each/steps]
			c.e[j] = place(j, at)
		}
		lab.tell(float64(round+1) / rounds)
	}
	best := math.Inf(-1)
	for _, c := range all {
		best = math.Max(best, c.best)
	}
	return best, nil
}
