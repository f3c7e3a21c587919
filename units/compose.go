package units

// heads and tails are the units from which one is put together in pairs, for
// a dimension without a name: V*s is easier to read than kg*m2/(s2*A).
var (
	heads = []string{"V", "A", "ohm", "W", "J", "N", "F", "H", "Pa", "lm", "bit"}
	tails = []string{"m", "m2", "m3", "s", "s2", "A", "K", "kg", "V", "ohm", "W", "N"}
)

// compose puts a unit together for a dimension without a name: from base units
// if two will do, else from a pair with names, else from base units.
func compose(d Dim) Unit {
	var fs factors
	for i, e := range d.exp {
		if num, den := e.ratio(); num != 0 {
			fs = append(fs, factor{find(baseUnits[i]), num, den})
		}
	}
	if len(fs) > 2 {
		if s := pair(d); s != "" {
			return Known(s)
		}
	}
	return Known(fs.render(fileForm))
}

func pair(d Dim) string {
	for _, h := range heads {
		if u := find(h).dim(); d == u.Mul(u) {
			return h + "^2"
		}
	}
	for _, h := range heads {
		rest := d.Div(find(h).dim())
		for _, t := range tails {
			u := Known(t)
			switch {
			case rest == u.Dim() && h != t:
				return h + "*" + t
			case rest == (Dim{}).Div(u.Dim()):
				return h + "/" + t
			}
		}
	}
	return ""
}
