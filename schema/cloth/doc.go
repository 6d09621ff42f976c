// Package cloth computes what a draft weaves: which thread is on top at every
// crossing, and from that its floats, repeats, layers and selvedges.
//
// It never builds the grid of ends and picks. Ends that weave alike form a class,
// and so do picks. The crossings of 64 classes with all classes of the other system
// are computed together, one bit each. Time grows with the size of the draft, plus
// distinct lifts × distinct ends ÷ 64; memory grows with the size of the draft.
//
// Ends and picks are numbered from 1. End 1 is the right edge.
package cloth
