package fitting

import (
	"sync"

	"github.com/crillab/gophersat/solver"
)

// formula is a list of conditions on variables that are true or false. Variables
// count from 1; a negative number is the opposite of a variable. A condition holds if
// one of its numbers holds.
type formula struct {
	variables  int
	conditions [][]int
}

func (f *formula) variable() int {
	f.variables++
	return f.variables
}

// grid adds a variable for each cell of a table.
func (f *formula) grid(rows, columns int) [][]int {
	table := make([][]int, rows)
	for i := range table {
		table[i] = make([]int, columns)
		for j := range table[i] {
			table[i][j] = f.variable()
		}
	}
	return table
}

// any requires one of the variables.
func (f *formula) any(variables ...int) { f.conditions = append(f.conditions, variables) }

// atMost forbids each choice of n + 1 of the variables.
func (f *formula) atMost(n int, variables []int) {
	var choose func(from int, chosen []int)
	choose = func(from int, chosen []int) {
		if len(chosen) > n {
			f.any(append([]int{}, chosen...)...)
			return
		}
		for i := from; i < len(variables); i++ {
			choose(i+1, append(chosen, -variables[i]))
		}
	}
	choose(0, make([]int, 0, n+1))
}

// verdict is the outcome of a search.
type verdict uint8

const (
	undecided  verdict = iota // the steps ran out
	impossible                // no values meet the conditions
	possible
)

// one lets only one solver run at a time, because all solvers share a buffer.
var one sync.Mutex

// solve searches for values that meet the conditions; values[v] is the value of
// variable v. Each conflict in the solver takes one step. Without steps left solve
// gives up, so a formula gives the same result on every computer.
func (f *formula) solve(steps *int) (values []bool, v verdict) {
	if *steps <= 0 {
		return nil, undecided
	}
	one.Lock()
	defer one.Unlock()
	f.any(f.variable()) // the solver takes the highest variable in use as the number of variables
	s := solver.New(solver.ParseSlice(f.conditions))
	// The solver has no limit of its own. It sends each conflict as part of its
	// certificate, and panics once that channel is closed.
	conflicts, done := make(chan string), make(chan solver.Status)
	s.Certified, s.CertChan = true, conflicts
	go func() {
		status := solver.Indet
		defer func() {
			_ = recover()
			done <- status
		}()
		status = s.Solve()
	}()
	for {
		select {
		case <-conflicts:
			if *steps--; *steps == 0 {
				close(conflicts)
				<-done
				return nil, undecided
			}
		case status := <-done:
			switch status {
			case solver.Sat:
				return append([]bool{false}, s.Model()...), possible
			case solver.Unsat:
				return nil, impossible
			}
			return nil, undecided
		}
	}
}
