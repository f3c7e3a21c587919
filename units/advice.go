package units

// advice answers spellings that are no units here though many would write
// them: because they mean two things, or because the list has another word.
var advice = map[string]string{
	"C":       "degC for a temperature, As for a charge",
	"mil":     "thou (0.001 in) or mm",
	"mils":    "thou (0.001 in) or mm",
	"MFD":     "uF",
	"mfd":     "uF",
	"MCM":     "kcmil",
	"mcm":     "kcmil",
	"R":       "ohm",
	"AWG":     "a gauge is not a unit: write awg(18)",
	"awg":     "a gauge is not a unit: write awg(18)",
	"SWG":     "a gauge is not a unit: write the area of the wire in mm2",
	"swg":     "a gauge is not a unit: write the area of the wire in mm2",
	"gal":     "US and imperial gallons differ: write 3.785 L or 4.546 L",
	"gallon":  "US and imperial gallons differ: write 3.785 L or 4.546 L",
	"gallons": "US and imperial gallons differ: write 3.785 L or 4.546 L",
	"PS":      "a metric horsepower is 735.5 W; hp is the mechanical one",
	"dB":      "a level is not a unit: ten times log10 of a ratio of powers, 10 * log10(ratio)",
	"dBm":     "a level is not a unit: write the power itself",
	"ton":     "tons differ: write 1000 kg, 2000 lb or 2240 lb",
	"tons":    "tons differ: write 1000 kg, 2000 lb or 2240 lb",
	"G":       "10000 G are 1 T",
	"cal":     "4.184 J",
	"kcal":    "4.184 kJ",
	"kB":      "kbyte, or kbit",
	"MB":      "Mbyte, or Mbit",
	"B":       "byte, or bit",
	"b":       "bit, or byte",
	"Bd":      "bit/s",
	"var":     "VA",
	"turn":    "turns are plain numbers; a turn a minute is rpm",
	"rev":     "turns are plain numbers; a turn a minute is rpm",
}

// otherWords are spelled-out and foreign spellings of symbols. The names of
// the table and their plurals need no row. Several symbols stand apart by
// blanks, the likeliest first.
var otherWords = map[string]string{
	"MF": "mF uF", "mil": "thou mm", "mils": "thou mm", "C": "degC As", "R": "ohm", "MCM": "kcmil", "mcm": "kcmil",
	"MFD": "uF", "mfd": "uF",
	"B": "byte bit", "b": "bit byte", "kB": "kbyte kbit", "MB": "Mbyte Mbit", "Bd": "bit/s", "ton": "t lb", "tons": "t lb",
	"var": "VA",
	"amp": "A", "amps": "A", "Amp": "A", "Amps": "A", "VDC": "V", "Vdc": "V", "VAC": "V", "Vac": "V", "Vrms": "V",
	"meter": "m", "meters": "m", "millimeter": "mm", "millimeters": "mm", "centimeter": "cm", "centimeters": "cm",
	"kilometer": "km", "kilometers": "km",
	"inches": "in", "feet": "ft", "yds": "yd", "mi": "mile", "miles": "mile", "micron": "um", "microns": "um",
	"sqmm": "mm2", "qmm": "mm2", "sqin": "in2", "ccm": "cm3", "cc": "cm3", "cbm": "m3", "qm": "m2",
	"sec": "s", "secs": "s", "msec": "ms", "usec": "us", "mins": "min", "hr": "h", "hrs": "h", "days": "day", "d": "day",
	"kmh": "km/h", "kmph": "km/h", "kph": "km/h", "fps": "ft/s", "mps": "m/s",
	"lbs": "lb", "gr": "g", "gm": "g", "gms": "g", "kilo": "kg", "kilos": "kg", "kp": "kgf", "Kgf": "kgf", "KGF": "kgf",
	"Nm": "N*m", "Ncm": "N*cm",
	"Ws": "J", "kWs": "kJ", "mho": "S", "Celsius": "degC", "celsius": "degC", "Fahrenheit": "degF", "fahrenheit": "degF",
	"degK": "K", "centigrade": "degC",
	"percent": "%", "pct": "%", "promille": "permille", "permil": "permille", "degs": "deg",
	"RPM": "rpm", "rps": "Hz", "cps": "Hz", "HP": "hp", "bhp": "hp", "lumens": "lm", "Lm": "lm", "lux": "lx",
	"bits": "bit", "bytes": "byte", "kb": "kbit", "Mb": "Mbit", "bps": "bit/s", "kbps": "kbit/s", "baud": "bit/s",
	"litre": "L", "liter": "L", "litres": "L", "liters": "L", "\"": "in",
}
