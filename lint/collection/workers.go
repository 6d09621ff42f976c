package collection

import "sync"

// Each calls work for all inputs in parallel, and use for the results in the order of
// the inputs, one at a time. It holds only a few more results than there are workers. It
// stops when use returns false.
//
// The worker that completes the next result uses it, and those that already follow it.
// So no worker waits for another, unless it is far ahead.
func Each[T any](inputs []Input, workers int, work func(Input) T, use func(Input, T) bool) {
	workers = min(max(workers, 1), max(len(inputs), 1))
	r := &results[T]{inputs: inputs, use: use, done: make([]*T, 4*workers)}
	r.used.L = &r.mu
	var group sync.WaitGroup
	for range workers {
		group.Go(func() {
			for i, ok := r.next(); ok; i, ok = r.next() {
				r.add(i, work(inputs[i]))
			}
		})
	}
	group.Wait()
}

// results holds results until all before them are used.
type results[T any] struct {
	inputs []Input
	use    func(Input, T) bool

	mu      sync.Mutex
	used    sync.Cond // tells that a result was used
	given   int       // inputs given to workers
	first   int       // the first input whose result is not used
	done    []*T      // by input, modulo its length; nil until the result is there
	using   bool      // a worker uses results
	stopped bool
}

// next returns the index of the next input to work on. It waits while there is no room
// for the result.
func (r *results[T]) next() (i int, ok bool) {
	r.mu.Lock()
	defer r.mu.Unlock()
	for r.given-r.first == len(r.done) && !r.stopped {
		r.used.Wait()
	}
	if r.stopped || r.given == len(r.inputs) {
		return 0, false
	}
	r.given++
	return r.given - 1, true
}

// add takes the result for an input and uses all whose turn it is.
func (r *results[T]) add(i int, result T) {
	r.mu.Lock()
	r.done[i%len(r.done)] = &result
	for result := r.turn(); result != nil; result = r.turn() {
		in := r.inputs[r.first]
		r.using = true
		r.mu.Unlock()
		more := r.use(in, *result)
		r.mu.Lock()
		r.using, r.stopped = false, !more
		r.first++
		r.used.Broadcast()
	}
	r.mu.Unlock()
}

// turn takes out the result to use next. It returns nil if that isn't there yet, or if
// another worker uses one.
func (r *results[T]) turn() *T {
	if r.using || r.stopped {
		return nil
	}
	at := &r.done[r.first%len(r.done)]
	result := *at
	*at = nil
	return result
}
