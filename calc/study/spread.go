package study

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"sort"

	"railsum/calc/answer"
	"railsum/calc/check"
	"railsum/calc/run"
	"railsum/calc/syntax"
	"railsum/calc/view"
	"railsum/units"
	"railsum/units/words"
)

// samples is how many random samples a spread draws, and seed makes them the
// same every time.
const (
	samples = 100_000
	seed    = 20_260_101
)

// maxSources is how many tolerances a spread takes, and maxRules in the samples
// of how many rules is counted whether they hold.
const (
	maxSources = 2_000
	maxRules   = 200
)

// source is a tolerance: of a line, of a cell of a table, or of one row of a
// computed column.
type source struct {
	Def *check.Def
	Row int
}

// estimate is how sure an answer is.
type estimate struct {
	Nominal         float64
	Lowest, Highest float64   // in the worst case, searched
	RSS             float64   // root sum square of what each tolerance contributes, to first order
	Low95, High95   float64   // the middle 95 % of the samples
	Parts           []portion // worst first
	Rules           []held
	MoreRules       int     // rules that were not looked at: there are too many of them, or of their tolerances
	Failed          float64 // share of the samples without an answer
}

// portion is what one tolerance contributes.
type portion struct {
	Source source
	Moves  float64 // how far it moves the answer alone, to first order
	Share  float64 // of the variance
}

// held is in what share of the samples a rule holds.
type held struct {
	Rule  *check.Def
	Holds float64
}

// sources are the tolerances that an answer depends on, each its own source.
func (l *Lab) sources(p *check.Def) []source {
	var all []source
	for i, needed := range l.upstream(p) {
		d := l.C.Order[i]
		if !needed || d.Tol <= 0 {
			continue
		}
		rows := 1
		if c := l.M.Col(d); c != nil {
			rows = c.Rows
		}
		for r := range rows {
			all = append(all, source{d, r})
		}
	}
	return all
}

// spreader moves tolerances: in every row of a study each source deviates by a
// share e of its tolerance, from -1 to 1.
type spreader struct {
	lab     *Lab
	ctx     context.Context
	sources []source
	want    []*check.Def
	held    map[*check.Def][]float64 // the parts that stay chosen
}

// hold gives every row its nominal answer.
func hold(v, nominal []float64, n int) {
	for i := range v {
		v[i] = nominal[i/n]
	}
}

