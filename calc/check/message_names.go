package check

import (
	"errors"
	"fmt"
	"slices"
	"sort"
	"strconv"
	"strings"

	"railsum/calc/function"
	"railsum/calc/syntax"
	"railsum/calc/types"
	"railsum/units"
	"railsum/units/words"
)

func (s *Scope) names() []string {
	names := make([]string, 0, len(s.Names))
	for n := range s.Names {
		names = append(names, n)
	}
	sort.Strings(names)
	return names
}

// likely are the names that may have been meant in a scope. They are kept, for a text
// of nothing but unknown names asks for them again and again.
func (b *builder) likely(s *Scope) []string {
	if b.meant.of != s || b.meant.n != len(s.Names) {
		b.meant.of, b.meant.n = s, len(s.Names)
		b.meant.names = append(s.names(), b.lib.TableNames()...)
	}
	return b.meant.names
}

// hint is words.Meant. A name is measured against all others, so a text of nothing but
// unknown names is told only so often what it may have meant.
func (b *builder) hint(name string, names func() []string) string {
	if b.hints++; b.hints > maxHints {
		return ""
	}
	return words.Meant(name, names())
}

// unknownName says that a name has no meaning, and what may have been meant.
func (b *builder) unknownName(s *Scope, p syntax.Part) syntax.Diag {
	name := p.Text
	if rows := b.unnamed[name]; s.In == nil && rows != nil {
		return severalOf(p, rows)
	}
	if _, err := units.Parse(name); err == nil && !p.Quoted {
		return say(p.At, "%s is a unit, and a unit needs a number", name).
			With(fmt.Sprintf("write a number before it, as in `1 %s`", name))
	}
	if ohms, ok := leadingLetter(name); ok {
		return say(p.At, "%s is not defined", name).With(fmt.Sprintf("%s Ω is written `0%s`", ohms, name))
	}
	cure := b.hint(name, func() []string { return b.likely(s) })
	switch {
	case cure != "":
	case function.Find(name) != nil:
		cure = fmt.Sprintf("%s is a function; write `%s`", name, function.Find(name).Args)
	case b.isSheet(name):
		cure = fmt.Sprintf("%s is a sheet; put it to work with `use %s for …`", name, name)
	case b.scaleRatio(name) > 0:
		cure = fmt.Sprintf("the scale is written `%s%s`, or `at %s` after a length", scalePrefix, name, name)
	default:
		cure = fmt.Sprintf("give it a value on a line of its own, `%s = …`", name)
	}
	return say(p.At, "%s is not defined", name).With(cure)
}

// unknownPlace says the same of a name before a dot.
func (b *builder) unknownPlace(s *Scope, p syntax.Part) syntax.Diag {
	if rows := b.unnamed[p.Text]; s.In == nil && rows != nil {
		return severalOf(p, rows)
	}
	cure := b.hint(p.Text, s.names)
	if cure == "" {
		cure = fmt.Sprintf("put a sheet to work under that name, `use … for %s`", p.Text)
	}
	return say(p.At, "%s is not defined", p.Text).With(cure)
}

// severalOf says that a sheet is placed on several lines without a name.
func severalOf(p syntax.Part, rows []int) syntax.Diag {
	on := make([]string, len(rows))
	for i, row := range rows {
		on[i] = strconv.Itoa(row)
	}
	return say(p.At, "%s may be that of line %s", p.Text, words.Or(on)).
		With(fmt.Sprintf("give them names, as in `use %s for a`", p.Text))
}

// leadingLetter knows the form of IEC 60062 that begins with the letter, R47.
func leadingLetter(name string) (string, bool) {
	if len(name) < 2 || name[0] != 'R' {
		return "", false
	}
	if _, err := strconv.Atoi(name[1:]); err != nil {
		return "", false
	}
	return "0." + name[1:], true
}

