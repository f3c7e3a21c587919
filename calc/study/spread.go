package study

import (
	"context"
	"math"
	"math/rand/v2"
	"slices"
	"sort"

	"railsum/calc/check"
	"railsum/calc/run"
)

// Samples is how many random samples a spread draws, and seed makes them the
// same every time.
const (
	Samples = 100_000
	seed    = 20_260_101
)

// Source is a tolerance: of a line, of a cell of a table, or of one row of a
// computed column.
type Source struct {
	Def *check.Def
	Row int
}

// Spread is how sure an answer is.
type Spread struct {
	Nominal         float64
	Lowest, Highest float64 // in the worst case, searched
	RSS             float64 // root sum square of what each tolerance contributes, to first order
	Low95, High95   float64 // the middle 95 % of the samples
	Parts           []Part  // worst first
	Rules           []RuleShare
	Failed          float64 // share of the samples without an answer
}

// Part is what one tolerance contributes.
type Part struct {
	Source Source
	Moves  float64 // how far it moves the answer alone, to first order
	Share  float64 // of the variance
}

// RuleShare is in what share of the samples a rule holds.
type RuleShare struct {
	Rule  *check.Def
	Holds float64
}

// Sources are the tolerances that an answer depends on, each its own source.
func (l *Lab) Sources(p *check.Def) []Source {
	var all []Source
	for _, d := range l.C.Order {
		if d.Tol <= 0 || !check.DependsOn(p, d) {
			continue
		}
		rows := 1
		if c := l.M.Col(d); c != nil {
			rows = c.Rows
		}
		for r := range rows {
			all = append(all, Source{d, r})
		}
	}
	return all
}

// spreader moves tolerances: in every row of a study each source deviates by a
// share e of its tolerance, from -1 to 1.
type spreader struct {
	lab     *Lab
	ctx     context.Context
	sources []Source
	want    []*check.Def
}

// at computes the wanted Defs for rows of deviations; e gives that of source j
// in a row.
func (s *spreader) at(rows int, e func(j, row int) float64, sink func(first, n int, cols []*run.Col)) error {
	st := run.Study{Rows: rows, Want: s.want, Shift: map[*check.Def]func(int, int, []float64){}}
	for j, src := range s.sources {
		before := st.Shift[src.Def]
		st.Shift[src.Def] = func(first, n int, v []float64) {
			if before != nil {
				before(first, n, v)
			}
			v = v[src.Row*n : (src.Row+1)*n]
			for w := range v {
				if src.Def.TolShare {
					v[w] *= 1 + src.Def.Tol*e(j, first+w)
				} else {
					v[w] += src.Def.Tol * e(j, first+w)
				}
			}
		}
	}
	return s.lab.M.Study(s.ctx, st, func(first, n int, cols []*run.Col) error {
		sink(first, n, cols)
		return nil
	})
}

// values is at for the first wanted Def alone.
func (s *spreader) values(rows int, e func(j, row int) float64) ([]Sample, error) {
	out := make([]Sample, rows)
	err := s.at(rows, e, func(first, n int, cols []*run.Col) {
		for w := range n {
			v, mk := cols[0].At(0, w)
			out[first+w] = Sample{v, mk == 0}
		}
	})
	return out, err
}

// Spread studies a single value. It is nil if the value has no answer.
func (l *Lab) Spread(ctx context.Context, p *check.Def) (*Spread, error) {
	nominal, ok := l.value(p)
	if !ok {
		return nil, nil
	}
	out := &Spread{Nominal: nominal, Lowest: nominal, Highest: nominal, Low95: nominal, High95: nominal}
	s := &spreader{lab: l, ctx: ctx, sources: l.Sources(p), want: []*check.Def{p}}
	if len(s.sources) == 0 {
		return out, nil
	}
	slopes, err := s.slopes(out)
	if err != nil {
		return nil, err
	}
	if err := s.worst(out, slopes); err != nil {
		return nil, err
	}
	return out, s.sample(out, p)
}

