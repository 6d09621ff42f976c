// Package schema is the model that all other packages share: the draft, the
// loom, the project and its yarn, and findings with their fixes and places.
//
// Ends, picks, shafts, treadles, palette entries, lines and columns count from 1;
// 0 means none. Lengths are in millimetres, densities in threads per centimetre
// and yarn in tex, unless a name says otherwise.
package schema