func (b *builder) isSheet(name string) bool {
	for _, s := range b.lib.SheetNames() {
		if s == name {
			return true
		}
	}
	return false
}

func (b *builder) unknownScale(at syntax.Pos, symbol string) syntax.Diag {
	labels := b.lib.Texts("scales", labelColumn)
	if cure := b.lettered(symbol); cure != "" {
		return say(at, "%s with the letter O is not one scale", symbol).With(cure)
	}
	said := b.lib.Texts("scale_words", labelColumn)
	if i := slices.Index(said, symbol); i >= 0 {
		return say(at, "%s is no symbol of a scale", symbol).With("write " + b.lib.Texts("scale_words", "cure")[i])
	}
	cure := words.Meant(symbol, labels)
	if cure == "" {
		cure = "write a ratio, as in `at 1:87`, or a symbol of the table scales, which `about scales` shows"
	}
	return say(at, "%s is not a scale", symbol).With(cure)
}

// lettered lists the scales that a symbol with the letter O may stand for: the
// one with the figure, and those of the norms that write the letter.
func (b *builder) lettered(symbol string) string {
	if !strings.Contains(symbol, "O") {
		return ""
	}
	var offers []string
	figure := strings.ReplaceAll(symbol, "O", "0")
	labels, ratios := b.lib.Texts("scales", labelColumn), b.lib.Numbers("scales", "ratio")
	for i, l := range labels {
		if l == figure || strings.HasPrefix(l, symbol+"_") {
			offers = append(offers, fmt.Sprintf("`%s` for 1:%s", l, strconv.FormatFloat(ratios[i], 'f', -1, 64)))
		}
	}
	if len(offers) == 0 {
		return ""
	}
	return "write " + words.Or(offers)
}

func unknownFunction(e *syntax.Call) syntax.Diag {
	var names []string
	for _, f := range function.All() {
		names = append(names, f.Name)
	}
	cure := words.Meant(e.Name, names)
	if cure == "" {
		cure = fmt.Sprintf("to multiply write `%s * (…)`", e.Name)
	}
	return say(e.At, "there is no function %s", e.Name).With(cure)
}

func secondDefinition(name syntax.Part, old *Symbol) syntax.Diag {
	d := say(name.At, "%s is already defined on line %d", name.Text, old.Row).With("strike one of them")
	d.Other = syntax.Pos{Row: old.Row, Col: 1}
	return d
}

func columnTwice(head syntax.Part, t *Tab, old *Def) syntax.Diag {
	row := t.Row
	if old.Src != nil && old.Role == Named {
		row = old.Src.Row
	}
	return say(head.At, "%s already has a column %s, on line %d", t.Table.Name, head.Text, row)
}

func settingTwice(p *Placement, set, old *setting) syntax.Diag {
	cure := "strike one of them"
	switch {
	case old.with && set.with:
	case old.with && len(p.use.Names) == 1:
		cure = "strike this line, or leave it out of that line's `with`"
	case old.with:
		cure = fmt.Sprintf("leave %s out of that line's `with`, or place %s on a line of its own with `like`", set.key, p.Name)
	}
	d := say(set.at, "%s of %s is already set on line %d", set.key, p.Name, old.src.Row).With(cure)
	d.Other = syntax.Pos{Row: old.src.Row, Col: old.at.Col}
	return d
}

func notAPlace(p syntax.Part) syntax.Diag {
	return say(p.At, "%s is a value, and has no parts; a dot follows a table or a placed sheet", p.Text)
}

func noSheet(use *syntax.Use, err error) syntax.Diag {
	var d syntax.Diag
	if errors.As(err, &d) {
		return say(use.At, "%s", d.Message).With(d.Cure)
	}
	return say(use.At, "%v", err)
}

func sheetInError(use *syntax.Use, s *Sheet, d syntax.Diag) syntax.Diag {
	say := say(use.At, "sheet %s has an error on its line %d: %s", s.Name, d.At.Row, d.Message).With(d.Cure)
	say.Other, say.OtherIn = d.At, s.Name
	return say
}