// at computes the wanted Defs for rows of deviations; e gives that of source j
// in a row.
func (s *spreader) at(rows int, e func(j, row int) float64, sink func(first, n int, cols []*run.Col)) error {
	st := run.Study{Rows: rows, Want: s.want, Shift: map[*check.Def]func(int, int, []float64){}}
	if s.held == nil {
		s.held = s.lab.chosen(s.want)
	}
	for d, nominal := range s.held {
		st.Shift[d] = func(_, n int, v []float64) { hold(v, nominal, n) }
	}
	for j := 0; j < len(s.sources); {
		d, from := s.sources[j].Def, j
		for j < len(s.sources) && s.sources[j].Def == d {
			j++
		}
		nominal := s.held[d]
		st.Shift[d] = func(first, n int, v []float64) {
			if nominal != nil {
				hold(v, nominal, n)
			}
			for j := from; j < from+len(v)/n; j++ {
				row := s.sources[j].Row
				for w, x := range v[row*n : (row+1)*n] {
					if d.TolShare {
						x *= 1 + d.Tol*e(j, first+w)
					} else {
						x += d.Tol * e(j, first+w)
					}
					v[row*n+w] = x
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
			out[first+w] = sample(cols[0], w)
		}
	})
	return out, err
}

// How the work of a spread is told to be shared out.
const (
	sloped   = 0.02
	searched = 0.3
)

// estimate studies a single value. It is nil if the value has no answer.
func (l *Lab) estimate(ctx context.Context, p *check.Def) (*estimate, *Problem, error) {
	nominal, ok := l.value(p)
	if !ok {
		return nil, nil, nil
	}
	out := &estimate{Nominal: nominal, Lowest: nominal, Highest: nominal, Low95: nominal, High95: nominal}
	s := &spreader{lab: l, ctx: ctx, sources: l.sources(p), want: []*check.Def{p}}
	if len(s.sources) == 0 {
		return out, nil, nil
	}
	if n := len(s.sources); n > maxSources {
		return nil, &Problem{Part: p, Wrong: words.Say("this depends on %d tolerances, and %d are the most that a spread takes", n, maxSources).
			With("give the tolerance to the sum of the rows on a line of its own, or study a part of them")}, nil
	}
	alone, err := s.slopes(out)
	if err != nil {
		return nil, nil, err
	}
	l.tell(sloped)
	if err := s.worst(out, alone); err != nil {
		return nil, nil, err
	}
	return out, nil, s.sample(out, p)
}

// slopes finds what each tolerance contributes to first order: how steep the
// answer is at the nominal values. Where it jumps just there, that would be
// without end, and the tolerance's ends tell instead.
func (s *spreader) slopes(out *estimate) (alone, error) {
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
		return alone{}, err
	}
	slopes := make([]float64, k)
	a := alone{slopes: slopes, ends: make([][2]Sample, k)}
	sum := 0.0
	for j := range slopes {
		a.ends[j] = [2]Sample{got[j*each+each-1], got[j*each+each-2]}
		var m [3]float64
		for n, h := range steps {
			m[n] = slope(got[j*each+2*n], got[j*each+2*n+1], h)
		}
		switch near, nearer := math.Abs(m[0]), math.Abs(m[1]); {
		case near > 3*nearer:
			slopes[j] = m[1]
		case nearer > 3*near:
			slopes[j] = m[2]
		default:
			slopes[j] = m[0]
		}
		sum += slopes[j] * slopes[j]
	}
	out.RSS = math.Sqrt(sum)
	for j, m := range slopes {
		part := portion{Source: s.sources[j], Moves: math.Abs(m)}
		if sum > 0 {
			part.Share = m * m / sum
		}
		out.Parts = append(out.Parts, part)
	}
	sort.SliceStable(out.Parts, func(i, j int) bool { return out.Parts[i].Moves > out.Parts[j].Moves })
	return a, nil
}

