package present

import (
	"context"
	"fmt"
	"os"
	"os/signal"
	"strings"
	"syscall"

	"railsum/calc/answer"
	"railsum/calc/syntax"
	"railsum/cmd/railsum/desk/lineedit"
	"railsum/cmd/railsum/marking"
	"railsum/cmd/railsum/show"
)

// room is a showing as it stands.
type room struct {
	Config
	deck   *deck
	screen screen
	reader marking.Reader

	at, part int
	grown    int // blocks shown of a step that grows
	number   string
	guesses  map[question][]guessed
	aside    []block // in place of the step until the next key: keys, hazards, what a try has brought
	message  string
	prompt   string // what is being typed for, empty for nothing
	typed    string
	lines    []*syntax.Line // of the notebook as it is on disk
	tried    bool
	ctx      context.Context
	over     bool
	code     int
}

// guessed is what somebody in the room has said.
type guessed struct {
	text  string
	value *answer.Value
}

func (r *room) run(ctx context.Context, in *os.File) (int, error) {
	r.ctx, r.reader.Library = ctx, r.Library
	r.guesses = map[question][]guessed{}
	r.screen = screen{w: r.Stdout, fd: int(in.Fd())}
	resized, stops, resumed := make(chan bool, 1), make(chan bool), make(chan bool)
	defer lineedit.OnResize(func() {
		select {
		case resized <- true:
		default:
		}
	})()
	defer lineedit.OnStop(func() { stops <- true; <-resumed })()
	signals := make(chan os.Signal, 4)
	signal.Notify(signals, os.Interrupt, syscall.SIGTERM, syscall.SIGHUP, syscall.SIGQUIT)
	defer signal.Stop(signals)
	if r.Ready != nil {
		r.Ready()
	}
	if err := r.screen.enter(); err != nil {
		return 0, err
	}
	defer r.screen.leave()
	pressed := keys(in)
	r.show(r.at)
	for !r.over {
		r.draw()
		select {
		case k, open := <-pressed:
			if !open {
				r.over = true
				break
			}
			r.press(k)
		case <-resized:
		case <-stops:
			r.screen.leave()
			lineedit.Stopped()
			if err := r.screen.enter(); err != nil {
				return 0, err
			}
			resumed <- true
		case s := <-signals:
			r.over, r.code = true, 128+int(s.(syscall.Signal))
		case <-ctx.Done():
			r.over, r.code = true, 128+int(syscall.SIGINT)
		}
	}
	r.screen.leave()
	if r.code == 0 {
		fmt.Fprintln(r.Stdout, "Nothing was saved.")
	}
	return r.code, nil
}

// show goes to a step.
func (r *room) show(n int) {
	r.at, r.part, r.grown = min(max(n, 0), len(r.deck.steps)-1), 0, 1
	if s := r.deck.steps[r.at]; !s.grows || r.Reveal || r.Notes {
		r.grown = len(s.blocks)
	}
}

// parts are the screens of what is shown now.
func (r *room) parts(wide, high int) [][]string {
	s := r.deck.steps[r.at]
	blocks := r.aside
	switch {
	case blocks != nil:
	case r.Notes:
		blocks = r.deck.contents(r.at)
	default:
		blocks = append(s.blocks[:min(r.grown, len(s.blocks)):len(s.blocks)], r.said(s)...)
	}
	return layOut(blocks, options(r.Options, wide), high-frame)
}

// said is what the room has guessed: all of it with the question, and with the
// answer what is nearest and how a mistake came about.
func (r *room) said(s *step) []block {
	all := r.guesses[s.question]
	if s.guess == nil || len(all) == 0 {
		return nil
	}
	var texts []string
	for _, g := range all {
		texts = append(texts, g.text)
	}
	blocks := []block{{draw: func(p *show.Printer) { p.Say("guesses: %s", strings.Join(texts, "   ")) }}}
	if !s.revealed {
		return blocks
	}
	nearest, least := "", 0.0
	told := map[string]bool{}
	for _, g := range all {
		if d, ok := marking.Apart(g.value, s.guess.Answer); ok && (nearest == "" || d < least) {
			nearest, least = g.text, d
		}
		slip := marking.Slip(g.value, r.slips(s))
		if slip == nil || told[slip.Why] {
			continue
		}
		told[slip.Why] = true
		blocks = append(blocks, block{draw: func(p *show.Printer) { p.Say("%s: %s", g.text, slip.Why) }})
	}
	if nearest != "" && len(all) > 1 {
		blocks = append(blocks, block{draw: func(p *show.Printer) { p.Say("nearest guess: %s", nearest) }})
	}
	return blocks
}

