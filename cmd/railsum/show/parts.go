package show

import (
	"strings"

	"railsum/cmd/railsum/outline"
)

// Needs lists what has to be bought, by what it is, and what is in it for something else or may be in it twice.
func (p *Printer) Needs(needs *outline.Needs) {
	all := needs.Sorted()
	if len(all) == 0 && len(needs.Unknown) == 0 {
		p.Say("nothing in it says what has to be bought")
		return
	}
	what := ""
	for _, n := range all {
		if n.What != what {
			if what != "" {
				p.Blank()
			}
			what = n.What
			p.Heading("%s", what)
		}
		p.Hanging("  " + n.Amount() + "  " + n.Spelled(p.Unit))
		p.Say("      for %s", strings.Join(n.Places, ", "))
		if spare := n.Spare(); spare != "" {
			p.Say("      %s", spare)
		}
		if len(n.None) > 0 {
			p.Say("      nothing is made for this: %s", strings.Join(n.None, ", "))
		}
		if len(n.Open) > 0 {
			p.Say("      look at this first: %s still at the default", strings.Join(n.Open, ", "))
		}
	}
	said := needs.Says(p.Unit)
	if len(all) > 0 && len(said) > 0 {
		p.Blank()
	}
	for _, text := range said {
		p.Say("%s", text)
	}
}
