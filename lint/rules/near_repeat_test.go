package rules

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"
	"time"

	"fettle/schema/cloth"
)

// undone returns the list without a slip, and whether the slip could be there.
func undone(list []int32, f slip) ([]int32, bool) {
	u := append(make([]int32, 0, len(list)+1), list...)
	switch f.kind {
	case changed:
		u[f.at] = f.expected
		return u, list[f.at] != f.expected
	case extra:
		return slices.Delete(u, f.at, f.at+1), true
	case missing:
		return slices.Insert(u, f.at, f.expected), true
	}
	if f.at+1 >= len(u) {
		return nil, false
	}
	u[f.at], u[f.at+1] = u[f.at+1], u[f.at]
	return u, u[f.at] != u[f.at+1]
}

// covers returns how many threads before and after a slip are not part of it. With run,
// neighbours of the same kind as one extra or missing are part of it: it may be any of them.
func covers(list []int32, f slip, run bool) (before, after int) {
	from, to, entry := f.at, f.at+1, f.expected
	switch f.kind {
	case missing:
		to--
	case swapped:
		to++
	}
	if f.kind == extra {
		entry = list[f.at]
	}
	for run && f.shifts() && from > 0 && list[from-1] == entry {
		from--
	}
	for run && f.shifts() && to < len(list) && list[to] == entry {
		to++
	}
	return from, len(list) - to
}

// bruteSlips returns all single slips of a list by trying every one: without it the list
// has at least four whole repeats of two or more threads, one of them on either side. sure
// reports whether one is that far from the edges wherever in its run it is.
func bruteSlips(list []int32, letters int32) (all []slip, sure bool) {
	try := func(f slip) {
		u, ok := undone(list, f)
		if !ok {
			return
		}
		f.repeat = smallestRepeat(u, len(u)/4)
		if f.kind == missing && f.repeat == 2 {
			return // the same as a thread too many
		}
		if f.repeat < 2 {
			return
		}
		before, after := covers(list, f, false)
		if p := f.repeat; before >= p && after >= p {
			all = append(all, f)
			before, after = covers(list, f, true)
			sure = sure || before >= p && after >= p
		}
	}
	for at := range list {
		for e := range letters {
			try(slip{kind: changed, at: at, expected: e})
			try(slip{kind: missing, at: at, expected: e})
		}
		try(slip{kind: extra, at: at})
		try(slip{kind: swapped, at: at})
	}
	return all, sure
}

// smallestRepeat returns the smallest p up to most with list[i] = list[i+p] throughout, 0 for
// none.
func smallestRepeat(list []int32, most int) int {
	for p := 1; p <= most; p++ {
		if slices.Equal(list[p:], list[:len(list)-p]) {
			return p
		}
	}
	return 0
}

// TestNearRepeatAgainstBruteForce compares the search with brute force on all lists of up
// to 12 threads of 3 kinds. Lists that differ only in the names of the kinds count once.
func TestNearRepeatAgainstBruteForce(t *testing.T) {
	var search nearRepeat
	found := map[slipKind]int{}
	for n := 1; n <= 12; n++ {
		list := make([]int32, n)
		for more := true; more; more = next(list, 3) {
			if !named(list) {
				continue
			}
			got := search.find(list)
			if p := smallestRepeat(list, n); cloth.Period(list) != p {
				t.Fatalf("%d has the repeat %d, found %d", list, p, cloth.Period(list))
			}
			checkBrute(t, list, got)
			for _, f := range got {
				found[f.kind]++
			}
		}
	}
	t.Log(found)
	for _, kind := range []slipKind{changed, missing, extra, swapped} {
		if found[kind] == 0 {
			t.Errorf("nothing is %s", kind)
		}
	}
}

