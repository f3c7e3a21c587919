package function

import "testing"

func TestMathematics(t *testing.T) {
	check(t, []row{
		{"abs", in("-3 V"), "3 V", ""},
		{"sign", in("-3 V"), "-1", ""}, {"sign", in("0"), "0", ""}, {"sign", in("=2 mm"), "1", ""},
		{"sqrt", in("16 mm2"), "4 mm", ""}, {"sqrt", in("2"), "1.4142135623730951", ""},
		{"sqrt", in("-1 mm2"), "fault: root", ""}, {"sqrt", in("=4 V*V"), "2 V", ""},
		{"cbrt", in("27 cm3"), "30 mm", ""}, {"cbrt", in("-8"), "-2", ""},
		{"exp", in("1"), "2.718281828459045", ""}, {"exp", in("1000"), "fault: too large", ""}, {"exp", in("-1000"), "0", ""},
		{"ln", in("2.718281828459045"), "1", ""}, {"ln", in("0"), "fault: logarithm", ""}, {"ln", in("-1"), "fault: logarithm", ""},
		{"log10", in("1000"), "3", ""}, {"log10", in("0.001"), "-3", ""}, {"log10", in("2"), "0.3010299956639812", ""},
		{"log2", in("1024"), "10", ""}, {"log2", in("0"), "fault: logarithm", ""},
		{"hypot", in("3 m", "4 m"), "5 m", ""}, {"hypot", in("3e200", "4e200"), "5e200", ""}, {"hypot", in("1.7e308", "1.7e308"), "fault: too large", ""},
		{"hypot", in("0", "4 m"), "4 m", "a literal 0 is of its partner's dimension"},
	})
	refuse(t, []refusal{
		{"ln", in("=15 V"), 0, "ln takes a plain number, not a voltage (V)", "`ln(a / 1 V)`"},
		{"exp", in("5 ms"), 0, "exp takes a plain number, not a time (s)", "`exp(5 ms / 1 s)`"},
		{"log10", in("'x'"), 0, "not a text", ""},
		{"abs", in("20 degC"), 0, "not a temperature (degC)", "`20 degC - 0 degC`"},
		{"sqrt", in("yes"), 0, "not yes or no", ""},
		{"sqrt", in("2", "3"), -1, "sqrt takes one value and is given two", "`sqrt(x)`"},
		{"sqrt", nil, -1, "sqrt takes one value and is given none", "`sqrt(x)`"},
		{"hypot", in("3 m", "4 V"), 1, "a length (m) and a voltage (V) cannot stand together in hypot", ""},
		{"hypot", in("3 m", "4"), 1, "a length (m) and a plain number", "`4 m`"},
	})
}

func TestOfSeveral(t *testing.T) {
	check(t, []row{
		{"min", in("3 V", "500 mV", "2 V"), "500 mV", ""}, {"max", in("3 V", "500 mV"), "3 V", ""},
		{"max", in("0", "-3 A"), "0 A", "a literal 0 is of its partner's dimension"}, {"min", in("-3 A", "0"), "-3 A", ""},
		{"max", in("20 degC", "25 degC"), "25 degC", "fine on temperatures"},
		{"max", in("[1 V, 5 V, 3 V]", "2 V"), "2 V | 5 V | 3 V", "row by row"},
		{"min", in("5 %", "=7"), "0.05", "only literals are told from percentages"}, {"min", in("5 %", "1"), "0.05", ""},
		{"choose", in("2", "1 mm2", "1.5 mm2", "2.5 mm2"), "1.5 mm2", ""},
		{"choose", in("=1", "'red'", "'green'"), "'red'", ""}, {"choose", in("[1, 2, 3]", "5 V", "6 V"), "5 V | 6 V | fault: not defined", ""},
		{"choose", in("=1.5", "5 V", "6 V"), "fault: not defined", ""}, {"choose", in("2", "5 V", "0"), "0 V", ""},
	})
	refuse(t, []refusal{
		{"min", in("3 V", "2 m"), 1, "a voltage (V) and a length (m) cannot stand together in min", ""},
		{"max", in("3 V", "2"), 1, "a voltage (V) and a plain number", "`2 V`"},
		{"max", in("0", "20 degC"), 0, "cannot stand together", ""},
		{"min", in("5 %", "7"), 1, "7 alone is 7 times the whole", "`7 %`"},
		{"min", in("[1 V, 2 V]"), -1, "min takes two values or more", "`least(a)`"},
		{"max", in("=3 V"), -1, "max takes two values or more and is given one", "`max(a, b, …)`"},
		{"max", in("'x'", "'y'"), 0, "not a text", ""},
		{"choose", in("3", "5 V", "6 V"), 0, "no value 3 among 2", "from 1 to 2"},
		{"choose", in("0.5", "5 V"), 0, "no value 0.5 among 1", "from 1 to 1"},
		{"choose", in("5 V", "5 V"), 0, "a plain number, not a voltage", ""},
		{"choose", in("1", "5 V", "'x'"), 2, "a voltage (V) and a text cannot stand together", ""},
	})
}