func sheetCircle(use *syntax.Use, path []string) syntax.Diag {
	for i, j := 0, len(path)-1; i < j; i, j = i+1, j-1 {
		path[i], path[j] = path[j], path[i]
	}
	return say(use.At, "the sheets go round in a circle: %s", strings.Join(path, " uses "))
}

// circle says how values depend on one another in a ring.
func circle(at syntax.Pos, ring []*Def, to *Def) syntax.Diag {
	var names []string
	for _, d := range ring {
		if n := d.nameInCircle(); n != "" && (len(names) == 0 || names[len(names)-1] != n) {
			names = append(names, n)
		}
	}
	names = append(names, to.nameInCircle())
	if len(names) > 9 {
		names = append(append(names[:4:4], "…"), names[len(names)-4:]...)
	}
	return say(at, "this goes round in a circle: %s", strings.Join(names, " needs ")).
		With("give one of them a value of its own")
}

func (d *Def) nameInCircle() string {
	switch {
	case d.Name != "":
		return d.Name
	case d.Role == Question:
		return fmt.Sprintf("that (line %d)", d.Src.Row)
	}
	return ""
}

func (b *builder) unknownInput(p *Placement, set syntax.Setting) syntax.Diag {
	part := set.Name
	name := part.Text
	if p.facts.gives[name] {
		placed := p.Name
		if placed == "" {
			placed = p.Sheet.Name
		}
		return say(part.At, "%s.%s is an answer of %s, not an input", placed, name, p.Sheet.Name).
			With(fmt.Sprintf("to look for what makes it so: `find … so %s.%s = …`", placed, name))
	}
	if t := p.facts.tabs[name]; t != nil {
		return say(part.At, "%s is a table that %s asks for, and its cells are set through a whole table", name,
			p.Sheet.Name).
			With(fmt.Sprintf("give it a table, `%s = …` with the name of one that has %s", name, words.And(heads(t))))
	}
	inputs := p.inputs()
	cure := words.Meant(name, inputs)
	if cure == "" {
		cure = p.inputsLike(set.Expr)
	}
	if cure == "" {
		cure = "it asks for " + words.And(inputs)
	}
	return say(part.At, "%s does not ask for %s", p.Sheet.Name, name).With(cure)
}

// inputsLike names the inputs that a value as it is typed could be meant for, each
// with its default and meaning.
func (p *Placement) inputsLike(e syntax.Expr) string {
	value, ok := e.(*syntax.Literal)
	if !ok || value.Unit.IsZero() {
		return ""
	}
	var like []string
	for _, l := range p.Sheet.File.Lines {
		if a, ok := l.Node.(*syntax.Ask); ok && p.facts.asks[a.Name.Text].typ.Dim == value.Unit.Dim() {
			meaning, _, _ := strings.Cut(l.Note, ";")
			meaning, _, _ = strings.Cut(meaning, ": ")
			like = append(like, fmt.Sprintf("%s (%s, %s)", a.Name.Text, syntax.PrintExpr(a.Expr), meaning))
		}
	}
	if len(like) == 0 {
		return ""
	}
	return "it asks for " + words.And(like)
}

func (p *Placement) inputs() []string {
	var names []string
	for n := range p.facts.asks {
		names = append(names, n)
	}
	for n := range p.facts.tabs {
		names = append(names, n)
	}
	sort.Strings(names)
	return names
}

func (b *builder) noAnswer(part syntax.Part, p *Placement) syntax.Diag {
	var gives []string
	for n := range p.facts.gives {
		gives = append(gives, n)
	}
	sort.Strings(gives)
	if p.facts.priv[part.Text] {
		return say(part.At, "%s is inside %s and cannot be used from outside", part.Text, p.Sheet.Name).
			With("it tells " + words.And(gives))
	}
	cure := words.Meant(part.Text, append(gives, p.inputs()...))
	if cure == "" {
		cure = "it tells " + words.And(gives)
	}
	return say(part.At, "%s is not an answer of %s", part.Text, p.Sheet.Name).With(cure)
}

