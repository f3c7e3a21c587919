package units

// kind says how a symbol may be used.
type kind uint8

const (
	ordinary kind = iota
	measure       // a length: "mm2" and "mm3" need no "^"
	second        // the second: so does "s2"
	degrees       // degC and degF: a point alone, a difference in a compound; no power
	share         // %, ‰, ppm: no power
	turns         // Hz, rpm: counts turns or periods
	angle         // rad, deg
)

// family is a unit with the prefixes that it is used with.
type family struct {
	symbol   string      // file form, without prefix
	shown    string      // for display, if it differs
	name     string      // one unit of it, in words
	prefixes string      // those in use, apart from none
	base     [bases]int8 // exponents
	scale    string      // factor to SI of the bare symbol: a rational, "pi*" before it if need be
	kind     kind
	offset   offset
	source   string
	also     string // other spellings of the bare symbol, apart by blanks
}

// Where the definitions stand.
const (
	brochure = "BIPM SI Brochure, 9th edition (2019)"
	tradeSI  = "IEC 80000-6 and the trade: a product of SI units and the hour"
	nist     = "NIST SP 811 (2008), Appendix B.8"
	yard1959 = "NIST SP 811 (2008), Appendix B.8; yard and pound agreement of 1959"
	byteIEC  = "IEC 80000-13: a byte is eight bits"
	shares   = "ISO 80000-1 (% and ‰); NIST SP 811 (2008), section 7.10 (ppm)"
)