func checkBrute(t *testing.T, list []int32, got []slip) {
	if p := smallestRepeat(list, len(list)); p >= 2 && 4*p <= len(list) { // a sound list
		if got != nil {
			t.Fatalf("%d repeats, but found %+v", list, got)
		}
		return
	}
	want, sure := bruteSlips(list, 3)
	switch {
	case len(got) > 1: // six repeats of two threads
		u := list
		for _, f := range slices.Backward(got) {
			u, _ = undone(u, f)
		}
		if p := smallestRepeat(u, len(u)); p != got[0].repeat || 6*p > len(u) {
			t.Fatalf("%d: two slips %+v leave %d", list, got, u)
		}
	case len(got) == 0 && sure:
		t.Fatalf("%d: found nothing, brute force %+v", list, want)
	case len(got) == 1 && !slices.ContainsFunc(want, func(w slip) bool {
		return w.kind == got[0].kind && w.at == got[0].at && w.repeat == got[0].repeat && (w.expected == got[0].expected || w.kind == extra || w.kind == swapped)
	}):
		t.Fatalf("%d: found %+v, brute force %+v", list, got, want)
	}
}

// named reports whether the kinds of a list are numbered in the order of their first use.
func named(list []int32) bool {
	most := int32(0)
	for _, e := range list {
		if e > most {
			return false
		}
		most = max(most, e+1)
	}
	return true
}

// next counts a list up, and returns false after the last.
func next(list []int32, letters int32) bool {
	for i := range list {
		if list[i]++; list[i] < letters {
			return true
		}
		list[i] = 0
	}
	return false
}

// TestNearRepeatFindsTwoSlips makes two slips in every third of a repeat.
func TestNearRepeatFindsTwoSlips(t *testing.T) {
	var search nearRepeat
	for first := 4; first < 40; first++ {
		for second := first + 6; second < 44; second++ {
			list := repeated(48, 1, 2, 3, 4)
			list[first], list[second] = 9, 8
			got := search.find(list)
			want := []slip{{changed, first, int32(first%4 + 1), 4, 0}, {changed, second, int32(second%4 + 1), 4, 0}}
			if !slices.Equal(got, want) {
				t.Fatalf("%d and %d: found %+v", first, second, got)
			}
		}
	}
}

func repeated(n int, of ...int32) []int32 {
	list := make([]int32, n)
	for i := range list {
		list[i] = of[i%len(of)]
	}
	return list
}

// hostileLists are lists that could make a search take long.
func hostileLists(n int) map[string][]int32 {
	r := rand.New(rand.NewPCG(1, 2))
	fibonacci, other := []int32{1}, []int32{1, 2}
	for len(fibonacci) < n {
		fibonacci, other = other, append(slices.Clone(other), fibonacci...)
	}
	random, equal, two := make([]int32, n), make([]int32, n), repeated(n, 1, 2)
	for i := range random {
		random[i] = int32(r.IntN(2))
	}
	two[n/2+1] = 1
	late, early := make([]int32, n), make([]int32, n)
	late[n-1], early[0] = 1, 1
	powers, squares := make([]int32, n), make([]int32, n)
	for i := range powers {
		if i&(i-1) == 0 {
			powers[i] = 1
		}
	}
	for i := 0; i*i < n; i++ {
		squares[i*i] = 1
	}
	return map[string][]int32{"random": random, "equal": equal, "Fibonacci": fibonacci[:n], "de Bruijn": deBruijn(n), "a slip": two,
		"odd at the end": late, "odd at the start": early, "powers of two": powers, "squares": squares}
}

// deBruijn returns n letters of a sequence in which no 20 letters repeat: a shift register.
func deBruijn(n int) []int32 {
	list, state := make([]int32, n), uint32(1)
	for i := range list {
		bit := (state ^ state>>3) & 1
		state = state>>1 | bit<<19
		list[i] = int32(bit)
	}
	return list
}

// TestNearRepeatIsQuick searches 400,000 threads. A quadratic search would take minutes;
// BenchmarkNearRepeat shows how the time grows.
func TestNearRepeatIsQuick(t *testing.T) {
	for name, list := range hostileLists(400_000) {
		start := time.Now()
		new(nearRepeat).find(list)
		nearMirror(list, true)
		if spent := time.Since(start); spent > 20*time.Second {
			t.Errorf("%s: %v", name, spent)
		}
	}
}

func BenchmarkNearRepeat(b *testing.B) {
	for _, n := range []int{100_000, 200_000, 400_000} {
		for name, list := range hostileLists(n) {
			b.Run(fmt.Sprint(name, "/", n), func(b *testing.B) {
				for b.Loop() {
					new(nearRepeat).find(list)
					nearMirror(list, true)
				}
			})
		}
	}
}
