// Package diagram draws a draft: the threading above the cloth, the tie-up and
// treadling or the lift plan at its right, bars of the yarn's colors between,
// and a caption. It is laid out once, in whole cells, and drawn to SVG, PNG and
// PDF through one surface; there is a plain text drawing for terminals as well.
//
// A filled cell of the cloth is warp up. Shaft 1 is the row nearest the cloth,
// treadle 1 the column nearest the cloth. The same draft and options always
// give the same bytes.
package diagram
