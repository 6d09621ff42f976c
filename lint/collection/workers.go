package collection

import "sync"

// job is an input and a channel for its result.
type job[T any] struct {
	in   Input
	done chan T
}

// Each calls work for all inputs in parallel, and use for the results in the order of
// the inputs. It holds only a few more results than there are workers. It stops when
// use returns false.
func Each[T any](inputs []Input, workers int, work func(Input) T, use func(Input, T) bool) {
	workers = min(max(workers, 1), max(len(inputs), 1))
	todo, order := make(chan job[T], 4*workers), make(chan job[T], 4*workers)
	stop := make(chan struct{})
	var group sync.WaitGroup
	for range workers {
		group.Go(func() { doJobs(todo, stop, work) })
	}
	group.Go(func() { handOut(inputs, todo, order, stop) })
	for j := range order {
		if !use(j.in, <-j.done) {
			close(stop)
			break
		}
	}
	for range order { // let started jobs finish
	}
	group.Wait()
}

func doJobs[T any](todo <-chan job[T], stop <-chan struct{}, work func(Input) T) {
	for j := range todo {
		select {
		case <-stop: // nobody needs the result
		default:
			j.done <- work(j.in)
		}
	}
}

// handOut sends a job for each input to the workers, and to the receiver that reads the
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
