package run

import (
	"fmt"

	"github.com/expr-lang/expr/ast"
	"github.com/expr-lang/expr/builtin"
	"github.com/expr-lang/expr/compiler"
	"github.com/expr-lang/expr/conf"
	"github.com/expr-lang/expr/file"
	"github.com/expr-lang/expr/parser"
	"github.com/expr-lang/expr/vm"
)

// An engine turns a line's operations into a program and steps through it. This
// file is all that railsum knows of github.com/expr-lang/expr.
//
// What expr does here is its second half: its compiler lays a tree of calls out
// as bytecode, and its machine steps through that and calls the operations by
// their index. It parses nothing, checks nothing and adds nothing up; every
// operator of the language is a call on columns of this package, which lie in
// registers that the step of a call names. What is spent in expr is spent per
// operation and block, never per row.
//
// Another engine would have to keep three promises: an operation is called after
// those that fill the registers it reads, which come from the left, each with all
// that it needs before the next; it is called once a run, with its step as it was
// given; and a run neither fails nor costs more with the number of rows.
type engine interface {
	compile(line *call) program
}

// A program fills the register of the line it was compiled of.
type program interface{ run() }

// A call is one operation, after those whose registers it reads.
type call struct {
	name  string
	step  *step
	after []*call
}

// An operation computes the register of a step.
type operation func(st *step)

// exprEngine is the engine on expr.
type exprEngine struct {
	cfg *conf.Config
	vm  vm.VM
	env map[string]any
}

// newEngine gives an engine that knows the operations by their names, and no
// builtin or operator of its own.
func newEngine(operations map[string]operation) engine {
	e := &exprEngine{cfg: &conf.Config{Functions: conf.FunctionsTable{}}, env: map[string]any{}}
	e.cfg.WithEnv(e.env)
	for name, op := range operations {
		e.cfg.Functions[name] = &builtin.Function{Name: name, Func: func(args ...any) (any, error) {
			op(args[0].(*step))
			return nil, nil
		}}
	}
	return e
}

type exprProgram struct {
	engine *exprEngine
	code   *vm.Program
}

func (p *exprProgram) run() {
	if _, err := p.engine.vm.Run(p.code, p.engine.env); err != nil {
		panic(fmt.Sprintf("run: %v", err)) // an operation on columns never fails; it marks rows
	}
}

var noSource = file.NewSource("")

func (e *exprEngine) compile(line *call) program {
	code, err := compiler.Compile(&parser.Tree{Node: line.node(), Source: noSource}, e.cfg)
	if err != nil {
		panic(fmt.Sprintf("run: compiling: %v", err)) // the tree is ours: an error here is one of ours
	}
	return &exprProgram{e, code}
}

// node is the call in expr's tree. Its step is a constant.
func (c *call) node() ast.Node {
	args := make([]ast.Node, 1, len(c.after)+1)
	args[0] = &ast.ConstantNode{Value: c.step}
	for _, o := range c.after {
		args = append(args, o.node())
	}
	return &ast.CallNode{Callee: &ast.IdentifierNode{Value: c.name}, Arguments: args}
}
