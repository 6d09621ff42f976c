package schema

// Usual is what is usual of a value of the project that counts as 0 where it is
// not stated, by its key; "" where nothing is known. These are rules of thumb from
// print, not measurements of any one yarn.
func Usual(key string) string {
	switch key {
	case "take-up":
		return "with shrinkage it often comes to 10 to 15 %"
	case "shrinkage warp":
		return "with take-up it often comes to 10 to 15 %; silk loses 1 to 10 %"
	case "shrinkage weft":
		return "a washed sample tells; silk loses 1 to 10 %"
	case "weft take-up":
		return "about 10 % is usual"
	case "draw-in":
		return "measured pieces drew in by 4.5 and by 7.4 %"
	case "loom waste":
		return "50 to 90 cm (20 to 36 in) is usual"
	}
	return ""
}
