package units

import (
	"math/big"
	"strings"
	"sync"
)

// quantity is a dimension that has a name, with the units it is shown in.
type quantity struct {
	name   string // with its article
	base   string // the unit that names it in messages, and that nothing is shown in
	ladder string // ascending; "m2@0.01" is used from 0.01 m2 on, others from one of theirs; empty: base alone
}

// quantities names dimensions and says how their values are shown. Where two
// rows share a dimension (J and N*m, lm and cd) only the first may stand.
var quantities = []quantity{
	// electricity
	{"a voltage", "V", "nV uV mV V kV"},
	{"a current", "A", "pA nA uA mA A kA"},
	{"a resistance", "ohm", "uohm mohm ohm kohm Mohm Gohm"},
	{"a conductance", "S", "uS mS S"},
	{"a capacitance", "F", "pF nF uF mF F"},
	{"an inductance", "H", "nH uH mH H"},
	{"a power", "W", "nW uW mW W kW MW"},
	{"an energy", "J", "nJ uJ mJ J kJ MJ"},
	{"a charge", "As", "pAs nAs uAs mAs As mAh Ah"},
	{"a magnetic flux", "Wb", "uWb mWb Wb"},
	{"a magnetic flux density", "T", "uT mT T"},
	{"a current density", "A/mm2", ""},
	{"a resistance per length", "ohm/m", "uohm/m mohm/m ohm/m kohm/m Mohm/m"},
	{"a resistivity", "ohm*m", "ohm*mm2/m ohm*m@0.001"},
	{"a conductivity", "S/m", "S/m m/(ohm*mm2)@1000"},
	{"a capacitance per length", "F/m", "pF/m nF/m uF/m mF/m"},
	{"an inductance per length", "H/m", "nH/m uH/m mH/m H/m"},
	{"a voltage per length", "V/m", "uV/m mV/m V/m kV/m"},
	{"a current per length", "A/m", "mA/m A/m kA/m"},
	{"a power per length", "W/m", "mW/m W/m kW/m"},
	{"a voltage rise per time", "V/s", "V/s V/ms V/us"},
	{"a current rise per time", "A/s", "A/s A/ms A/us"},
	{"a let-through of current squared", "A^2*s", ""},
	{"an adiabatic constant", "A*sqrt(s)/mm2", ""},

	// space and motion
	{"a length", "m", "nm um mm@1e-5 m km"},
	{"an area", "m2", "mm2 m2@0.01 km2"},
	{"a volume", "m3", "mm3 cm3 L m3"},
	{"a number per length", "m^-1", ""},
	{"a time", "s", "ns us ms s min@1000 h@7200"},
	{"a frequency", "Hz", "Hz kHz MHz GHz"},
	{"a speed", "m/s", "mm/s m/s"},
	{"an acceleration", "m/s2", ""},
	{"a flow", "m3/s", "mL/s L/s m3/s"},

	// matter
	{"a mass", "kg", "ug mg g kg t"},
	{"a mass per length", "kg/m", "g/m kg/m"},
	{"a density", "kg/m3", ""},
	{"a force", "N", "uN mN N kN"},
	{"a force per length", "N/m", "mN/m N/m kN/m"},
	{"a pressure", "Pa", "Pa kPa MPa"},

	// heat
	{"a temperature difference", "K", "mK K"},
	{"a change per kelvin", "K^-1", "ppm/K %/K@1e-3"},
	{"a thermal resistance", "K/W", ""},
	{"a heat flow per kelvin", "W/K", "mW/K W/K"},
	{"a thermal conductivity", "W/(m*K)", ""},
	{"a heat capacity", "J/K", "J/K kJ/K"},
	{"a specific heat", "J/(kg*K)", ""},
	{"a power per area", "W/m2", ""},

	// light and information
	{"a luminous intensity", "cd", "mcd cd"},
	{"an illuminance", "lx", ""},
	{"an amount of data", "bit", ""},
	{"a data rate", "bit/s", "bit/s kbit/s Mbit/s"},
}

// step is a rung of a ladder: a unit and the SI value from which it is used.
type step struct {
	unit Unit
	from float64
}

// named is a quantity with its units made out, the ladder on first use.
type named struct {
	name  string
	base  Unit
	steps func() []step
}

var byDim = sync.OnceValue(func() map[Dim]*named {
	m := make(map[Dim]*named, len(quantities))
	for i := range quantities {
		q := &quantities[i]
		base := Known(q.base)
		m[base.Dim()] = &named{q.name, base, sync.OnceValue(q.steps)}
	}
	return m
})

// quantityOf is the named quantity of a dimension, nil if there is none.
func quantityOf(d Dim) *named { return byDim()[d] }

// Known gives a unit that the program wrote itself, and stops it if there is none.
func Known(s string) Unit {
	u, err := Parse(s)
	if err != nil {
		panic("units: " + err.Error()) // a row of our own tables is wrong; the tests use every one
	}
	return u
}

// steps makes out the ladder.
func (q *quantity) steps() []step {
	words := strings.Fields(q.ladder)
	if len(words) == 0 {
		words = []string{q.base}
	}
	steps := make([]step, len(words))
	for i, w := range words {
		name, from, special := strings.Cut(w, "@")
		u := Known(name)
		steps[i] = step{u, u.Scale()}
		if r, ok := new(big.Rat).SetString(from); special && ok {
			steps[i].from, _ = r.Float64()
		}
	}
	return steps
}

// unit is the unit that names a dimension: a quantity's, or one put together.
func (d Dim) unit() Unit {
	if q := quantityOf(d); q != nil {
		return q.base
	}
	return compose(d)
}
