// Package schema is the shared model every other room of fettle speaks: the
// draft, the loom and what dresses it, and findings with their fixes and places.
//
// Ends and picks, shafts and treadles, palette entries, lines and columns are
// all numbered from 1; 0 means none. Lengths are in millimetres, densities in
// threads per centimetre, yarn in tex, unless a name says otherwise.
package schema