func wrongSetting(d *Def, own asked, n *Node) syntax.Diag {
	want := own.typ
	cure := otherwise(n.expr, want)
	if isBareNumber(n) && want.Kind == types.Number {
		unit := want.Dim.String()
		switch {
		case own.show.Dim() == want.Dim && !own.show.IsZero(): // 1.5 mm2 is meant by a wire of 1.5, never 1.5 m2
			unit = own.show.String()
		case unit == "":
			unit = "%"
		}
		cure = fmt.Sprintf("write `%s %s`", spell(n.expr), unit)
	}
	if isBareNumber(n) && want.Kind == types.Point {
		cure = fmt.Sprintf("write `%s degC`", spell(n.expr))
	}
	return say(n.expr.Pos(), "%s asks for %s as %s, and this is %s", d.At.Sheet.Name, want.Words(), d.set.key,
		n.Type.Words()).
		With(cure)
}

func heads(node *syntax.Table) []string {
	var names []string
	for _, h := range node.Heads {
		names = append(names, h.Name.Text)
	}
	return names
}

func wantsTable(set *setting, node *syntax.Table) syntax.Diag {
	return say(set.expr.Pos(), "%s asks for a table here", set.key).
		With(fmt.Sprintf("give it the name of a table with %s", words.And(heads(node))))
}

func firstColumn(t *Tab) string {
	if len(t.Order) > 1 {
		return t.Order[1]
	}
	return labelColumn
}

func (b *builder) noColumn(p syntax.Part, t *Tab) syntax.Diag {
	cure := b.hint(p.Text, func() []string { return t.Order })
	if _, n := t.row(p.Text); n > 0 {
		cure = fmt.Sprintf("it is a row; add a column, as in `%s.%q.%s`", t.Table.Name, p.Text, firstColumn(t))
	}
	if cure == "" {
		cure = "it has " + words.And(t.Order)
	}
	return say(p.At, "%s has no column %s", t.Table.Name, p.Text).With(cure)
}

func (b *builder) noRow(p syntax.Part, t *Tab) syntax.Diag {
	cure := b.hint(p.Text, func() []string { return t.Table.Labels })
	if cure == "" && len(t.Table.Labels) > 0 && len(t.Table.Labels) <= 8 {
		cure = "its rows are " + words.And(quoted(t.Table.Labels))
	}
	return say(p.At, "%s has no row %q", t.Table.Name, p.Text).With(cure)
}

// quoted puts labels in quotes where one of them could be taken for two.
func quoted(labels []string) []string {
	if !slices.ContainsFunc(labels, func(l string) bool { return strings.ContainsAny(l, `,"`) || strings.Contains(l, " and ") }) {
		return labels
	}
	all := make([]string, len(labels))
	for i, l := range labels {
		all[i] = strconv.Quote(l)
	}
	return all
}

func rowsAlike(p syntax.Part, n int) syntax.Diag {
	return say(p.At, "%d rows are called %q", n, p.Text).With("give them different labels")
}

func tooManyParts(p syntax.Part) syntax.Diag {
	return say(p.At, "a name has at most a sheet, a table and a column")
}

func rowAlone(part syntax.Part, e *syntax.Name) syntax.Diag {
	return say(part.At, "%s is a row, and which of its values is meant has to follow", e).
		With(fmt.Sprintf("as in `%s.lost`", e))
}

func placeAlone(e *syntax.Name, p *Placement) syntax.Diag {
	cure := ""
	if len(p.Gives) > 0 {
		cure = fmt.Sprintf("name one of its answers, as in `%s`", p.Gives[0].Name)
	}
	return say(e.Pos(), "%s is a placed sheet, not a value", e).With(cure)
}