// slopes finds what each tolerance contributes to first order: how steep the
// answer is at the nominal values. Where it jumps just there, that would be
// without end, and the tolerance's ends tell instead.
func (s *spreader) slopes(out *Spread) ([]float64, error) {
	steps := []float64{1e-4, 1e-5, 1}
	each := 2 * len(steps)
	k := len(s.sources)
	got, err := s.values(each*k, func(j, row int) float64 {
		if row/each != j {
			return 0
		}
		return steps[row%each/2] * float64(1-2*(row%2))
	})
	if err != nil {
		return nil, err
	}
	slopes := make([]float64, k)
	sum := 0.0
	for j := range slopes {
		var m [3]float64
		for n, h := range steps {
			m[n] = slope(got[j*each+2*n], got[j*each+2*n+1], h)
		}
		switch a, b := math.Abs(m[0]), math.Abs(m[1]); {
		case a > 3*b:
			slopes[j] = m[1]
		case b > 3*a:
			slopes[j] = m[2]
		default:
			slopes[j] = m[0]
		}
		sum += slopes[j] * slopes[j]
	}
	out.RSS = math.Sqrt(sum)
	for j, m := range slopes {
		part := Part{Source: s.sources[j], Moves: math.Abs(m)}
		if sum > 0 {
			part.Share = m * m / sum
		}
		out.Parts = append(out.Parts, part)
	}
	sort.SliceStable(out.Parts, func(i, j int) bool { return out.Parts[i].Moves > out.Parts[j].Moves })
	return slopes, nil
}

// slope is that between two places h to either side; what may be rounding alone
// is none.
func slope(up, down Sample, h float64) float64 {
	if !up.OK || !down.OK || math.Abs(up.V-down.V) <= 1e-14*math.Max(math.Abs(up.V), math.Abs(down.V)) {
		return 0
	}
	return (up.V - down.V) / (2 * h)
}

// sample draws every tolerance evenly over its range and gives the middle 95 %
// of the answers, and in what share of the samples the rules hold that the
// answer has a part in.
func (s *spreader) sample(out *Spread, p *check.Def) error {
	for _, rule := range s.lab.rules() {
		if rule.Type.Of == nil && check.DependsOn(rule, underneath(p)) {
			s.want = append(s.want, rule)
			s.sources = union(s.sources, s.lab.Sources(rule)) // what else it depends on moves too
		}
	}
	rngs := make([]*rand.Rand, len(s.sources))
	for j := range rngs {
		rngs[j] = rand.New(rand.NewPCG(seed, uint64(j)+1))
	}
	values := make([]float64, 0, Samples)
	holds := make([]int, len(s.want))
	err := s.at(Samples, func(j, _ int) float64 { return 2*rngs[j].Float64() - 1 }, func(first, n int, cols []*run.Col) {
		for w := range n {
			if v, mk := cols[0].At(0, w); mk == 0 {
				values = append(values, v)
			}
			for i, c := range cols {
				if v, mk := c.At(0, w); mk == 0 && v != 0 {
					holds[i]++
				}
			}
		}
		if s.lab.Progress != nil {
			s.lab.Progress(float64(first+n) / Samples)
		}
	})
	if err != nil {
		return err
	}
	for i, rule := range s.want[1:] {
		out.Rules = append(out.Rules, RuleShare{rule, float64(holds[i+1]) / Samples})
	}
	out.Failed = 1 - float64(len(values))/Samples
	if len(values) == 0 {
		return nil
	}
	sort.Float64s(values)
	out.Low95, out.High95 = quantile(values, 0.025), quantile(values, 0.975)
	// The search is for the worst case: no sample may lie beyond it.
	out.Lowest, out.Highest = math.Min(out.Lowest, values[0]), math.Max(out.Highest, values[len(values)-1])
	return nil
}

// union is a with what it lacks of b.
func union(a, b []Source) []Source {
	for _, s := range b {
		if !slices.Contains(a, s) {
			a = append(a, s)
		}
	}
	return a
}

// quantile of sorted values, between two of them in proportion.
func quantile(v []float64, q float64) float64 {
	at := q * float64(len(v)-1)
	i := int(at)
	if i+1 >= len(v) {
		return v[len(v)-1]
	}
	return v[i] + (v[i+1]-v[i])*(at-float64(i))
}