// alone is what each tolerance does alone: how steep the answer is, and what it
// is at the lower and the upper end.
type alone struct {
	slopes []float64
	ends   [][2]Sample
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
func (s *spreader) sample(out *estimate, p *check.Def) error {
	s.rules(out, p)
	rngs := make([]*rand.Rand, len(s.sources))
	for j := range rngs {
		rngs[j] = rand.New(rand.NewPCG(seed, uint64(j)+1))
	}
	values := make([]float64, 0, samples)
	holds := make([]int, len(s.want))
	err := s.at(samples, func(j, _ int) float64 { return 2*rngs[j].Float64() - 1 }, func(first, n int, cols []*run.Col) {
		for w := range n {
			if x := sample(cols[0], w); x.OK {
				values = append(values, x.V)
			}
			for i, c := range cols {
				if v, mk := c.At(0, w); mk == 0 && v != 0 {
					holds[i]++
				}
			}
		}
		s.lab.tell(searched + (1-searched)*float64(first+n)/samples)
	})
	if err != nil {
		return err
	}
	for i, rule := range s.want[1:] {
		out.Rules = append(out.Rules, held{rule, float64(holds[i+1]) / samples})
	}
	out.Failed = 1 - float64(len(values))/samples
	if len(values) == 0 {
		return nil
	}
	sort.Float64s(values)
	out.Low95, out.High95 = quantile(values, 0.025), quantile(values, 0.975)
	// The search is for the worst case: no sample may lie beyond it.
	out.Lowest, out.Highest = math.Min(out.Lowest, values[0]), math.Max(out.Highest, values[len(values)-1])
	return nil
}

// rules adds the rules that the answer has a part in to what is wanted, and
// what else they depend on to what moves.
func (s *spreader) rules(out *estimate, p *check.Def) {
	has := map[source]bool{}
	for _, src := range s.sources {
		has[src] = true
	}
	tried := 0
	for _, rule := range s.lab.rulesMoved(underneath(p)) {
		if rule.Type.Of != nil {
			continue
		}
		if tried++; tried > maxRules {
			out.MoreRules++
			continue
		}
		var lacking []source
		for _, src := range s.lab.sources(rule) {
			if !has[src] {
				lacking = append(lacking, src)
			}
		}
		if len(s.sources)+len(lacking) > maxSources {
			out.MoreRules++
			continue
		}
		for _, src := range lacking {
			has[src] = true
		}
		s.sources = append(s.sources, lacking...)
		s.want, s.held = append(s.want, rule), nil
	}
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

// Spread tells how sure answers are.
func (a *Asking) Spread(node *syntax.Spread) { a.err = a.spread(a.ctx, a.s, node, &a.kept) }

func (l *Lab) spread(ctx context.Context, s *check.Study, node *syntax.Spread, kept *studied) error {
	var all answer.Spreads
	for i, d := range s.Show {
		at := node.Show[i].Expr.Pos()
		switch {
		case d.Type.Of != nil:
			kept.diags = append(kept.diags, problem(at,
				words.Say("this has a value for each of %s, and a spread is of one", d.Type.Of.Name).
					With("gather it with sum, mean, least or most")))
			continue
		case !d.Quantity():
			kept.diags = append(kept.diags, problem(at, words.Say("only quantities have a spread; this is %s", d.Type.Words())))
			continue
		}
		if i := slices.IndexFunc(l.sources(d), func(src source) bool { return check.OnlyWhole(d, src.Def) }); i >= 0 {
			src := l.sources(d)[i].Def
			kept.diags = append(kept.diags, problem(at,
				words.Say("this has an answer only at whole numbers of %s, which has a tolerance", src.Name).
					With(fmt.Sprintf("leave `+- %s` out of %s", src.TolText, src.Name))))
			continue
		}
		n := float64(len(s.Show))
		got, p, err := l.within(float64(i)/n, float64(i+1)/n).estimate(ctx, d)
		if err != nil {
			return err
		}
		if p != nil {
			kept.diags = append(kept.diags, problem(at, p.Wrong))
			continue
		}
		out := &answer.Spread{Name: syntax.PrintExpr(node.Show[i].Expr), Nominal: l.Value(d), Samples: samples,
			Distribution: answer.Distribution,
			Parts:        []answer.Part{}, Rules: []answer.RuleShare{}}
		if got == nil {
			why := l.noAnswer(at, d)
			out.Why = why.Message
			kept.diags = append(kept.diags, why)
			all = append(all, out)
			continue
		}
		l.spreading(d, got, out)
		for _, part := range l.C.Uncounted(d) {
			kept.diags = append(kept.diags, syntax.Diag{At: at, Notice: true,
				Wrong: words.Say("the tolerance of %s does not count within a formula", syntax.PrintExpr(part)).
					With("give the part a line of its own")})
		}
		all = append(all, out)
	}
	if len(all) > 0 {
		kept.answer = all
	}
	return nil
}

func (l *Lab) spreading(d *check.Def, got *estimate, out *answer.Spread) {
	x := func(v float64) *answer.Value {
		w := l.like(d, v, nil)
		w.Unit = out.Nominal.Unit
		return w
	}
	out.Lowest, out.Highest = x(got.Lowest), x(got.Highest)
	out.Low95, out.High95 = x(got.Low95), x(got.High95)
	out.RSS = l.difference(d, got.RSS)
	out.Failed, out.MoreRules = got.Failed, got.MoreRules
	out.Exact = len(got.Parts) == 0
	for _, p := range got.Parts {
		out.Parts = append(out.Parts, answer.Part{
			Name: l.sourceName(p.Source), Tol: view.Tolerance(p.Source.Def), Moves: l.difference(d, p.Moves), Share: p.Share,
		})
	}
	for _, r := range got.Rules {
		out.Rules = append(out.Rules, answer.RuleShare{Name: view.PlaceName(r.Rule), Cond: answer.Expr{Expr: r.Rule.Expr},
			Must: answer.Must(r.Rule.Must), Holds: r.Holds})
	}
}

// sourceName names a tolerance's own place: a line's name, or a table's row and
// column.
func (l *Lab) sourceName(s source) string {
	if s.Def.Role == check.Cell {
		if name := l.CellName(s.Def); name != "" {
			return name
		}
	}
	if of := s.Def.Type.Of; of != nil && s.Row < len(of.Labels) {
		return s.Def.Name + ": " + of.Labels[s.Row]
	}
	if s.Def.Name == "" {
		return "line " + units.Format(float64(s.Def.Line+1))
	}
	return s.Def.Name
}
