// Package dressing works out what dressing a loom with a draft takes: the ends
// in all, the sleying, the heddles to count out, lengths and picks, the yarn to
// have on the shelf, the winding, and the threading in groups.
//
// Every figure has a function of its own and costs nothing that was not asked
// for; For gathers them all into the sheet a weaver carries to the loom.
// Functions read the draft and the setup and change neither, so several
// goroutines may ask at once.
//
// Ends, picks, shafts and dents are numbered from 1. End 1 is at the right edge
// of the cloth. Lengths are in millimetres and densities per centimetre, unless
// a name says otherwise.
package dressing