func TestAngles(t *testing.T) {
	check(t, []row{
		{"sin", in("30 deg"), "0.5", ""}, {"sin", in("180 deg"), "0", "no dirt of pi"}, {"sin", in("0"), "0", ""},
		{"sin", in("=1e-13"), "1e-13", "a small angle is no dirt"}, {"sin", in("=2"), "0.9092974268256817", ""},
		{"cos", in("60 deg"), "0.5", ""}, {"cos", in("90 deg"), "0", ""}, {"cos", in("=0"), "1", ""},
		{"tan", in("45 deg"), "1", ""}, {"tan", in("90 deg"), "fault: not defined", ""}, {"tan", in("-270 deg"), "fault: not defined", ""},
		{"asin", in("0.5"), "30 deg", ""}, {"asin", in("1.0000000000000002"), "90 deg", "within the tolerance"}, {"asin", in("1.1"), "fault: not defined", ""},
		{"acos", in("-1"), "180 deg", ""}, {"acos", in("-1.01"), "fault: not defined", ""},
		{"atan", in("1"), "45 deg", ""}, {"atan2", in("-1 m", "-1 m"), "-135 deg", ""}, {"atan2", in("1 V", "0"), "90 deg", ""},
		{"atan2", in("=0 V", "=0 V"), "fault: not defined", ""},
		{"sinh", in("1"), "1.1752011936438014", ""}, {"sinh", in("1000"), "fault: too large", ""},
		{"cosh", in("1"), "1.5430806348152437", ""}, {"tanh", in("1000"), "1", ""},
	})
	refuse(t, []refusal{
		{"sin", in("30"), 0, "30 alone does not say whether it is in degrees", "`sin(30 deg)` or `sin(30 rad)`"},
		{"cos", in("-30"), 0, "-30 alone", "`cos(-30 deg)`"},
		{"tan", in("2 m"), 0, "tan takes an angle, not a length (m)", ""},
		{"atan2", in("2 m", "3 V"), 1, "cannot stand together", ""},
		{"asin", in("2 m"), 0, "asin takes a plain number", "`asin(2 m / 1 m)`"},
	})
}

func TestRounding(t *testing.T) {
	third := 0.1
	short := 0.3 / third // a rounding error below 3
	if short >= 3 {
		t.Fatal("the machine divides better than it should")
	}
	check(t, []row{
		{"floor", in("=2.9999999999999996"), "3", "LANGUAGE B0.7: equal within 1e-12"}, {"floor", in("2.9999"), "2", ""},
		{"ceil", in("=3.0000000000000004"), "3", "LANGUAGE B0.7"}, {"ceil", in("3.0001"), "4", ""}, {"ceil", in("-2.5"), "-2", ""},
		{"ceil", in("1e-13"), "1", "small, but not nothing"}, {"floor", in("-1e-13"), "-1", ""},
		{"floor", in("1000000000000.7"), "1000000000000", "the tolerance stays below a fraction"},
		{"floor", in("9007199254740991"), "9007199254740991", ""}, {"round", in("4503599627370497"), "4503599627370497", "an odd number above 2^52"},
		{"round", in("2.5"), "3", "halves away from nothing"}, {"round", in("-2.5"), "-3", ""}, {"round", in("2.4"), "2", ""}, {"round", in("=0.4"), "0", ""},
		{"trunc", in("-2.7"), "-2", ""}, {"trunc", in("2.7"), "2", ""},
		{"floor", in("28.7 mm", "10 mm"), "20 mm", "LANGUAGE B6.5"}, {"ceil", in("28.7 mm", "10 mm"), "30 mm", ""},
		{"round", in("28.7 mm", "10 mm"), "30 mm", ""}, {"trunc", in("-28.7 mm", "10 mm"), "-20 mm", ""},
		{"ceil", in("0.3 V", "0.1 V"), "0.3 V", ""}, {"round", in("0.15 V", "0.1 V"), "0.2 V", "half, but for rounding"},
		{"ceil", in("7 V", "-2 V"), "8 V", "a step has no sign"}, {"floor", in("7 V", "=0 V"), "fault: division by nothing", ""},
		{"round", in("12.34 %", "1 %"), "12 %", ""}, {"floor", in("[1.5, 2.5]"), "1 | 2", ""}, {"floor", in("0", "5 mm"), "0 mm", ""},
		{"floor", in("1e300 m", "1e-300 m"), "fault: too large", ""},
	})
	refuse(t, []refusal{
		{"ceil", in("28.7 mm"), 0, "ceil does not say to what it rounds a length (m)", "`ceil(28.7 mm, 1 mm)`"},
		{"round", in("=28.7 mm"), 0, "round does not say to what it rounds a length (m)", "`round(a, 10 mm)`"},
		{"floor", in("=5 V"), 0, "a voltage (V)", "`floor(a, 1 V)`"},
		{"round", in("12.3 %"), 0, "a plain number", "`round(12.3 %, 1 %)`"},
		{"round", in("=20 degC"), 0, "round has no whole numbers of a temperature (degC)", "`0 degC + round(a - 0 degC, 1 K)`"},
		{"ceil", in("28.7 mm", "1 V"), 1, "a length (m) and a voltage (V)", ""},
		{"ceil", in("28.7 mm", "10"), 1, "a length (m) and a plain number", "`10 mm`"},
		{"round", in("28.7", "10 mm"), 1, "a plain number and a length (m)", "`28.7 mm`"},
		{"ceil", in("1", "2", "3"), -1, "ceil takes one or two values and is given three", "`ceil(x) or ceil(x, step)`"},
	})
}

