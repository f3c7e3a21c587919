// Package run computes what package check has checked.
//
// Everything is a column of floats, laid out [rows][study]: the rows of a table
// on the outer axis, the rows of a study (a sweep, a spread, a search) on the
// inner one. One value is a column of one row. What gathers a column, such as
// sum, reduces the outer axis only, so it never adds up samples. Texts are
// numbers handed out by the machine, truths are 0 and 1.
//
// A line's checked tree is lowered once onto the bytecode of
// github.com/expr-lang/expr, in which every operator is a call on columns that
// reads its operands and writes a register. The registers are known when the
// line is lowered, so a run looks nothing up and allocates next to nothing.
//
// An operation that has no answer in a row, such as a division by nothing,
// marks that row. Marks travel with the rows through whatever is computed from
// them; `if`, `and` and `or` take only the marks of the side that decided. No
// NaN and no infinity ever leaves an operation unmarked.
//
// A Machine is for one goroutine at a time. It is no evaluator of source text,
// and knows nothing of units, names or how a value is shown.
package run
