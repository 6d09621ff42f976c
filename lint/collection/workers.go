package collection

import "sync"

// job is something to do for an input, and where its result goes.
type job[T any] struct {
	in   Input
	done chan T
}

// Each does something for each input, with so many at work at once, and hands
// the results on one by one in the order of the inputs. At most a few more
// results than workers are held at any time. It stops handing on, and starts no
// more work, once use says false.
func Each[T any](inputs []Input, workers int, work func(Input) T, use func(Input, T) bool) {
	workers = min(max(workers, 1), max(len(inputs), 1))
	todo, order := make(chan job[T], 4*workers), make(chan job[T], 4*workers)
	stop := make(chan struct{})
	var group sync.WaitGroup
	for range workers {
		group.Go(func() { do(todo, stop, work) })
	}
	group.Go(func() { handOut(inputs, todo, order, stop) })
	for j := range order {
		if !use(j.in, <-j.done) {
			close(stop)
			break
		}
	}
	for range order { // what was begun is let finish
	}
	group.Wait()
}

// do does one job after the other until there are no more.
func do[T any](todo <-chan job[T], stop <-chan struct{}, work func(Input) T) {
	for j := range todo {
		select {
		case <-stop: // nobody waits for it
		default:
			j.done <- work(j.in)
		}
	}
}

// handOut hands a job for each input to the workers, and to whoever takes the
// results in order.
func handOut[T any](inputs []Input, todo, order chan<- job[T], stop <-chan struct{}) {
	defer close(todo)
	defer close(order)
	for _, in := range inputs {
		j := job[T]{in, make(chan T, 1)}
		select {
		case order <- j:
			todo <- j
		case <-stop:
			return
		}
	}
}
