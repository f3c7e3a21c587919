package function

import "testing"

func TestColumns(t *testing.T) {
	check(t, []row{
		{"sum", in("[1 V, 2 V, 3 V]"), "6 V", ""}, {"sum", in("[]"), "0", "LANGUAGE B6.3"}, {"sum", in("[-3 mV, 3 mV]"), "0 V", ""},
		{"sum", in("[1e16, 1, -1e16, 1]"), "2", "nothing is lost beside a large one"}, {"sum", in("[1e308, 1e308, -1e308]"), "fault: too large", ""},
		{"mean", in("[1 V, 2 V, 6 V]"), "3 V", ""}, {"mean", in("[]"), "fault: no rows", "LANGUAGE B6.3"}, {"mean", in("[20 degC, 30 degC]"), "25 degC", "LANGUAGE B5"},
		{"mean", in("20 degC", "27 degC"), "23.5 degC", "LANGUAGE B5"}, {"mean", in("[1 V, 2 V]", "[3 V, 6 V]"), "2 V | 4 V", "row by row"},
		{"least", in("[3 V, 1 V, 2 V]"), "1 V", ""}, {"least", in("[]"), "fault: no rows", ""}, {"least", in("[3 degC, -1 degC]"), "-1 degC", ""},
		{"most", in("[3 V, 1 V, 2 V]"), "3 V", ""}, {"most", in("[]"), "fault: no rows", ""}, {"most", in("[-3, -1]"), "-1", ""},
		{"count", in("[3 V, 0 V, 2 V]"), "3", "rows"}, {"count", in("[yes, no, yes]"), "2", "the yes"}, {"count", in("[no]"), "0", ""},
		{"count", in("['a', 'b']"), "2", ""}, {"count", in("[]"), "0", ""}, {"count", in("[20 degC]"), "1", ""},
	})
	refuse(t, []refusal{
		{"sum", in("=3 V"), 0, "sum gathers a column; a is one value", "as in fleet.draw; for several values write `a + b`"},
		{"sum", in("1 V", "2 V"), -1, "sum gathers one column and is given two values", "`a + b`"},
		{"sum", in("[20 degC]"), 0, "temperatures cannot be added up", "`mean(a)`"},
		{"sum", in("[yes, no]"), 0, "its rows hold yes or no", "`count(a)`"},
		{"most", in("['x']"), 0, "its rows hold a text", ""},
		{"least", in("1 V", "2 V"), -1, "least gathers one column", "`min(a, b)`"},
		{"most", in("=1 V"), 0, "most gathers a column; a is one value", "`max(a, b)`"},
		{"mean", in("=1 V"), 0, "mean gathers a column", "as in fleet.draw"},
		{"mean", in("1 V", "2 m"), 1, "cannot stand together in mean", ""},
		{"count", in("3"), 0, "count gathers a column; 3 is one value", "as in fleet.draw"},
		{"count", nil, -1, "count takes one value or more and is given none", "`count(column)`"},
	})
}

