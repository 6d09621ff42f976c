package collection

import "sync"

// Each does something for each input, with so many at work at once, and hands
// the results on one by one in the order of the inputs. At most a few more
// results than workers are held at any time. It stops handing on, and starts no
// more work, once use says false.
func Each[T any](inputs []Input, workers int, work func(Input) T, use func(Input, T) bool) {
	workers = min(max(workers, 1), max(len(inputs), 1))
	type job struct {
		in   Input
		done chan T
	}
	todo, order := make(chan job, 4*workers), make(chan job, 4*workers)
	stop := make(chan struct{})
	var group sync.WaitGroup
	for range workers {
		group.Go(func() {
			for j := range todo {
				select {
				case <-stop: // nobody waits for it
				default:
					j.done <- work(j.in)
				}
			}
		})
	}
	group.Go(func() {
		defer close(todo)
		defer close(order)
		for _, in := range inputs {
			j := job{in, make(chan T, 1)}
			select {
			case order <- j:
				todo <- j
			case <-stop:
				return
			}
		}
	})
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