func TestFloorDivision(t *testing.T) {
	check(t, []row{
		{"mod", in("7", "3"), "1", ""}, {"mod", in("-7", "3"), "2", "floor division"}, {"mod", in("7", "-3"), "-2", ""}, {"mod", in("-7", "-3"), "-1", ""},
		{"div", in("7", "3"), "2", ""}, {"div", in("-7", "3"), "-3", ""}, {"div", in("7", "-3"), "-3", ""},
		{"mod", in("1e15", "7"), "6", "whole numbers are exact"}, {"div", in("1e15", "7"), "142857142857142", ""},
		{"mod", in("0.3 m", "0.1 m"), "0 m", "LANGUAGE B0.7"}, {"div", in("0.3 m", "0.1 m"), "3", ""},
		{"mod", in("250 cm", "100 cm"), "0.5 m", ""}, {"mod", in("-0.5 V", "2 V"), "1.5 V", ""}, {"div", in("-0.5 V", "2 V"), "-1", ""},
		{"mod", in("0", "2 V"), "0 V", ""}, {"mod", in("5", "=0"), "fault: division by nothing", ""}, {"div", in("5 m", "=0 m"), "fault: division by nothing", ""},
		{"div", in("1e300", "1e-300"), "fault: too large", ""},
	})
	refuse(t, []refusal{
		{"mod", in("7 m", "3 V"), 1, "a length (m) and a voltage (V) cannot stand together in mod", ""},
		{"div", in("20 degC", "5 degC"), 0, "not a temperature", "`20 degC - 0 degC`"},
	})
}

func TestBits(t *testing.T) {
	check(t, []row{
		// The packet of S-9.2's example for address 55: 00110111 01110100 and their xor 01000011.
		{"bit_xor", in("55", "116"), "67", "NMRA S-9.2"}, {"bit_count", in("55"), "5", ""}, {"bit_count", in("116"), "4", ""}, {"bit_count", in("67"), "3", ""},
		{"bit_count", in("0"), "0", ""}, {"bit_count", in("9007199254740991"), "53", ""}, {"bit_count", in("=-1"), "fault: not defined", ""},
		{"bit", in("38", "5"), "yes", "38 is 0b100110"}, {"bit", in("38", "0"), "no", ""}, {"bit", in("38", "[1, 2, 3]"), "yes | yes | no", ""}, {"bit", in("38", "=60"), "no", ""}, {"bit", in("38", "=70"), "no", ""},
		{"bit", in("=1.5", "3"), "fault: not defined", ""},
		{"bit_and", in("29", "6"), "4", ""}, {"bit_or", in("2", "4"), "6", ""}, {"bit_xor", in("6", "3"), "5", ""},
		{"shift_left", in("3", "4"), "48", ""}, {"shift_right", in("1000", "8"), "3", ""}, {"shift_right", in("1000", "9007199254740991"), "0", ""},
		{"shift_left", in("1", "52"), "4503599627370496", ""}, {"shift_left", in("1", "53"), "fault: too large", ""},
		{"shift_left", in("=1", "=60"), "fault: too large", ""}, {"shift_left", in("0", "100"), "0", ""},
		{"bit_or", in("9007199254740991", "0"), "9007199254740991", ""}, {"bit_or", in("=9007199254740992", "0"), "fault: not defined", ""},
		{"bit_and", in("=-1", "3"), "fault: not defined", ""}, {"bit_and", in("=1.5", "3"), "fault: not defined", ""},
		{"bit_and", in("=2.9999999999999996", "3"), "3", "whole but for rounding"},
	})
	refuse(t, []refusal{
		{"bit_and", in("1.5", "3"), 0, "bit_and takes whole numbers from 0 up to 2^53, not 1.5", ""},
		{"bit_xor", in("3", "-1"), 1, "not -1", ""},
		{"bit_or", in("3", "2 V"), 1, "bit_or takes a plain number, not a voltage (V)", ""},
	})
}