// families is the closed list of units. To add one, add a row: nothing else
// knows the symbols. A prefix is listed only where the trade writes it, and
// never where it would swallow a wrong case (MV, MA, MF), but for Mohm and MW
// beside mohm and mW, which are both in daily use.
var families = []family{
	// electricity
	{symbol: "V", name: "volt", prefixes: "n u m k", base: [bases]int8{2, 1, -3, -1}, scale: "1", source: brochure},
	{symbol: "A", name: "ampere", prefixes: "p n u m k", base: [bases]int8{current: 1}, scale: "1", source: brochure},
	{symbol: "ohm", shown: "Ω", name: "ohm", prefixes: "u m k M G", base: [bases]int8{2, 1, -3, -2}, scale: "1", source: brochure},
	{symbol: "S", name: "siemens", prefixes: "u m", base: [bases]int8{-2, -1, 3, 2}, scale: "1", source: brochure},
	{symbol: "F", name: "farad", prefixes: "p n u m", base: [bases]int8{-2, -1, 4, 2}, scale: "1", source: brochure},
	{symbol: "H", name: "henry", prefixes: "n u m", base: [bases]int8{2, 1, -2, -2}, scale: "1", source: brochure},
	{symbol: "W", name: "watt", prefixes: "n u m k M", base: [bases]int8{2, 1, -3}, scale: "1", source: brochure},
	{symbol: "VA", name: "volt-ampere", prefixes: "m k", base: [bases]int8{2, 1, -3}, scale: "1", source: tradeSI},
	{symbol: "J", name: "joule", prefixes: "n u m k M", base: [bases]int8{2, 1, -2}, scale: "1", source: brochure},
	{symbol: "Wh", name: "watt-hour", prefixes: "m k", base: [bases]int8{2, 1, -2}, scale: "3600", source: nist},
	{symbol: "As", name: "ampere-second (coulomb)", prefixes: "p n u m", base: [bases]int8{duration: 1, current: 1}, scale: "1", source: brochure},
	{symbol: "Ah", name: "ampere-hour", prefixes: "m", base: [bases]int8{duration: 1, current: 1}, scale: "3600", source: nist},
	{symbol: "T", name: "tesla", prefixes: "u m", base: [bases]int8{0, 1, -2, -1}, scale: "1", source: brochure},
	{symbol: "Wb", name: "weber", prefixes: "u m", base: [bases]int8{2, 1, -2, -1}, scale: "1", source: brochure},

	// lengths and areas
	{symbol: "m", name: "metre", prefixes: "n u m c d k", base: [bases]int8{length: 1}, scale: "1", kind: measure, source: brochure},
	{symbol: "in", name: "inch", base: [bases]int8{length: 1}, scale: "0.0254", kind: measure, source: yard1959},
	{symbol: "ft", name: "foot", base: [bases]int8{length: 1}, scale: "0.3048", kind: measure, source: yard1959},
	{symbol: "yd", name: "yard", base: [bases]int8{length: 1}, scale: "0.9144", kind: measure, source: yard1959},
	{symbol: "chain", name: "chain (66 feet)", base: [bases]int8{length: 1}, scale: "20.1168", kind: measure, source: yard1959},
	{symbol: "mile", name: "mile", base: [bases]int8{length: 1}, scale: "1609.344", kind: measure, source: yard1959},
	{symbol: "thou", name: "thousandth of an inch", base: [bases]int8{length: 1}, scale: "25.4e-6", kind: measure, source: yard1959},
	{symbol: "cmil", name: "circular mil (area of a circle one thou across)", prefixes: "k", base: [bases]int8{length: 2}, scale: "pi*1.6129e-10", source: nist},
	{symbol: "L", name: "litre", prefixes: "m", base: [bases]int8{length: 3}, scale: "1e-3", source: brochure, also: "l"},

	// time, frequency, speed
	{symbol: "s", name: "second", prefixes: "n u m", base: [bases]int8{duration: 1}, scale: "1", kind: second, source: brochure},
	{symbol: "min", name: "minute", base: [bases]int8{duration: 1}, scale: "60", source: brochure},
	{symbol: "h", name: "hour", base: [bases]int8{duration: 1}, scale: "3600", source: brochure},
	{symbol: "day", name: "day", base: [bases]int8{duration: 1}, scale: "86400", source: brochure},
	{symbol: "Hz", name: "hertz", prefixes: "k M G", base: [bases]int8{duration: -1}, scale: "1", kind: turns, source: brochure},
	{symbol: "rpm", name: "turn a minute (turns, not radians: 60 rpm is 1 Hz)", base: [bases]int8{duration: -1}, scale: "1/60", kind: turns, source: nist},
	{symbol: "mph", name: "mile an hour", base: [bases]int8{length: 1, duration: -1}, scale: "0.44704", source: nist},

	// mass, force, pressure, power
	{symbol: "g", name: "gram", prefixes: "u m k", base: [bases]int8{mass: 1}, scale: "1e-3", source: brochure},
	{symbol: "t", name: "tonne", base: [bases]int8{mass: 1}, scale: "1000", source: brochure},
	{symbol: "lb", name: "pound", base: [bases]int8{mass: 1}, scale: "0.45359237", source: yard1959},
	{symbol: "oz", name: "ounce", base: [bases]int8{mass: 1}, scale: "0.028349523125", source: yard1959},
	{symbol: "N", name: "newton", prefixes: "u m k", base: [bases]int8{1, 1, -2}, scale: "1", source: brochure},
	{symbol: "gf", name: "gram-force (weight of a gram)", prefixes: "k", base: [bases]int8{1, 1, -2}, scale: "9.80665e-3", source: nist},
	{symbol: "lbf", name: "pound-force (weight of a pound)", base: [bases]int8{1, 1, -2}, scale: "4.4482216152605", source: nist},
	{symbol: "ozf", name: "ounce-force (weight of an ounce)", base: [bases]int8{1, 1, -2}, scale: "0.27801385095378125", source: nist},
	{symbol: "Pa", name: "pascal", prefixes: "h k M", base: [bases]int8{-1, 1, -2}, scale: "1", source: brochure},
	{symbol: "bar", name: "bar", prefixes: "m", base: [bases]int8{-1, 1, -2}, scale: "1e5", source: nist},
	{symbol: "psi", name: "pound-force per square inch", base: [bases]int8{-1, 1, -2}, scale: "8896443230521/1290320000", source: nist},
	{symbol: "hp", name: "horsepower (mechanical: 550 ft*lbf/s)", base: [bases]int8{2, 1, -3}, scale: "745.69987158227022", source: nist},

	// temperature
	{symbol: "K", name: "kelvin (a difference)", prefixes: "m", base: [bases]int8{temperature: 1}, scale: "1", source: brochure},
	{symbol: "degC", shown: "°C", name: "degree Celsius (a point; in a compound a difference)", base: [bases]int8{temperature: 1}, scale: "1", kind: degrees, offset: celsius, source: brochure},
	{symbol: "degF", shown: "°F", name: "degree Fahrenheit (a point; in a compound a difference)", base: [bases]int8{temperature: 1}, scale: "5/9", kind: degrees, offset: fahrenheit, source: nist},

	// light and information
	{symbol: "cd", name: "candela", prefixes: "m", base: [bases]int8{light: 1}, scale: "1", source: brochure},
	{symbol: "lm", name: "lumen", prefixes: "m", base: [bases]int8{light: 1}, scale: "1", source: brochure},
	{symbol: "lx", name: "lux", base: [bases]int8{length: -2, light: 1}, scale: "1", source: brochure},
	{symbol: "bit", name: "bit", prefixes: "k M", base: [bases]int8{information: 1}, scale: "1", source: byteIEC},
	{symbol: "byte", name: "byte", prefixes: "k M", base: [bases]int8{information: 1}, scale: "8", source: byteIEC},

	// plain numbers
	{symbol: "rad", name: "radian", prefixes: "m", scale: "1", kind: angle, source: brochure},
	{symbol: "deg", shown: "°", name: "degree (of angle)", scale: "pi*1/180", kind: angle, source: nist},
	{symbol: "arcmin", name: "minute of arc", scale: "pi*1/10800", kind: angle, source: nist},
	{symbol: "%", name: "per cent", scale: "0.01", kind: share, source: shares},
	{symbol: "permille", shown: "‰", name: "per mille", scale: "0.001", kind: share, source: shares},
	{symbol: "ppm", name: "part in a million", scale: "1e-6", kind: share, source: shares},
}
