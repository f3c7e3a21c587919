package units

// Turns says that the unit counts turns or periods: rpm, Hz, 1/rpm.
func (u Unit) Turns() bool { return u.spec().turns }

// Angle says that the unit holds an angle: rad, deg/s.
func (u Unit) Angle() bool { return u.spec().angle }

// unlikes are the pairs of units that have one dimension but are not the same.
var unlikes = []struct{ one, other, why string }{
	{"W", "VA", "a supply's VA exceed the watts that reach the load"},
	{"lm", "cd", "a lamp of 1 cd all round gives 4*pi lm"},
}

// Unlike says why a unit is not the same as another of its dimension, in words
// that name both; it is empty if it is. Turns and angles it knows nothing of:
// between them the number would be wrong.
func (u Unit) Unlike(v Unit) string {
	for _, p := range unlikes {
		if from, to := u.String(), v.String(); from == p.one && to == p.other || from == p.other && to == p.one {
			return p.one + " and " + p.other + " have one dimension but are not the same: " + p.why
		}
	}
	return ""
}

// unsigned are units of the quantities that cannot be negative.
var unsigned = []string{"m", "m2", "m3", "kg", "s", "ohm", "F", "H", "Hz", "A/mm2", "ohm/m"}

// Signed says that a quantity of the dimension is found on both sides of nothing:
// plain numbers, volts, amperes, speeds and the like, but no length, area, mass,
// time, resistance or capacity.
func (d Dim) Signed() bool {
	for _, s := range unsigned {
		if Known(s).Dim() == d {
			return false
		}
	}
	return true
}
