// Package cloth says what a draft weaves: which thread lies on top at every
// crossing, and what follows from it for floats, repeats, layers, selvedges
// and setting.
//
// The grid of ends and picks is never built. Ends that weave alike are one
// class, picks that weave alike are another, and the crossings of 64 classes
// with all classes of the other system are looked at together, a bit each.
// Work is in the size of the draft plus distinct lifts × distinct ends ÷ 64;
// memory is in the size of the draft.
//
// Ends and picks are numbered from 1. End 1 is the right edge.
package cloth