// slips are the usual mistakes about what a guess asks for, as things are.
func (r *room) slips(s *step) []*answer.Slip {
	g := s.guess
	if s.slips != nil || len(g.Sets) > 0 {
		return s.slips
	}
	placed, name, dotted := strings.Cut(g.Of.String(), ".")
	if !dotted {
		return nil
	}
	var all []*answer.Slip
	for _, line := range r.Book.C.Places {
		for _, p := range line {
			if p.Name != placed {
				continue
			}
			for _, s := range r.Book.Lab().Slips(p) {
				if s.Name == name {
					all = append(all, s)
				}
			}
		}
	}
	return all
}

func (r *room) draw() {
	wide, high := r.screen.size()
	if wide < leastWide || high < leastHigh {
		r.screen.put([]string{fmt.Sprintf("enlarge the window to %d by %d", leastWide, leastHigh)}, wide, high, -1)
		return
	}
	parts := r.parts(wide, high)
	r.part = min(max(r.part, 0), len(parts)-1)
	at := r.deck.stepOf(r.at)
	if len(parts) > 1 {
		at = fmt.Sprintf("%s, part %d of %d", at, r.part+1, len(parts))
	}
	heading := r.deck.steps[r.at].heading
	if r.tried {
		heading = strings.TrimLeft(heading+" (tried, not kept)", " ")
	}
	cursor := -1
	foot := r.foot(wide)
	if r.prompt != "" {
		foot, cursor = tail(r.prompt+r.typed, wide-1)
	}
	r.screen.put(page(show.Safe(r.deck.title), at, show.Safe(heading), parts[r.part], foot, wide, high), wide, high,
		cursor)
}

// foot is the last row: a message, a number being typed, or the keys.
func (r *room) foot(wide int) string {
	switch {
	case r.message != "":
		return show.Safe(r.message)
	case r.number != "":
		return "step " + r.number + ", then Enter"
	case wide < 60:
		return "Space  Back  G W T R H  Q leave  ? keys"
	}
	return "Space next  Back  G guess  W working  T try  Q leave  ?"
}

// last moves through the parts of a step before it goes on.
func (r *room) next() {
	wide, high := r.screen.size()
	s := r.deck.steps[r.at]
	switch {
	case r.aside != nil:
		if r.part++; r.part >= len(r.parts(wide, high)) {
			r.aside, r.part = nil, 0
		}
	case r.part < len(r.parts(wide, high))-1:
		r.part++
	case r.grown < len(s.blocks):
		r.grow()
	case r.at < len(r.deck.steps)-1:
		r.show(r.at + 1)
	default:
		r.message = "this is the last step: Q leaves"
	}
}

// grow shows one more row of a working; what was left blank is filled at once.
func (r *room) grow() {
	s := r.deck.steps[r.at]
	if r.grown >= len(s.blocks) {
		r.message = "no working here"
		return
	}
	for r.grown++; r.grown < len(s.blocks) && s.blocks[r.grown-1].blank; {
		r.grown++
	}
	wide, high := r.screen.size()
	r.part = len(r.parts(wide, high)) - 1
}

func (r *room) back() {
	switch {
	case r.part > 0:
		r.part--
	case r.aside != nil:
		r.aside = nil
	case r.at > 0:
		r.show(r.at - 1)
		r.grown = len(r.deck.steps[r.at].blocks)
		wide, high := r.screen.size()
		r.part = len(r.parts(wide, high)) - 1
	}
}
