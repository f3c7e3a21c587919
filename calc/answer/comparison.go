package answer

import (
	"math"
	"slices"

	"railsum/calc/types"
)

// Slight is how far an answer may move, as a share of what it was, without being
// told.
const Slight = 0.01

// Comparison is what lies between two states of a notebook, by name: where a
// line stands, and how it is written, is no difference.
type Comparison struct {
	Was     Summary       `json:"was"`
	Now     Summary       `json:"now"`
	Rules   []Rejudged    `json:"rules" doc:"verdicts that turned, and rules that came or went, the worst first"`
	Cards   []Recarded    `json:"cards" doc:"cards whose verdict turned with none of their rules"`
	Inputs  []Moved       `json:"inputs" doc:"those that are other now, or settled otherwise"`
	Answers []Moved       `json:"answers" doc:"those that moved by more than 1 %, or had or have none"`
	Slight  int           `json:"slight,omitempty" doc:"how many answers moved by no more than 1 %"`
	Sheets  []SheetChange `json:"sheets" doc:"of another edition, or other ones"`
	New     []string      `json:"new" doc:"names that were not there"`
	Gone    []string      `json:"gone" doc:"names that are no longer there"`
	Shared  []string      `json:"shared,omitempty" doc:"own sheets and files of tables that both have read as they stand today"`
}

// Summary is what a notebook comes to.
type Summary struct {
	Verdict Verdict `json:"verdict" doc:"the worst of all rules"`
	Errors  int     `json:"errors" doc:"lines in error or waiting for a name"`
}

// Same reports whether there is nothing to tell.
func (c *Comparison) Same() bool {
	return c.Was == c.Now && c.Slight == 0 &&
		len(c.Rules)+len(c.Cards)+len(c.Inputs)+len(c.Answers)+len(c.Sheets)+len(c.New)+len(c.Gone) == 0
}

// Rejudged is a rule that is judged otherwise; one that came was not there.
type Rejudged struct {
	Name string  `json:"name,omitempty" doc:"of the placed sheet that the rule belongs to"`
	Was  *Judged `json:"was,omitempty"`
	Now  *Judged `json:"now,omitempty"`
}

// Worst is how bad it is now; a rule that has gone is as bad as it was.
func (r *Rejudged) Worst() Verdict {
	if r.Now != nil {
		return r.Now.Verdict
	}
	return r.Was.Verdict
}

// Recarded is a card whose verdict turned.
type Recarded struct {
	Name string  `json:"name"`
	Was  Verdict `json:"was"`
	Now  Verdict `json:"now"`
}

// Moved is a value that is another now.
type Moved struct {
	Name     string   `json:"name"`
	Label    string   `json:"label,omitempty" doc:"of a column: the row"`
	Was      *Value   `json:"was,omitempty" doc:"left out where it had no answer"`
	Now      *Value   `json:"now,omitempty" doc:"left out where it has no answer"`
	Percent  *float64 `json:"percent,omitempty" doc:"of what it was"`
	WasState State    `json:"was_state,omitzero" doc:"of an input: set, default or assumed"`
	NowState State    `json:"now_state,omitzero"`
}

// SheetChange is a sheet in use that is another: of another edition or with other
// lines, or, where something is placed from another one, that one.
type SheetChange struct {
	Name string  `json:"name,omitempty" doc:"what is placed from another sheet"`
	Was  SheetOf `json:"was"`
	Now  SheetOf `json:"now"`
}

// SheetOf is a sheet with its edition.
type SheetOf struct {
	Sheet   string `json:"sheet"`
	Edition int    `json:"edition,omitempty"`
	Own     bool   `json:"own,omitempty" doc:"a sheet of the user's own"`
}

// Between is what has become of a value, a row at a time; rows that only one of
// the two has are left out. Slight is how many moved by no more than a share of
// what they were; those are not among the moved.
func Between(name string, was, now *Value, share float64) (moved []Moved, slight int) {
	if was == nil || now == nil || was.Column() != now.Column() || was.Type.Kind != now.Type.Kind ||
		was.Type.Dim != now.Type.Dim {
		if was == nil && now == nil {
			return nil, 0
		}
		return []Moved{{Name: name, Was: was, Now: now}}, 0
	}
	alike := was.Type.Of != nil && now.Type.Of != nil && slices.Equal(was.Type.Of.Labels, now.Type.Of.Labels)
	at := map[string]int{}
	if !alike {
		for i := range was.Rows() {
			at[was.Label(i)] = i
		}
	}
	for i := range now.Rows() {
		j := i
		if !alike {
			var both bool
			if j, both = at[now.Label(i)]; !both {
				continue
			}
		}
		switch by := apart(was, j, now, i); {
		case by == 0:
		case math.Abs(by) <= share:
			slight++
		default:
			m := Moved{Name: name, Label: now.Label(i), Was: was, Now: now}
			if now.Column() {
				m.Was, m.Now = was.Row(j), now.Row(i)
			}
			if finite := !math.IsInf(by, 0) && now.Type.Kind == types.Number; finite {
				by *= 100
				m.Percent = &by
			}
			moved = append(moved, m)
		}
	}
	return moved, slight
}

// apart is by which share of what it was a row of a value has moved, without end
// where a share means nothing. A column has no tolerance for a row.
func apart(was *Value, j int, now *Value, i int) float64 {
	x, y := was.Fault(j), now.Fault(i)
	switch {
	case x != y || !now.Column() && was.Tol.String() != now.Tol.String():
		return math.Inf(1)
	case x != "":
		return 0
	case was.Type.Kind == types.Text:
		if was.Texts[j] != now.Texts[i] {
			return math.Inf(1)
		}
		return 0
	case was.Numbers[j] == now.Numbers[i]:
		return 0
	case was.Type.Kind == types.Truth, was.Type.Kind == types.Date:
		return math.Inf(1)
	case was.Type.Kind == types.Point: // as somebody reads it, in its own degrees
		before := now.Unit.FromSI(was.Numbers[j])
		return (now.InUnit(i) - before) / math.Abs(before)
	}
	return (now.Numbers[i] - was.Numbers[j]) / math.Abs(was.Numbers[j])
}