func TestLookups(t *testing.T) {
	const sizes = "{4 mm2, 1.5 mm2, 2.5 mm2}" // in no order
	check(t, []row{
		{"next_up", in(sizes, "1.7 mm2"), "2.5 mm2", ""}, {"next_up", in(sizes, "2.5 mm2"), "2.5 mm2", ""}, {"next_up", in(sizes, "5 mm2"), "fault: no row", ""},
		{"next_up", in(sizes, "[1 mm2, 2 mm2, 9 mm2]"), "1.5 mm2 | 2.5 mm2 | fault: no row", "the shape of the key"},
		{"next_up", in("{0.3, 1}", "=0.30000000000000004"), "0.3", "LANGUAGE B0.7"}, {"next_up", in(sizes, "0"), "1.5 mm2", ""},
		{"next_up", in("{20 degC, 70 degC}", "30 degC"), "70 degC", ""},
		{"next_down", in(sizes, "1.7 mm2"), "1.5 mm2", ""}, {"next_down", in(sizes, "9 mm2"), "4 mm2", ""}, {"next_down", in(sizes, "1 mm2"), "fault: no row", ""},
		{"lookup", in("'b'", "{'a', 'b', 'b'}", "{1 V, 2 V, 3 V}"), "2 V", "the first"}, {"lookup", in("'c'", "{'a', 'b'}", "{1 V, 2 V}"), "fault: no row", ""},
		{"lookup", in("[100, 83]", "{83, 100}", "{'old', 'usual'}"), "'usual' | 'old'", ""}, {"lookup", in("=0.30000000000000004", "{0.3}", "{7}"), "7", ""},
		{"lookup", in("0", "{0 V, 5 V}", "{1, 2}"), "1", ""},
		{"next_up", in(sizes, "[3 mm2, 5 mm2]", "=6 mm2"), "4 mm2 | 6 mm2", ""}, {"next_up", in(sizes, "5 mm2", "0"), "0 mm2", ""}, {"next_up", in("{}", "1", "=7"), "7", ""},
		{"next_down", in(sizes, "[1 mm2, 2 mm2]", "=0.5 mm2"), "0.5 mm2 | 1.5 mm2", ""}, {"next_down", in("{20 degC}", "10 degC", "5 degC"), "5 degC", ""},
		{"lookup", in("['b', 'c']", "{'a', 'b'}", "{1 V, 2 V}", "=9 V"), "2 V | 9 V", ""}, {"lookup", in("3", "{1}", "{'a'}", "'none'"), "'none'", ""},
		{"between", in("1.2 mm2", "{2 mm2, 1 mm2}", "{20 V, 10 V}"), "12 V", ""}, {"between", in("1 mm2", "{2 mm2, 1 mm2}", "{20 V, 10 V}"), "10 V", ""},
		{"between", in("3 mm2", "{2 mm2, 1 mm2}", "{20 V, 10 V}"), "fault: no row", "never beyond"}, {"between", in("0.9 mm2", "{2 mm2, 1 mm2}", "{20 V, 10 V}"), "fault: no row", ""},
		{"between", in("=2.0000000000000004", "{1, 2}", "{20, 10}"), "10", "the end, but for rounding"}, {"between", in("=5", "{5}", "{7 V}"), "7 V", ""},
		{"between", in("[0.5, 2.5]", "{0, 1, 2, 3}", "{0 V, 1 V, 4 V, 9 V}"), "0.5 V | 6.5 V", ""}, {"between", in("=1", "{0, 2}", "{20 degC, 30 degC}"), "25 degC", ""},
		{"between", in("=1", "{-1.7e308, 1.7e308}", "{0, 1}"), "fault: too large", ""},
	})
	refuse(t, []refusal{
		{"next_up", in("1.7 mm2", sizes), 0, "next_up looks in a column, and 1.7 mm2 is one value", "`next_up(column, need) or"},
		{"next_up", in("=1.7 mm2", "=2 mm2"), 0, "next_up looks in a column, and a is one value", "wires.area"},
		{"next_down", in(sizes, "5 V"), 1, "the column holds an area (m2), and the need is a voltage (V)", ""},
		{"next_up", in(sizes, "5 mm2", "5 V"), 2, "the column holds an area (m2), and what stands in for a missing row is a voltage (V)", ""},
		{"next_down", in(sizes, "5 mm2", "[5 mm2]"), 2, "one value, and c is a column", "one value for all rows"},
		{"lookup", in("'a'", "{'a'}", "{1 V}", "'b'"), 3, "what stands in for a missing row is a text", ""},
		{"next_up", in(sizes), -1, "next_up takes two or three values and is given one", "next_up(column, need, otherwise)"},
		{"next_up", in("{'a'}", "'a'"), 0, "its rows hold a text", ""},
		{"lookup", in("{'a'}", "'a'", "{1 V}"), 1, "lookup looks in a column", "`lookup(key, column, column2) or"},
		{"lookup", in("'a'", "{'a'}", "[1 V]"), 2, "the columns are of two tables, u and t", "from one table"},
		{"lookup", in("3", "{'a'}", "{1 V}"), 0, "the column holds a text, and the key is a plain number", ""},
		{"between", in("3 V", "{1 mm2}", "{1 V}"), 0, "b holds an area (m2), and x is a voltage (V)", ""},
		{"between", in("3 V", "{1 V}", "{'a'}"), 2, "its rows hold a text", ""},
		{"between", in("3 V", "{1 V}"), -1, "between takes three values and is given two", "`between(x, column_x, column_y)`"},
	})
}

func TestTotals(t *testing.T) {
	check(t, []row{
		{"total_for", in("['red', 'black', 'red']", "['red', 'black', 'red']", "[1 m, 2 m, 4 m]"), "5 m | 2 m | 5 m", "of the key's own table"},
		{"total_for", in("['red', 'blue']", "{'red', 'black', 'red'}", "{1 m, 2 m, 4 m}"), "5 m | 0 m", ""}, {"total_for", in("3", "{}", "{}"), "0", ""},
		{"total_for", in("=0.30000000000000004", "{0.3, 1}", "{7 A, 1 A}"), "7 A", "LANGUAGE B0.7"}, {"total_for", in("0", "{0 V, 5 V}", "{1, 2}"), "1", ""},
		{"total_for", in("1", "{1, 1, 1, 1}", "{1e16, 1, -1e16, 1}"), "2", "nothing is lost beside a large one"},
		{"total_for", in("1", "{1, 1}", "{1.7e308, 1.7e308}"), "fault: too large", ""}, {"total_for", in("yes", "{yes, no, yes}", "{1 V, 2 V, 3 V}"), "4 V", ""},
		{"count_for", in("['red', 'blue']", "{'red', 'black', 'red'}"), "2 | 0", ""}, {"count_for", in("[2 V, 3 V]", "[2 V, 3 V]"), "1 | 1", ""},
	})
	refuse(t, []refusal{
		{"total_for", in("'a'", "{'a'}", "[1 V]"), 2, "the columns are of two tables, u and t", "from one table"},
		{"total_for", in("3 V", "{'a'}", "{1 V}"), 0, "the column holds a text, and the key is a voltage (V)", ""},
		{"total_for", in("'a'", "{'a'}", "{'b'}"), 2, "takes a column of numbers, and its rows hold a text", ""},
		{"total_for", in("'a'", "{'a'}", "{yes}"), 2, "its rows hold yes or no", "`if c then 1 else 0`"},
		{"total_for", in("'a'", "{'a'}", "=3"), 2, "and c is one value", "`total_for(key, keys, values)`"},
		{"count_for", in("'a'", "'a'"), 1, "count_for looks in a column, and \"a\" is one value", "as in wires.area"},
		{"count_for", in("'a'", "{3 V}"), 0, "the column holds a voltage (V), and the key is a text", ""},
	})
}
